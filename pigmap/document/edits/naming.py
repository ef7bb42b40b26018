"""Names for new paddocks: the field's name and the next free number."""

from __future__ import annotations

import re
from collections.abc import Iterable

import shapely

from pigmap.records import Farm, Field


def field_under(farm: Farm, ground: shapely.Polygon) -> Field | None:
    """Return the field that most of some ground lies in; None if it lies in none."""
    shares = [
        (float(shapely.intersection(field.outline, ground).area), field.uid, field)
        for field in farm.fields.values()
        if shapely.intersects(field.outline, ground)
    ]
    best = max(shares, key=lambda share: share[:2], default=None)
    return best[2] if best is not None and best[0] > 0.0 else None


def free_names(farm: Farm, field_uid: str | None, count: int = 1, *, also_taken: Iterable[str] = ()) -> list[str]:
    """Return names for new paddocks of a field, such as 'Long Field 9', numbered on from the highest.

    Examples
    --------
    >>> from pigmap.records import Projection
    >>> utm = Projection(name="", authority="NONE", code=0, definition="")
    >>> free_names(Farm(document_uid="", projection=utm), None, 2)
    ['Paddock 1', 'Paddock 2']
    """
    field = farm.fields.get(field_uid or "")
    stem = field.name if field is not None else "Paddock"
    numbered = re.compile(re.escape(stem) + r" (\d{1,6})")
    names = [*(paddock.name for paddock in farm.paddocks.values()), *also_taken]
    taken = [int(found[1]) for name in names if (found := numbered.fullmatch(name))]
    first = max(taken, default=0) + 1
    return [f"{stem} {number}" for number in range(first, first + count)]
