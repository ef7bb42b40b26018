"""Rows of a file as fields and keep-outs of the farm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits import add_field
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, PigmapError
from pigmap.geometry.outlines import vet_outline
from pigmap.geometry.projection import moved
from pigmap.records import Farm, Field, GroundCover, KeepOut, Reason
from pigmap.session.farm_outlines import AROUND_M, MOST_OUTLINES
from pigmap.session.intake import Taken, There, cell_m_of, shape_of, taken_there
from pigmap.session.taking_in.columns import Columns
from pigmap.session.taking_in.result import TakenRow, refused
from pigmap.session.taking_in.values import Days, number, told, words
from pigmap.session.taking_in.where import Placed, yard_of
from pigmap.text import Quantity, Text, Value

SAME_M = 0.01
"""Outlines of which no corner is farther off are one [grid m]."""


def near_the_farm(placed: Placed, file: str, farm: Farm) -> tuple[list[int], tuple[Text, ...]]:
    """Return which rows are the farm's: all of a file of one farm, those round the farm out of a larger one.

    Raises
    ------
    OutlineError
        If there are too many for one farm and nothing says which are its own.
    """
    rows = placed.layer.rows
    if len(rows) <= MOST_OUTLINES:
        return list(range(len(rows))), ()
    yard = yard_of(farm)
    near = list(_around(rows, placed.crs, farm, yard)) if yard is not None else list(range(len(rows)))
    values: dict[str, Value] = {"file": file, "all": len(rows), "km": f"{AROUND_M / 1000:g}", "near": len(near)}
    if not near or len(near) > MOST_OUTLINES:
        raise OutlineError(
            "{file} has {all} rows, more than one farm has; {near} of them lie within {km} km of the farm.",
            remedy="Cut out those of the farm, or pick them on the map: Draw, then Fields out of a parcel file.",
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


def fields_out_of(placed: Placed, kept: Sequence[int], columns: Columns, file: str, farm: Farm) -> list[TakenRow]:
    """Return what becomes of each row as a field."""
    days = Days(file, [row.columns.get(columns["retired_on"]) for row in placed.layer.rows]) if (
        "retired_on" in columns) else None  # fmt: skip
    there = list(farm.fields.values())
    columns = _naming(placed.layer, kept, columns)
    found = []
    for at, each in _outlines(placed, kept, columns):
        row = placed.layer.rows[at]
        if each.vetted is None:
            found.append(refused(at + 1, each.name, each.words))
            continue
        outline = each.vetted.outline
        said = [*each.words, *_areas_told(each, placed.there[at], farm)]
        same = _same(each.name, outline, there, lambda field: field.outline)
        if same:
            found.append(TakenRow(at + 1, each.name, "there already"))
            continue
        try:
            field = _field(each.name, outline, row, columns, days, said)
        except PigmapError as why:
            found.append(refused(at + 1, each.name, (why.message, why.remedy)))
            continue
        if any(other.name == field.name for other in there):
            said.append(Text("There is another field of that name."))
        there.append(field)
        found.append(TakenRow(at + 1, each.name, each.result, tuple(said), field))  # type: ignore[arg-type]
    return found


def _outlines(placed: Placed, kept: Sequence[int], columns: Columns) -> Iterator[tuple[int, Taken]]:
    for at in kept:
        there = placed.there[at]
        row = _called(placed.layer.rows[at], columns)
        yield at, taken_there(at + 1, row, rings_closed(there) if isinstance(there, BaseGeometry) else there)


def _naming(layer: IncomingLayer, kept: Sequence[int], columns: Columns) -> Columns:
    """Return the columns without that of names where it does not name: some rows have none, or the same."""
    names = [words(layer.rows[at].columns.get(columns["name"])) for at in kept] if "name" in columns else []
    if all(names) and len({name.casefold() for name in names}) == len(names):
        return columns
    return {what: column for what, column in columns.items() if what != "name"}


def _called(row: Incoming, columns: Columns) -> Incoming:
    """Return a row with the name that its column tells."""
    name = words(row.columns.get(columns["name"])) if "name" in columns else ""
    return replace(row, name=name or row.name)


def rings_closed(shape: BaseGeometry | None) -> BaseGeometry | None:
    """Return closed lines as the areas they go round: those inside others are holes."""
    if shape is None or shape.is_empty or shapely.get_dimensions(shape) != 1:
        return shape
    lines = shapely.get_parts(shape)
    if not (shapely.is_closed(lines).all() and shapely.is_simple(lines).all()):
        return shape
    areas: BaseGeometry | None = shapely.build_area(shapely.multilinestrings(list(lines)))
    return shape if areas is None or areas.is_empty or not areas.is_valid else areas


def _areas_told(each: Taken, before: There, farm: Farm) -> list[Text]:
    """Return the area before and after an edge that crossed itself was mended."""
    if each.vetted is None or not isinstance(before, BaseGeometry):
        return []
    if shapely.get_dimensions(before) != 2 or shapely.is_valid(before):
        return []
    scale = farm.projection.ground_per_grid**2
    values: dict[str, Value] = {
        "before": Quantity(abs(before.area) * scale, "m²"),
        "after": Quantity(each.vetted.outline.area * scale, "m²"),
    }
    return [Text("Its area was {before} as it stood, and is {after}.", values)]


def _same(name: str, shape: BaseGeometry, rows: Iterable[Any], shape_of: Callable[[Any], BaseGeometry]) -> bool:
    for row in rows:
        other = shape_of(row)
        one_kind = shapely.get_dimensions(other) == shapely.get_dimensions(shape)
        if (
            one_kind
            and getattr(row, "name", "") == name
            and np.allclose(other.bounds, shape.bounds, rtol=0, atol=SAME_M)
        ):
            return bool(shapely.hausdorff_distance(other, shape) <= SAME_M)
    return False


def _field(
    name: str, outline: shapely.MultiPolygon, row: Incoming, columns: Columns, days: Days | None, said: list[Text]
) -> Field:
    given = {what: words(row.columns.get(column)) for what, column in columns.items()}
    cover = given.get("ground_cover", "").casefold()
    known = cover in set(GroundCover)
    if cover and not known:
        said.append(Text("What grows there, '{told}', is not known here: it is a pasture.", {"told": told(cover)}))
    retired = days.day(row.columns.get(columns["retired_on"]), "the end of its use") if days is not None else None
    edit = add_field(
        name,
        outline,
        ground_cover=GroundCover(cover) if known else GroundCover.PASTURE,
        soil=given.get("soil") or None,
        note=given.get("note", ""),
        cell_m=cell_m_of(outline.area),
    )
    (new,) = edit(_NO_FARM)
    field = new.after
    assert isinstance(field, Field)
    return replace(field, retired_on=retired)


_NO_FARM: Any = None
"""Adding a field does not look at the farm."""

_KEEPS_M = ("radius_m", "net_m", "gear_m", "vehicle_m")
USUAL_KEEP_M = 2.0
"""How far round a line or point without a distance is kept out [m]. Own choice: said, and to be changed."""


def keep_outs_out_of(placed: Placed, kept: Sequence[int], columns: Columns, farm: Farm) -> list[TakenRow]:
    """Return what becomes of each row as a keep-out."""
    there = list(farm.keep_outs.values())
    found = []
    for at in kept:
        row = placed.layer.rows[at]
        name = words(row.columns.get(columns["name"])) if "name" in columns else ""
        called = name or words(row.columns.get(columns.get("reason", ""))) or row.name
        said: list[Text] = []
        try:
            keep_out = _keep_out(name, called, row, columns, placed.there[at], said)
        except PigmapError as why:
            found.append(refused(at + 1, called, (why.message, why.remedy)))
            continue
        alike = [each for each in there if each.reason == keep_out.reason]
        if _same(name, keep_out.shape, alike, lambda each: each.shape):
            found.append(TakenRow(at + 1, called, "there already"))
            continue
        there.append(keep_out)
        mended = row.shape is not None and not shapely.is_valid(row.shape)
        found.append(TakenRow(at + 1, called, "mended" if mended else "taken", tuple(said), keep_out))
    return found


def _keep_out(name: str, called: str, row: Incoming, columns: Columns, there: There, said: list[Text]) -> KeepOut:
    shape = _kept_out(called, row, shape_of(there), said)
    given = {what: row.columns.get(column) for what, column in columns.items()}
    distances: dict[str, Any] = {what: number(given.get(what), what) or 0.0 for what in _KEEPS_M}
    if shape.area == 0.0 and distances["radius_m"] <= 0.0 and distances["net_m"] <= 0.0:
        distances["radius_m"] = USUAL_KEEP_M
        said.append(
            Text("It is a line or a point: {radius} round it is kept out.", {"radius": Quantity(USUAL_KEEP_M, "m", 0)})
        )
    return KeepOut(
        name=name,
        reason=_reason(given, said),
        shape=shape,
        from_month_day=words(given.get("from_month_day")) or None,
        to_month_day=words(given.get("to_month_day")) or None,
        note=words(given.get("note")),
        **distances,
    )


def _reason(given: Mapping[str, Any], said: list[Text]) -> Reason:
    reason = words(given.get("reason")).casefold().replace("_", " ")
    if reason in set(Reason):
        return Reason(reason)
    if reason:
        said.append(Text("The reason, '{told}', is not known here: it is another one.", {"told": told(reason)}))
    return Reason.OTHER


def _kept_out(called: str, row: Incoming, there: BaseGeometry | None, said: list[Text]) -> BaseGeometry:
    """Return the shape of a keep-out: an area that is vetted as those of fields, or a line or point as it is."""
    if there is None or there.is_empty:
        raise OutlineError("{name} has no shape.", remedy="Draw it on the map, or leave it out.", name=called)
    if row.shape is not None and shapely.has_z(row.shape):
        said.append(Text("The heights in {name} were left out.", {"name": called}))
    there = rings_closed(there) or there
    if shapely.get_dimensions(there) < 2:
        return there
    vetted = vet_outline(called, there)
    said.extend(vetted.notes)
    return vetted.outline.geoms[0] if len(vetted.outline.geoms) == 1 else vetted.outline
