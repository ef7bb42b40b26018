"""What a file holds, by its columns and shapes, where nobody says it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path, PurePath

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.incoming import IncomingLayer
from pigmap.errors import OutlineError, PigmapError, RecordError, UsageError
from pigmap.plugins import Registry
from pigmap.records import PlaceKind, WayKind
from pigmap.session.brought import outline_suffixes
from pigmap.session.net_list_reading import net_list_head
from pigmap.session.taking_in.columns import plain
from pigmap.session.taking_in.reading import NAMES
from pigmap.session.taking_in.usual import KIND_WORDS, USUAL
from pigmap.session.taking_in.values import words
from pigmap.text import Text
from pigmap.weather.daily_file import read_daily_file

KIND_GUESSED: Mapping[str, Text] = {
    "fields": Text("It holds outlines, so they are taken as fields."),
    "keepouts": Text("It has a column for the reason, so its shapes are taken as keep-outs."),
    "purposes": Text("It has columns for field, purpose and part of the year, so its rows are taken as purposes."),
    "ways": Text("It holds lines and tells their kind, so they are taken as ways."),
    "places": Text("It holds points and tells their kind, so they are taken as places."),
    "paddocks": Text("It holds outlines and tells their nets, or is called so: they are taken as paddocks."),
    "groups": Text("It has columns for name and class of pigs, so its rows are taken as groups."),
    "events": Text("It has columns for group, day and weight or number, so its rows are taken as entries of groups."),
    "energizers": Text("It has columns for name and output, so its rows are taken as energizers."),
    "netkinds": Text("It has columns for name and bays, so its rows are taken as net kinds."),
    "nets": Text("It has columns for kind and number of nets, so it is taken as a list of nets."),
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
    shapes = [row.shape for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    _refuse_what_is_worked_out(names, file)
    found = _by_columns(names) or (_by_shapes(layer, names, shapes, file) if shapes else _without_shapes(names))
    if found:
        return found
    raise UsageError(
        "{file} does not show what it holds: {columns}.",
        remedy="Say whether it is {kinds}.",
        file=file,
        kinds=", ".join(str(words) for words in KIND_WORDS.values()),
        columns=", ".join(head[:20]) or "0",
    )


def _refuse_what_is_worked_out(names: set[str], file: str) -> None:
    """Refuse what follows from what the farm keeps: it would come back as something else."""
    for told, what, why in _WORKED_OUT:
        if told <= names:
            raise UsageError(
                "{file} tells {what}, which is worked out from {why} and is not taken in.",
                remedy="Hand out and take in {why}.",
                file=file,
                what=what,
                why=why,
            )


_WORKED_OUT = (
    (frozenset(("rest_days", "rooting_share")), Text("how the ground was"), Text("stays and daily checks")),
    (frozenset(("rest_days", "root_share")), Text("how the ground was"), Text("stays and daily checks")),
    (frozenset(("of", "corner", "x_m", "y_m")), Text("corners for a phone"), Text("paddocks")),
)


def _has(names: set[str], kind: str, *what: str) -> bool:
    return all(names & set(USUAL[kind][each]) for each in what)


def _by_columns(names: set[str]) -> str:
    """Return the kind that the columns alone show."""
    if _has(names, "stays", "group", "paddock", "in"):
        return "stays"
    if _has(names, "checks", "paddock", "day"):
        return "checks"
    if names & {"purpose"} and _has(names, "purposes", "field", "from", "to"):
        return "purposes"
    if "reason" in names:
        return "keepouts"
    return ""


def _by_shapes(layer: IncomingLayer, names: set[str], shapes: Sequence[BaseGeometry], file: str) -> str:
    """Return the kind that the shapes show, with columns or the name of the layer or the file."""
    called = {plain(layer.name), plain(PurePath(file).stem)}
    for kind in ("ways", "places", "paddocks"):
        if called & {*NAMES[kind]}:
            return kind
    if names & {"net_kind", "nets_long"}:
        return "paddocks"
    dimension = max(int(shapely.get_dimensions(shape)) for shape in shapes)
    if dimension == 1 and _tells(layer, WayKind):
        return "ways"
    if dimension == 0 and _tells(layer, PlaceKind):
        return "places"
    return "fields" if dimension >= 1 else ""


def _tells(layer: IncomingLayer, kinds: type[WayKind] | type[PlaceKind]) -> bool:
    """Whether most rows tell one of some kinds of things."""
    columns = [name for name in layer.rows[0].columns if plain(name) in USUAL["ways"]["kind"]]
    known = sum(words(row.columns.get(each)).casefold() in set(kinds) for row in layer.rows for each in columns)
    return 2 * known > len(layer.rows)


def _without_shapes(names: set[str]) -> str:
    """Return the kind of a table that draws nothing."""
    if _has(names, "energizers", "name") and names & {"output_j", "open_kv", "kv_500"}:
        return "energizers"
    if _has(names, "netkinds", "name", "bays_mm"):
        return "netkinds"
    if _has(names, "events", "group", "day") and (names & {"kind", "event"} or _has(names, "events", "kg")):
        return "events"
    if _has(names, "groups", "name") and (names & {"class", "pig_class"} or _has(names, "groups", "pigs")):
        return "groups"
    return ""


def is_net_list(path: Path) -> bool:
    """Whether a file is a list of nets: its columns tell their kind or length, and what is told of nets alone."""
    if path.suffix.lower() not in _TABLES:
        return False
    try:
        head = set(net_list_head(path))
    except PigmapError:
        return False
    return bool(head & {"kind", "length_m"}) and bool(head & {"condition", "first_used_on"}) and "number" in head
