"""A row of paddocks laid by dragging: rectangles that share a side each with the one before."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from pigmap.geometry.rectangle import Rectangle

LONGEST_ROW = 60
"""Most paddocks that one drag lays. Own choice."""

Fits = Callable[[Rectangle], bool]


class Heading(NamedTuple):
    """Which way a row runs from its first paddock."""

    lengthwise: bool
    """Along the long sides, or else along the wide ones."""
    sign: int
    """1 the way they point, -1 the other."""


def heading_towards(first: Rectangle, x_m: float, y_m: float) -> tuple[Heading, float]:
    """Return the way in which a point lies farther off, in the rectangle's own sides, and how many sides far."""
    along, across = _apart(first, x_m, y_m)
    lengthwise = abs(along) >= abs(across)
    far = along if lengthwise else across
    return Heading(lengthwise, 1 if far > 0 else -1), abs(far)


def row_towards(first: Rectangle, x_m: float, y_m: float, *, most: int = LONGEST_ROW) -> tuple[Rectangle, ...]:
    """Return the row that begins with a rectangle and runs towards a point.

    The row follows that direction of the rectangle in which the point lies farther off, measured in its own sides;
    a paddock joins once the point is past the middle of where it comes to lie.

    Parameters
    ----------
    first
        The paddock that was set.
    x_m, y_m
        Where the pointer is [grid m].
    most
        Most paddocks in the row, the first included.

    Examples
    --------
    >>> [each.corner_x_m for each in row_towards(Rectangle(0, 0, 0, 50_000, 50_000), 120, 30)]
    [0.0, 50.0, 100.0]
    """
    heading, far = heading_towards(first, x_m, y_m)
    count = min(int(far + 0.5), most - 1)
    return tuple(_at(first, heading, number, 0) for number in range(count + 1))


def reach_of(first: Rectangle, heading: Heading, fits: Fits, *, most: int = LONGEST_ROW) -> int:
    """Return how many more paddocks fit one after the other after the first, the way a row runs."""
    number = 0
    while number < most - 1 and fits(_at(first, heading, number + 1, 0)):
        number += 1
    return number


def row_in_strips(
    first: Rectangle,
    x_m: float,
    y_m: float,
    heading: Heading,
    fits: Fits,
    *,
    free: Fits | None = None,
    most: int = LONGEST_ROW,
) -> tuple[Rectangle, ...]:
    """Return the row that runs as far as it fits, then turns into the next strip and runs back, and so on.

    Parameters
    ----------
    first, heading
        The paddock that was set, and the way the row runs in its strip.
    x_m, y_m
        Where the pointer is: in a strip beside the first, the row runs up to there; beyond the end of the first
        strip, as many as would lie there turn into the next one, on the side of the pointer if they fit there.
    fits
        Whether a paddock can lie somewhere: the row turns before one that cannot.
    free
        Whether nothing is in its way there either: it turns to such a side first.
    most
        Most paddocks in the row, the first included.

    Examples
    --------
    >>> inside = lambda each: each.corner_x_m < 100 and each.corner_y_m < 100
    >>> square = Rectangle(0, 0, 0, 50_000, 50_000)
    >>> row = row_in_strips(square, 30, 80, Heading(True, 1), inside)
    >>> [(each.corner_x_m, each.corner_y_m) for each in row]
    [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)]
    """
    along, across = _apart(first, x_m, y_m)
    far, beside = (along, across) if heading.lengthwise else (across, along)
    to, strip = round(far * heading.sign), round(beside)
    last = reach_of(first, heading, fits, most=most)
    if strip == 0 and to <= last:
        return tuple(_at(first, heading, number, 0) for number in range(max(to, 0) + 1))
    if strip == 0:
        strip = _side(first, heading, last, (free or fits, fits), beside)
        to = last - (to - last) + 1
    return tuple(_walk(first, heading, last, strip, to, fits, most))


def rows_filling(
    first: Rectangle, heading: Heading, side: int, fits: Fits, *, most: int = LONGEST_ROW
) -> tuple[Rectangle, ...]:
    """Return the row that goes on from strip to strip until none fits, to the left of the way (1) or the right (-1).

    Examples
    --------
    >>> inside = lambda each: 0 <= each.corner_x_m < 100 and 0 <= each.corner_y_m < 100
    >>> len(rows_filling(Rectangle(0, 0, 0, 50_000, 50_000), Heading(True, 1), 1, inside))
    4
    """
    last = reach_of(first, heading, fits, most=most)
    return tuple(_walk(first, heading, last, side * most, 0, fits, most))


def next_after(last: Rectangle, shared: tuple[float, float]) -> Rectangle:
    """Return where the next paddock of a row would lie: at the side across from the middle of a shared one."""
    along, across = _apart(last, *shared)
    if abs(along) >= abs(across):
        return last.shifted(-last.long_mm if along > 0 else last.long_mm, 0)
    return last.shifted(0, -last.wide_mm if across > 0 else last.wide_mm)


def _apart(first: Rectangle, x_m: float, y_m: float) -> tuple[float, float]:
    """Return how far a point lies from the middle along and across, in its own sides."""
    (ux, uy), (vx, vy) = first.axes
    centre_x, centre_y = first.centre
    east, north = x_m - centre_x, y_m - centre_y
    return (east * ux + north * uy) / first.sides_m[0], (east * vx + north * vy) / first.sides_m[1]


def _at(first: Rectangle, heading: Heading, number: int, strip: int) -> Rectangle:
    along = heading.sign * number
    if heading.lengthwise:
        return first.shifted(along * first.long_mm, strip * first.wide_mm)
    return first.shifted(strip * first.long_mm, along * first.wide_mm)


def _side(first: Rectangle, heading: Heading, last: int, tests: Iterable[Fits], beside: float) -> int:
    """Return the strip to turn into: the first that meets a test, that on the side of the pointer before the other."""
    near = 1 if beside >= 0 else -1
    sides = ((fits, side) for fits in tests for side in (near, -near))
    return next((side for fits, side in sides if fits(_at(first, heading, last, side))), near)


def _walk(
    first: Rectangle, heading: Heading, last: int, strip: int, to: int, fits: Fits, most: int
) -> Iterator[Rectangle]:
    """Yield the row through the strips up to one, and in that one up to a place."""
    left = most
    number, way = 0, 1
    for aside in range(abs(strip) + 1):
        across = aside * (1 if strip > 0 else -1)
        while left and (aside == 0 or fits(_at(first, heading, number, across))):
            yield _at(first, heading, number, across)
            left -= 1
            is_there = aside == abs(strip) and (number - to) * way >= 0
            after = _at(first, heading, number + way, across)
            if is_there or (number >= last if aside == 0 else not fits(after)):
                break
            number += way
        else:
            return
        way = -way
