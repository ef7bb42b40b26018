"""A file read, its kind told or guessed, and what becomes of each of its rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from pathlib import Path
from typing import Any

from pigmap.document.incoming import IncomingLayer
from pigmap.errors import OutlineError
from pigmap.plugins import Registry
from pigmap.records import Farm, Field
from pigmap.records.frozen import dataclass
from pigmap.session.farm_outlines import MOST_OUTLINES
from pigmap.session.intake import apart_in_words
from pigmap.session.taking_in.columns import columns_for, plain, remembered, with_remembered
from pigmap.session.taking_in.days import CheckRows, StayRows
from pigmap.session.taking_in.herd import EventRows, GroupRows
from pigmap.session.taking_in.kind import KIND_GUESSED, is_net_list, kind_of_layer, may_be_weather
from pigmap.session.taking_in.lines import WayRows
from pigmap.session.taking_in.outlines import MOST_THINGS, FieldRows, KeepOutRows, near_the_farm
from pigmap.session.taking_in.paddocks import PaddockRows
from pigmap.session.taking_in.points import PlaceRows
from pigmap.session.taking_in.purposes import PurposeRows
from pigmap.session.taking_in.reading import filled, read_layer
from pigmap.session.taking_in.result import TakenIn, TakenRow
from pigmap.session.taking_in.rows import Rows
from pigmap.session.taking_in.sky import weather_out_of
from pigmap.session.taking_in.stock import EnergizerRows, NetKindRows, nets_out_of
from pigmap.session.taking_in.where import placed
from pigmap.text import Text
from pigmap.weather.daily_columns import Told

WORKED_OUT = frozenset(
    ("area_ha", "edge_m", "uid", "desc", "description", "place_is", "id", "timestamp", "begin", "end", "tessellate",
     "extrude", "visibility", "draworder", "altitudemode", "icon", "x_m", "y_m", "length_m", "group_on_day",
     "group_day")
)  # fmt: skip
"""Columns that follow from others, or that formats bring by themselves: nobody misses them."""
OF_KIND: Mapping[str, frozenset[str]] = {"paddocks": frozenset({"day"}), "groups": frozenset({"colour_index"})}
"""Such columns of one kind alone."""
MOST_NAMED = 20
"""Columns that a sentence lists."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeIn:
    """What is to be taken in."""

    file: Path
    today: date
    kind: str = ""
    """One of `KINDS`; empty to find out."""
    layer: str = ""
    crs: str = ""
    """Coordinate system, where the file does not say it."""
    units: Told = ""
    """Of a file of weather, where it does not say."""
    columns: Mapping[str, str] = field(default_factory=dict)
    """What is told, and the name of the column that tells it."""


def take_in(asked: TakeIn, farm: Farm, registry: Registry) -> TakenIn:
    """Return what becomes of a file; nothing is done to the farm.

    Raises
    ------
    PigmapError
        In words: the file, its columns, its place, or that nothing in it can be taken.
    """
    if asked.kind == "weather":
        return weather_out_of(asked.file, farm, asked.columns, asked.units)
    if not asked.kind and may_be_weather(asked.file, registry):
        taken = weather_out_of(asked.file, farm, asked.columns, asked.units)
        return replace(taken, notes=(KIND_GUESSED["weather"], *taken.notes))
    if asked.kind == "nets" or (not asked.kind and is_net_list(asked.file)):
        taken = nets_out_of(asked.file, farm)
        return taken if asked.kind else replace(taken, notes=(KIND_GUESSED["nets"], *taken.notes))
    layer, notes = read_layer(asked.file, registry, asked.layer, asked.kind)
    head = filled(layer)
    kind = asked.kind or kind_of_layer(layer, head, asked.file.name)
    chosen = {**remembered(farm, kind, head), **asked.columns}
    columns = columns_for(kind, head, chosen)
    said = [*notes]
    if not asked.kind:
        said.append(KIND_GUESSED[kind])
    if chosen and not asked.columns:
        said.append(Text("Columns are taken as they were chosen for such a file before."))
    used = set(columns.values())
    known = WORKED_OUT | OF_KIND.get(kind, frozenset())
    aside = [name for name in head if name not in used and plain(name) not in known]
    if aside:
        said.append(Text("Columns that are not taken: {names}.", {"names": ", ".join(aside[:MOST_NAMED])}))
    rows, more = _rows(asked, layer, kind, columns, farm)
    if not rows:
        raise OutlineError(
            "{file} has no rows.", remedy="Give the file, or the layer, that holds them.", file=asked.file.name
        )
    return TakenIn(
        kind=kind,
        file=asked.file.name,
        layer=layer.name,
        rows=tuple(rows),
        notes=(*said, *more),
        columns=tuple(columns.items()),
        remembers=with_remembered(farm, kind, head, asked.columns),
    )


KINDS_OF_ROWS: Mapping[str, type[Rows[Any]]] = {
    "fields": FieldRows,
    "purposes": PurposeRows,
    "keepouts": KeepOutRows,
    "ways": WayRows,
    "places": PlaceRows,
    "paddocks": PaddockRows,
    "groups": GroupRows,
    "events": EventRows,
    "energizers": EnergizerRows,
    "netkinds": NetKindRows,
    "stays": StayRows,
    "checks": CheckRows,
}
"""How the rows of each kind are read."""


def _rows(
    asked: TakeIn, layer: IncomingLayer, kind: str, columns: Mapping[str, str], farm: Farm
) -> tuple[list[TakenRow], Sequence[Text]]:
    file, how = asked.file.name, KINDS_OF_ROWS[kind]
    if not how.shape and (kind not in ("stays", "checks") or bool(layer.crs or asked.crs) != farm.projection.has_place):
        layer = _without_shapes(layer)  # what happened is a fact, also where its shape lies nowhere
    there = placed(layer, file, farm, asked.crs)
    most = MOST_OUTLINES if kind == "fields" else MOST_THINGS
    kept, notes = near_the_farm(there, file, farm, most) if how.shape else (None, ())
    rows = how(there, columns, file, farm, asked.today).taken(kept)
    return rows, (*there.notes, *notes, *_far_apart(rows, farm))


def _far_apart(rows: Sequence[TakenRow], farm: Farm) -> Sequence[Text]:
    """Return what to say of new fields that lie too far from each other for one farm."""
    if not farm.projection.has_place:
        return ()
    return apart_in_words([row.added.outline for row in rows if isinstance(row.added, Field)], farm.projection)


def _without_shapes(layer: IncomingLayer) -> IncomingLayer:
    return replace(layer, rows=tuple(replace(row, shape=None) for row in layer.rows))
