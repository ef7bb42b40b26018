"""Placing by single corners: those of a new paddock, or those of a planned one that is reshaped."""

from __future__ import annotations

import shapely

from pigmap.builtin.tools.corners import left_half_done
from pigmap.builtin.tools.place_base import PlaceBase
from pigmap.text import Text


class PlaceByCorners(PlaceBase):
    """Has corners follow the choice of the tray; what a gesture does with them, the tool says."""

    def __init__(self) -> None:
        super().__init__()
        self._was_free = False
        self._reshaping = ""
        """The planned paddock whose corners are loaded."""
        self._put_aside: list[tuple[float, float]] = []

    def end(self) -> None:
        """Leave the corners of a new paddock for later, and those of a planned one as they were."""
        if self.running:
            stage = self.host.stage
            stage.placing.choose(reshape_uid="")
            self._load_reshaped()
            if self._was_free:
                self.free.end()
                left_half_done(stage, self.name, self.free.corners)
            self._was_free = False
        super().end()

    def renew_corners(self) -> None:
        """Take in what is placed now, and whether by corners."""
        self.free.renew(self._ghost)
        self._turn_free()
        self._load_reshaped()

    def show_moved(self) -> None:
        """Show the outline at once, and its figures a moment later."""
        if self.running and not self.is_free:
            self._shown.show(self._ghost, self.row, (), self._waiting)
        else:
            self._show(quick=True)
        self._figures_soon()

    def turn_free(self) -> None:
        """Set corners one by one from now on, or rectangles of whole nets again."""
        self.choice.choose(free=not self.choice.choice.by_corners, reshape_uid="")

    def _turn_free(self) -> None:
        """Have the line for corners while they are free, and the ghost put away."""
        if self.is_free == self._was_free:
            return
        self._was_free = self.is_free
        self._held = False
        self.plate.put_away()
        if self._was_free:
            self.row = ()
            self.free.begin(self.host, self._corners_changed)
        else:
            self.free.end()

    def _load_reshaped(self) -> None:
        """Have the corners of the planned paddock that is reshaped; those of a new one wait meanwhile."""
        uid = self.choice.choice.reshape_uid
        if uid == self._reshaping:
            return
        self._reshaping, before = uid, self._reshaping
        if not before:
            self._put_aside = list(self.free.corners.points)
        self.free.clear()
        paddock = self.farm.paddocks.get(uid)
        if paddock is not None:
            corners = shapely.get_coordinates(paddock.outline.exterior)[:-1].tolist()
            self.free.take([(float(x), float(y)) for x, y in corners])
        else:
            self.free.corners.points, self._put_aside = self._put_aside, []

    def _corners_changed(self) -> None:
        """Go on after a corner was typed, taken back or dropped."""
        self._held = False
        self.plate.put_away()
        self.show_moved()

    def close(self) -> None:
        """Set what the corners close."""
        if not self.free.corners.points:
            return
        self.free.close()
        look = self.free.look
        if look.crossed:
            self._held = True
        elif look.outline is None:
            many = Text("{count} corners close no ground yet. Set one more.", {"count": len(look.points)})
            self.host.stage.notice(many, "care")
        else:
            self.set()
        self.show_moved()
