"""The row that a drag lays: straight on, and into the next strip once it has met the end of the field."""

from __future__ import annotations

import shapely

from pigmap.builtin.tools.ghost import Ghost
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.row import Heading, heading_towards, reach_of, row_in_strips, row_towards
from pigmap.session.placing.free import is_free

ROW_MOST = 24
"""Most paddocks that one drag lays here."""


class RowDrag:
    """One drag from a paddock on.

    It only turns once the pointer was at the end of the field, so that a hand that goes aslant lays no strips; back in
    the first strip it runs straight on again.
    """

    def __init__(self, first: Rectangle, ghost: Ghost) -> None:
        self.first = first
        self._ghost = ghost
        self._reach: dict[Heading, int] = {}
        self._turning: Heading | None = None

    def towards(self, x_m: float, y_m: float) -> tuple[Rectangle, ...]:
        """Return the row towards a point [grid m]."""
        heading, far = heading_towards(self.first, x_m, y_m)
        if self._turning is None and far >= self._reach_of(heading) + 0.5 and self._reach_of(heading):
            self._turning = heading
        if self._turning is not None:
            row = row_in_strips(self.first, x_m, y_m, self._turning, self._fits, free=self._free, most=ROW_MOST)
            if len(row) > self._reach_of(self._turning):
                return row
            self._turning = None
        return row_towards(self.first, x_m, y_m, most=ROW_MOST)

    def _reach_of(self, heading: Heading) -> int:
        if heading not in self._reach:
            self._reach[heading] = reach_of(self.first, heading, self._fits, most=ROW_MOST)
        return self._reach[heading]

    def _free(self, rectangle: Rectangle) -> bool:
        return is_free(self._ghost.ground, rectangle)

    def _fits(self, rectangle: Rectangle) -> bool:
        return bool(shapely.covers(self._ghost.ground.fields_as_one, rectangle.outline))
