"""What is told of ground, over all that was told before: of a whole field, or of what of a shape lies in fields."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import shapely

from pigmap.document.edits.find import row_of
from pigmap.errors import EditError
from pigmap.geometry.brush import areas
from pigmap.records import Edit, Farm, Field, GroundJob, RowChange, add, new_uid
from pigmap.text import Text

On = Callable[[shapely.MultiPolygon, str], GroundJob]
"""Makes the record of what is told, from the piece of ground and the uid of the record."""
Says = Callable[[str | Text], Text]
"""Makes the label, from what the ground is called."""


def told_of_part(shape: shapely.Polygon | shapely.MultiPolygon, on: On, says: Says, uid: str) -> Edit:
    """Return the edit that tells something of a piece of ground; what lies outside all fields is left out.

    Raises
    ------
    EditError
        When it is done, if the piece touches no field.
    """
    told = on(areas(shape), uid or new_uid())

    def changes(farm: Farm) -> Sequence[RowChange]:
        outlines = [field.outline for field in farm.fields.values() if field.outline.intersects(shape)]
        inside = areas(shapely.intersection(shapely.union_all(outlines), told.shape)) if outlines else None
        if inside is None or inside.is_empty:
            raise EditError(
                "What was brushed touches no field.",
                remedy="Brush inside a field, or draw a field there first (D).",
            )
        return [add(replace(told, shape=inside, position=_on_top(farm)))]

    return Edit(says(Text("part of a field")), changes)


def told_of_field(field_uid: str, on: On, says: Says, name: str, uid: str) -> Edit:
    """Return the edit that tells something of a whole field, as it is drawn when it is done.

    Raises
    ------
    EditError
        When it is done, if the field is gone.
    """
    fresh = uid or new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        field = row_of(farm, Field, field_uid)
        return [add(replace(on(field.outline, fresh), position=_on_top(farm)))]

    return Edit(says(name or Text("a field")), changes)


def _on_top(farm: Farm) -> int:
    return max((job.position for job in farm.ground_jobs.values()), default=-1) + 1
