"""The corners of a planned paddock while they are set one by one: clicked, typed, dragged, taken back."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.corners import Corners
from pigmap.builtin.tools.corners_there import REACH_PX
from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_free_look import FreeLook
from pigmap.geometry.free_outline import FreeOutline
from pigmap.qt.tool import Host, Pointer
from pigmap.session.placing.walking import Walking

Point = tuple[float, float]
LEAST_SIDE_M = 0.5
"""A pointer nearer to the last corner is still on it [grid m]."""
HANDLE_PX = 10.0
"""Corners that are set are taken hold of within so many pixels."""


class FreeCorners:
    """Holds them, and finds where the next one would be; the tool judges and sets what they close."""

    def __init__(self) -> None:
        self._corners = Corners("Length and direction: 50 at 90", tell_dropped=True)
        self._caught: Point | None = None
        self._dragged: int | None = None
        self._moved = False
        self.closed = False
        """Whether no corner follows the last one: they are dragged now, and a side by its middle."""
        self._ghost: Ghost | None = None
        self.walking: Walking | None = None
        """Where corners come to rest; None while the farm has no kind of net."""

    def begin(self, host: Host, changed: Callable[[], None]) -> None:
        """Go on on a map."""
        self._corners.begin(host, changed)

    def end(self) -> None:
        """Leave the map; the corners stay."""
        self._corners.end()
        self._caught, self._dragged = None, None

    def renew(self, ghost: Ghost | None) -> None:
        """Take in what is placed, and what stands."""
        self._ghost = ghost
        if ghost is not None:
            choice = ghost.choice
            self.walking = Walking(
                ghost.ground,
                ghost.kind,
                standing=choice.snap_side,
                fences=choice.snap_fence,
                field_edges=choice.snap_edge,
            )

    @property
    def corners(self) -> Corners:
        """The corners that are set."""
        return self._corners

    @property
    def look(self) -> FreeLook:
        """All that is shown of them."""
        points = self._corners.points
        every = [*points, *([self._corners.pointer] if self._corners.pointer is not None else [])]
        outline = self._outline(every)
        sound = outline if outline is not None and outline.is_sound else None
        crossed = outline is not None and sound is None and len(set(every)) >= 3
        return FreeLook(points, self._corners.pointer, self._caught, sound, crossed and _has_ground(every), self.closed)

    @property
    def outline(self) -> FreeOutline | None:
        """What the corners close, the pointer's included; None where that is nothing."""
        return self.look.outline

    def _outline(self, points: Sequence[Point]) -> FreeOutline | None:
        kept = [point for at, point in enumerate(points) if at == 0 or point != points[at - 1]]
        if len(kept) > 1 and kept[-1] == kept[0]:
            kept.pop()
        scale = self._ghost.ground.ground_per_grid if self._ghost is not None else 1.0
        return FreeOutline(tuple(kept), scale) if len(kept) >= 3 else None

    def take(self, points: Sequence[Point]) -> None:
        """Have these corners, closed, counted from where nets begin."""
        self._corners.clear()
        first = self.walking.begins_at(points) if self.walking is not None else 0
        self._corners.points = [*points[first:], *points[:first]]
        self.close()

    def clear(self) -> None:
        """Have none."""
        self._corners.clear()
        self.closed = False

    # Gestures

    def follow(self, pointer: Pointer) -> None:
        """Let the next corner follow the pointer; Alt leaves it where the pointer is."""
        self._caught = None
        if self.walking is None or self.closed:
            return
        self._corners.follow(pointer)
        caught, points = self._catch(pointer, self._corners.points), self._corners.points
        if points:
            apart = max(abs(caught[0][0] - points[-1][0]), abs(caught[0][1] - points[-1][1]))
            self._corners.pointer = caught[0] if apart >= LEAST_SIDE_M else None
        self._caught = caught[0] if caught[1] in ("first", "corner", "side") else None

    def _catch(self, pointer: Pointer, points: Sequence[Point]) -> tuple[Point, str]:
        free = bool(pointer.modifiers & Qt.KeyboardModifier.AltModifier)
        reach = 0.0 if free else REACH_PX * pointer.metres_per_pixel
        if self.walking is None:
            return (pointer.x_m, pointer.y_m), "free"
        return self.walking.next(pointer.x_m, pointer.y_m, points, reach)

    def press(self, pointer: Pointer) -> bool:
        """Take hold of a corner that is set; other drags move the map."""
        self._moved = False
        reach = HANDLE_PX * pointer.metres_per_pixel
        off = [max(abs(x - pointer.x_m), abs(y - pointer.y_m)) for x, y in self._corners.points]
        nearest = min(range(len(off)), key=off.__getitem__, default=None)
        self._dragged = nearest if nearest is not None and off[nearest] <= reach else None
        if self._dragged is None and self.closed:
            self._pull_out(pointer, reach)
        return self._dragged is not None

    def _pull_out(self, pointer: Pointer, reach: float) -> None:
        """Begin a corner in the middle of a side that is under the pointer."""
        points = self._corners.points
        for at, (x, y) in enumerate(middles_of(points)):
            if max(abs(x - pointer.x_m), abs(y - pointer.y_m)) <= reach:
                points.insert(at + 1, (x, y))
                self._dragged = at + 1
                return

    def drag(self, pointer: Pointer) -> None:
        """Let the corner that is held follow the pointer, drawn to what is there and to posts."""
        at, points = self._dragged, self._corners.points
        if at is None:
            return
        self._moved = True
        self._corners.pointer = None
        points[at] = self._catch(pointer, points[max(0, at - 2) : at])[0]

    def release(self, pointer: Pointer) -> bool:
        """Let go of a corner, or set one; return whether the first one was clicked, which closes."""
        if self._dragged is not None and self._moved:
            self._dragged = None
            return False
        held, self._dragged = self._dragged, None
        if held is not None:
            return held == 0 and len(self._corners.points) >= 3 and not self.closed
        if self.closed:
            return False
        point, by = self._catch(pointer, self._corners.points)
        if by == "first":
            return True
        self._corners.follow(pointer)
        self._corners.add(*point)
        return False

    def close(self) -> None:
        """Let no more corner follow the pointer."""
        self._corners.pointer = self._caught = None
        self.closed = True

    def key(self, event: QKeyEvent) -> bool:
        """Take the keys of corners; with another number of them they are open again."""
        before = len(self._corners.points)
        taken = self._corners.key(event)
        self.reopen(before)
        return taken

    def reopen(self, corners_before: int) -> None:
        """Let corners follow the last one again where some were added or taken back."""
        if len(self._corners.points) != corners_before:
            self.closed = False


def middles_of(points: Sequence[Point]) -> list[Point]:
    """Return the middles of the sides of a closed outline, that after each corner."""
    return [
        ((x + to_x) / 2, (y + to_y) / 2)
        for (x, y), (to_x, to_y) in zip(points, [*points[1:], *points[:1]], strict=True)
    ]


def _has_ground(points: Sequence[Point]) -> bool:
    """Whether some corners lie on more than one line, so that sides can cross."""
    (x, y), (to_x, to_y), *others = points
    return any(abs((to_x - x) * (oy - y) - (to_y - y) * (ox - x)) > 1.0 for ox, oy in others)
