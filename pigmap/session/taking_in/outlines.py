"""Rows of a file as fields and keep-outs of the farm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits import add_field
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, PigmapError
from pigmap.geometry.projection import moved
from pigmap.records import Farm, Field, Forage, GroundCover, KeepOut, Purpose, Reason
from pigmap.session.farm_outlines import AROUND_M, MOST_OUTLINES
from pigmap.session.intake import cell_m_of, taken_there
from pigmap.session.taking_in.columns import Columns
from pigmap.session.taking_in.lines import name_and_note
from pigmap.session.taking_in.purposes import purposes_listed
from pigmap.session.taking_in.result import TakenRow
from pigmap.session.taking_in.rows import Row, Rows, pointed_at, same_shape
from pigmap.session.taking_in.shapes import areas_told, rings_closed, there_of, vetted
from pigmap.session.taking_in.values import Days, known, month_day, number, told, words
from pigmap.session.taking_in.where import Placed, yard_of
from pigmap.text import Quantity, Text, Value

MOST_THINGS = 5_000
"""Of paddocks, ways and other things a farm of many years may have so many. Own choice."""


def near_the_farm(
    placed: Placed, file: str, farm: Farm, most: int = MOST_OUTLINES
) -> tuple[list[int], tuple[Text, ...]]:
    """Return which rows are the farm's: all of a file of one farm, those round the farm out of a larger one.

    `most` is how many one farm may have.

    Raises
    ------
    OutlineError
        If there are too many for one farm and nothing says which are its own.
    """
    rows = placed.layer.rows
    if len(rows) <= most:
        return list(range(len(rows))), ()
    yard = yard_of(farm)
    near = list(_around(rows, placed.crs, farm, yard)) if yard is not None else list(range(len(rows)))
    values: dict[str, Value] = {"file": file, "all": len(rows), "km": f"{AROUND_M / 1000:g}", "near": len(near)}
    if not near or len(near) > most:
        raise OutlineError(
            "{file} has {all} rows, more than one farm has; {near} of them lie within {km} km of the farm.",
            remedy="Cut out those of the farm"
            + (", or pick them on the map: Draw, then Fields out of a parcel file." if most == MOST_OUTLINES else "."),
            **values,
        )
    return near, (Text("{file} has {all} rows; the {near} within {km} km of the farm are looked at.", values),)


def _around(rows: Sequence[Incoming], crs: str, farm: Farm, yard: shapely.Point) -> Iterator[int]:
    reach = yard.buffer(AROUND_M / farm.projection.ground_per_grid)
    (around,) = moved([reach], farm.projection.definition, crs, farm.projection.name)
    shapely.prepare(around)
    for at, row in enumerate(rows):
        if row.shape is not None and not row.shape.is_empty and shapely.intersects(around, row.shape):
            yield at


class FieldRows(Rows[Field]):
    """Outlines, each a field; what it is for in parts of the year goes with it."""

    record = Field
    shape = "outline"

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        rows = self.placed.layer.rows
        kept = list(range(len(rows))) if kept is None else kept
        retired = self.columns.get("retired_on")
        self._days = Days(self.file, [row.columns.get(retired) for row in rows] if retired else [])
        self._naming = "name" in _naming(self.placed.layer, kept, self.columns)
        return super().taken(kept)

    def called(self, row: Row) -> str:
        """Return the name that its column tells where that names, else the one it was read with."""
        return (row.words("name") if self._naming else "") or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the outline and what the columns tell."""
        name = self.called(row)
        found: dict[str, Any] = {"outline": self._outline(row, name)}
        if self._naming:
            found["name"] = name
        if "ground_cover" in row.given:
            found["ground_cover"] = _cover(row)
        if "forage" in row.given:
            found["forage"] = known(row.given["forage"], Forage, {})
        if "soil" in row.given:
            found["soil"] = row.words("soil") or None
        if "note" in row.given:
            found["note"] = row.words("note")
        if "retired_on" in row.given:
            found["retired_on"] = self._days.day(row.given["retired_on"], "the end of its use")
        return found

    def _outline(self, row: Row, name: str) -> shapely.MultiPolygon:
        there = rings_closed(row.there) if isinstance(row.there, BaseGeometry) else row.there
        taken = taken_there(row.at, replace(row.incoming, name=name), there)
        if taken.vetted is None:
            assert isinstance(taken.refused, PigmapError)
            raise taken.refused
        row.said.extend([*taken.words, *areas_told(row.there, taken.vetted.outline, self.farm)])
        row.mended = taken.result == "mended"
        return taken.vetted.outline

    def make(self, row: Row, told: dict[str, Any]) -> Field:
        """Return a new field; its cells follow its own direction."""
        outline = told["outline"]
        (new,) = add_field(told.get("name") or self.called(row), outline, cell_m=cell_m_of(outline.area))(_NO_FARM)
        field = new.after
        assert isinstance(field, Field)
        made = replace(field, **{name: value for name, value in told.items() if name not in ("outline", "name")})
        if self.same(made) is None and any(other.name == made.name for other in self.rows):
            row.said.append(Text("There is another field of that name."))
        return made

    def alike(self, one: Field, other: Field) -> bool:
        """Whether two fields have one name and one outline."""
        return one.name == other.name and same_shape(one.outline, other.outline)

    def also(self, row: Row, made: Field, *, new: bool) -> Sequence[Purpose]:
        """Return what it is for, as far as the farm does not know it yet."""
        return purposes_listed(row.words("purposes"), made, self.farm, row.said)


_NO_FARM: Any = None
"""Adding a field does not look at the farm."""


def _naming(layer: IncomingLayer, kept: Sequence[int], columns: Columns) -> Columns:
    """Return the columns without that of names where it does not name: some rows have none, or the same."""
    names = [words(layer.rows[at].columns.get(columns["name"])) for at in kept] if "name" in columns else []
    if all(names) and len({name.casefold() for name in names}) == len(names):
        return columns
    return {what: column for what, column in columns.items() if what != "name"}


def _cover(row: Row) -> GroundCover:
    cover = row.words("ground_cover").casefold()
    if cover in set(GroundCover):
        return GroundCover(cover)
    if cover:
        row.said.append(Text("What grows there, '{told}', is not known here: it is a pasture.", {"told": told(cover)}))
    return GroundCover.PASTURE


_KEEPS_M = ("radius_m", "net_m", "gear_m", "vehicle_m")
USUAL_KEEP_M = 2.0
"""How far round a line or point without a distance is kept out [m]. Own choice: said, and to be changed."""


class KeepOutRows(Rows[KeepOut]):
    """Areas, lines and points to stay off."""

    record = KeepOut
    shape = "shape"

    def called(self, row: Row) -> str:
        """Return its name, else its reason."""
        return row.words("name") or row.words("reason") or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the shape and what the columns tell."""
        called = self.called(row)
        found: dict[str, Any] = {"shape": _kept_out(row, called)}
        found |= {what: number(row.given[what], what) or 0.0 for what in _KEEPS_M if what in row.given}
        found |= {what: month_day(row.given[what], what) for what in _PART_OF_YEAR if what in row.given}
        if "reason" in row.given:
            found["reason"] = _reason(row.given, row.said)
        found |= name_and_note(self, row, row.words("reason"))
        return found | pointed_at(row, "field", self.named.field)

    def make(self, row: Row, told: dict[str, Any]) -> KeepOut:
        """Return a new keep-out; a line or point without a distance gets the usual one."""
        if told["shape"].area == 0.0 and told.get("radius_m", 0.0) <= 0.0 and told.get("net_m", 0.0) <= 0.0:
            told["radius_m"] = USUAL_KEEP_M
            radius = Quantity(USUAL_KEEP_M, "m", 0)
            row.said.append(Text("It is a line or a point: {radius} round it is kept out.", {"radius": radius}))
        return KeepOut(**{"reason": Reason.OTHER, **told})

    def alike(self, one: KeepOut, other: KeepOut) -> bool:
        """Whether two keep-outs have one reason, name and shape."""
        return (one.reason, one.name) == (other.reason, other.name) and same_shape(one.shape, other.shape)


_PART_OF_YEAR = ("from_month_day", "to_month_day")


def _reason(given: Mapping[str, Any], said: list[Text]) -> Reason:
    reason = words(given.get("reason")).casefold().replace("_", " ")
    if reason in set(Reason):
        return Reason(reason)
    if reason:
        said.append(Text("The reason, '{told}', is not known here: it is another one.", {"told": told(reason)}))
    return Reason.OTHER


def _kept_out(row: Row, called: str) -> BaseGeometry:
    """Return the shape of a keep-out: an area that is vetted as those of fields, or a line or point as it is."""
    there = there_of(row, called)
    there = rings_closed(there) or there
    if shapely.get_dimensions(there) < 2:
        return there
    outline = vetted(row, called, there)
    return outline.geoms[0] if len(outline.geoms) == 1 else outline
