"""The sides in nets in the tray: a stepper for long and wide, or one for each kind of net where they are mixed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.sides_typed import side_typed
from pigmap.errors import PigmapError
from pigmap.fence.told import length_mm, sides_with_kinds
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.text import Quantity, Text

Key = tuple[str, bool]
"""Kind of net, empty for the chosen one; whether it is the wide side."""


class SidesInNets:
    """Steppers that are typed into as well: a number, or words such as '2 of 50 m and 1 of 25 m'.

    Parameters
    ----------
    stage, parent
        Where they stand.
    changed
        Called when steppers came or went.
    """

    def __init__(self, stage: Stage, parent: QWidget, changed: Callable[[], None]) -> None:
        self._stage, self._parent, self._changed = stage, parent, changed
        self._steppers: dict[Key, Stepper] = {}
        self._said = ""
        self._make()

    @property
    def steppers(self) -> tuple[Stepper, ...]:
        """Long and wide in turn, for each kind."""
        return tuple(self._steppers.values())

    @property
    def head(self) -> str:
        """How long the sides are, where that is not plain; else nothing."""
        told = sides_with_kinds(self._stage.session.farm, self._stage.placing.choice.side_nets)
        if not told:
            return ""
        long, wide = (Quantity(length_mm(side) / 1000, "m") for side in told[:2])
        return self._stage.words(Text("Sides of {long} and {wide}", {"long": long, "wide": wide}))

    def show(self) -> None:
        """Show what the choice is now."""
        made, said = [*self._steppers] != self._keys(), self.head
        if made:
            self._make()
        if made or said != self._said:
            self._said = said
            self._changed()
        placing = self._stage.placing
        for (uid, wide), stepper in self._steppers.items():
            stepper.show_words(str(placing.count(uid or placing.kind_uid, wide=wide)))

    def _keys(self) -> list[Key]:
        if not self._stage.placing.mixed:
            return [("", False), ("", True)]
        kinds = sorted(self._stage.session.farm.net_kinds.values(), key=lambda kind: -kind.length_mm)
        return [(kind.uid, wide) for kind in kinds for wide in (False, True)]

    def _make(self) -> None:
        for stepper in self._steppers.values():
            stepper.hide()
            stepper.deleteLater()
        self._steppers = {key: self._stepper(*key) for key in self._keys()}

    def _stepper(self, uid: str, wide: bool) -> Stepper:
        stage = self._stage
        label = stage.say("Nets wide") if wide else stage.say("Nets long")
        kind = stage.session.farm.net_kinds.get(uid)
        if kind is not None:
            words = "{length} wide" if wide else "{length} long"
            label = stage.words(Text(words, {"length": Quantity(kind.length_m, "m")}))
        stepper = Stepper(stage, label, self._parent, asked=stage.say("none"))
        stepper.stepped.connect(lambda by: stage.placing.step(uid or stage.placing.kind_uid, by, wide=wide))
        stepper.typed.connect(lambda typed: self._type(uid, typed, wide=wide))
        stepper.show()
        return stepper

    def _type(self, uid: str, typed: str, *, wide: bool) -> None:
        """Take a number of this kind, or words for the whole side."""
        stage, placing = self._stage, self._stage.placing
        farm = stage.session.farm
        kind = farm.net_kinds.get(uid) or placing.kind(farm)
        if kind is None:
            return
        try:
            if typed.isdigit() and len(typed) <= 3:
                placing.step(kind.uid, int(typed) - placing.count(kind.uid, wide=wide), wide=wide)
            else:
                nets, across = side_typed(farm, typed, kind, stage.units)
                placing.tell_side(nets, across, wide=wide)
        except PigmapError as error:
            stage.notice(sentence(error), "refused")
        self.show()
