"""As many paddocks as fit from where the ghost is: in one row, or strip after strip."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.row_drag import ROW_MOST
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.row import Heading, reach_of, rows_filling
from pigmap.session.placing.free import is_free

_HEADINGS = tuple(Heading(lengthwise, sign) for lengthwise in (True, False) for sign in (1, -1))


def next_filling(ghost: Ghost, row: Sequence[Rectangle], *, strips: bool) -> tuple[Rectangle, ...]:
    """Return the row that fits from the first of a row: the longest way, or the next way where it is laid already.

    A paddock fits where it lies in a field and nothing is in its way on the day; what stands there then is.
    """
    found = _fillings(ghost, row[0], strips=strips)
    now = tuple(row)
    return found[(found.index(now) + 1) % len(found)] if now in found else found[0]


def _fillings(ghost: Ghost, first: Rectangle, *, strips: bool) -> list[tuple[Rectangle, ...]]:
    def fits(each: Rectangle) -> bool:
        return is_free(ghost.ground, each)

    if strips:
        rows = [rows_filling(first, heading, side, fits, most=ROW_MOST) for heading in _HEADINGS for side in (1, -1)]
    else:
        rows = [_straight(first, heading, reach_of(first, heading, fits, most=ROW_MOST)) for heading in _HEADINGS]
    longest = sorted(dict.fromkeys(rows), key=len, reverse=True)
    return [each for each in longest if len(each) > 1] or [(first,)]


def _straight(first: Rectangle, heading: Heading, reach: int) -> tuple[Rectangle, ...]:
    along, across = (first.long_mm, 0) if heading.lengthwise else (0, first.wide_mm)
    steps = (heading.sign * number for number in range(reach + 1))
    return tuple(first.shifted(along * step, across * step) for step in steps)
