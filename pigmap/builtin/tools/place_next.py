"""What the next click does where it sets no paddock: a row is filled from there, or an old paddock placed again."""

from __future__ import annotations

from typing import Protocol

from pigmap.builtin.tools.place_again import ground_at, placed_again
from pigmap.geometry.free_outline import Placed
from pigmap.qt.stage import Stage
from pigmap.qt.tool import Pointer
from pigmap.text import Text

SAID = {
    "row": Text("Click where the row begins. Esc leaves it."),
    "again": Text("Click the old paddock to place again. Esc leaves it."),
}
NONE_THERE = Text("No paddock was there. Click an old one, or pick it first.")


class Filling(Protocol):
    """What a click works on."""

    def follow(self, pointer: Pointer) -> None:
        """Have the ghost at the pointer."""
        ...

    def do(self, name: str) -> None:
        """Do what a word of the plate says."""
        ...

    def take_old(self, old: Placed | None) -> None:
        """Have an old outline as what is placed."""
        ...


class NextClick:
    """Waits for one click."""

    def __init__(self) -> None:
        self.what = ""
        """``row``, ``again`` or nothing."""

    def ask(self, stage: Stage, what: str) -> None:
        """Wait for it, and say so."""
        self.what = what
        stage.notice(SAID[what])

    def drop(self) -> bool:
        """Wait no more; whether it did."""
        waited, self.what = bool(self.what), ""
        return waited

    def take(self, tool: Filling, stage: Stage, pointer: Pointer) -> None:
        """Do it where a click was."""
        what, self.what = self.what, ""
        if what == "row":
            tool.follow(pointer)
            tool.do(what)
            return
        under = ground_at(stage.session.farm, pointer.x_m, pointer.y_m)
        if under is None:
            stage.notice(NONE_THERE, "care")
        else:
            tool.take_old(placed_again(stage, under))
