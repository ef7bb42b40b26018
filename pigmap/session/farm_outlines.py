"""Which outlines of a file are the farm's: those round its place, or all of a file that is that of one farm."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, PigmapError
from pigmap.geometry.projection import moved
from pigmap.records import Projection
from pigmap.session.intake import Taken, far_apart, take_outlines

MOST_OUTLINES = 100
"""A file with more outlines than this is that of a county, not of a farm. Own choice."""

AROUND_M = 1000.0
"""How far round the place outlines are taken out of such a file [m]. Own choice."""

_TYPE_THE_PLACE = "Type the place of the farm too: then only what lies within {km} km of it is taken."


def outlines_for_farm(
    layer: IncomingLayer, file_name: str, projection: Projection, yard: shapely.Point | None
) -> tuple[Taken, ...]:
    """Return the outlines of a file that are the farm's: those round its place, or all where it has none.

    Parameters
    ----------
    layer
        As it was read, with its coordinate system.
    file_name
        What the file is called in a sentence.
    projection
        The farm's.
    yard
        The farm's place [grid m].

    Raises
    ------
    OutlineError
        If there are too many for one farm and no place is given, or none near it; if none can be a field.
    """
    rows = [row for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    if yard is not None:
        rows = _near(rows, layer.crs, projection, yard)
    _need_a_farms(len(rows), len(layer.rows), file_name, placed=yard is not None)
    taken = take_outlines(IncomingLayer(layer.name, layer.crs, tuple(rows)), layer.crs, projection)
    if yard is None and far_apart(taken, projection):
        raise _refused(
            "{file} holds {count} outlines, and they lie too far from each other for one farm.",
            _TYPE_THE_PLACE,
            file_name,
            len(rows),
        )
    _need_a_field(taken, file_name)
    return taken


def _need_a_farms(near: int, all_there: int, file_name: str, *, placed: bool) -> None:
    """Refuse more outlines than a farm has, and a file with none near the place."""
    if placed and not near:
        raise _refused(
            "{file} holds {count} outlines, and none within {km} km of the farm's place.",
            "Look at the place again, or choose the file of that place.",
            file_name,
            all_there,
        )
    if near > MOST_OUTLINES:
        raise _refused(
            "{file} holds {count} outlines, more than one farm has (at most {most} are taken).",
            "Begin the farm at its place without the file; then bring the file, and pick your own fields from it."
            if placed
            else _TYPE_THE_PLACE,
            file_name,
            near,
        )


def _refused(pattern: str, remedy: str, file_name: str, count: int) -> OutlineError:
    km = f"{AROUND_M / 1000:g}"
    return OutlineError(pattern, remedy=remedy, file=file_name, count=count, most=MOST_OUTLINES, km=km)


def _need_a_field(taken: Sequence[Taken], file_name: str) -> None:
    """Say why the first outline was refused where none can be a field."""
    if any(each.vetted is not None for each in taken):
        return
    why: PigmapError | None = next((each.refused for each in taken if each.refused is not None), None)
    raise why or OutlineError(
        "{file} holds no outline.", remedy="Choose the file that holds the outlines.", file=file_name
    )


def _near(rows: Sequence[Incoming], crs: str, projection: Projection, yard: shapely.Point) -> list[Incoming]:
    reach = yard.buffer(AROUND_M / projection.ground_per_grid)
    (around,) = moved([reach], projection.definition, crs, projection.name)
    return [row for row in rows if row.shape is not None and shapely.intersects(row.shape, around)]
