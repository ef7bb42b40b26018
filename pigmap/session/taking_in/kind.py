"""What a file holds, by its columns and shapes, where nobody says it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import shapely

from pigmap.document.incoming import IncomingLayer
from pigmap.errors import OutlineError, RecordError, UsageError
from pigmap.plugins import Registry
from pigmap.session.brought import outline_suffixes
from pigmap.session.taking_in.columns import USUAL, plain
from pigmap.text import Text
from pigmap.weather.daily_file import read_daily_file

KIND_GUESSED: Mapping[str, Text] = {
    "fields": Text("It holds outlines, so they are taken as fields."),
    "keepouts": Text("It has a column for the reason, so its shapes are taken as keep-outs."),
    "stays": Text("It has columns for group, paddock and day in, so its rows are taken as stays."),
    "checks": Text("It has columns for paddock and day, so its rows are taken as daily checks."),
    "weather": Text("It has a day and rain or temperatures, so it is taken as weather."),
}
_TABLES = (".csv", ".tsv", ".txt")


def may_be_weather(path: Path, registry: Registry) -> bool:
    """Whether a file is a table of daily weather."""
    name = path.name.lower()
    if name.endswith(outline_suffixes(registry)) and not name.endswith(_TABLES):
        return False
    try:
        return len(read_daily_file(path).days) > 0
    except RecordError:
        return False


def kind_of_layer(layer: IncomingLayer, head: Sequence[str], file: str) -> str:
    """Return what the rows of a layer are.

    Raises
    ------
    UsageError
        If they may be anything.
    OutlineError
        If there are none.
    """
    if not layer.rows:
        raise OutlineError("{file} has no rows.", remedy="Give the file, or the layer, that holds them.", file=file)
    names = {plain(name) for name in head}

    def has(kind: str, *what: str) -> bool:
        return all(names & set(USUAL[kind][each]) for each in what)

    if has("stays", "group", "paddock", "in"):
        return "stays"
    if has("checks", "paddock", "day"):
        return "checks"
    shapes = [row.shape for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    if shapes and "reason" in names:
        return "keepouts"
    if any(shapely.get_dimensions(shape) >= 1 for shape in shapes):
        return "fields"
    raise UsageError(
        "{file} does not show what it holds: {columns}.",
        remedy="Say whether it is fields, keep-outs, stays, daily checks or weather.",
        file=file,
        columns=", ".join(head[:20]) or "0",
    )
