"""A row of paddocks laid by dragging: rectangles that share a side each with the one before."""

from __future__ import annotations

from pigmap.geometry.rectangle import Rectangle

LONGEST_ROW = 60
"""Most paddocks that one drag lays. Own choice."""


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
    (ux, uy), (vx, vy) = first.axes
    centre_x, centre_y = first.centre
    east, north = x_m - centre_x, y_m - centre_y
    along = (east * ux + north * uy) / first.sides_m[0]
    across = (east * vx + north * vy) / first.sides_m[1]
    lengthwise = abs(along) >= abs(across)
    far = along if lengthwise else across
    count = min(int(abs(far) + 0.5), most - 1)
    sign = 1 if far > 0 else -1
    step = (sign * first.long_mm, 0) if lengthwise else (0, sign * first.wide_mm)
    return tuple(first.shifted(step[0] * number, step[1] * number) for number in range(count + 1))
