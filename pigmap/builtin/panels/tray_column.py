"""The tray in the column beside the map: everything below one another, what each paddock needs before the rest."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.builtin.panels.tray_choices import ChoiceButton
from pigmap.builtin.panels.tray_nets import all_nets_words
from pigmap.builtin.panels.tray_parts import Head, Laid, Parts
from pigmap.qt.paintwork import line_height, wrapped_height
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font

PAD = 20
GAP = 8
SNAP_GAP = 6


class Column:
    """Lays the parts in one column.

    Parameters
    ----------
    close
        Whether the column is low: what says itself has no heading then.
    """

    def __init__(self, stage: Stage, parts: Parts, width: int, *, close: bool = False) -> None:
        self._close = close
        self._stage = stage
        self._parts = parts
        self._wide = width - 2 * PAD
        self._label = line_height(font("second", stage)) + 4
        self._step_high = self._label + 46 * stage.text_scale
        self._heads: list[Head] = []

    def lay(self, hint: str) -> Laid:
        """Lay them out, with room for a hint at the foot."""
        stage, parts, wide = self._stage, self._parts, self._wide
        y = self._nets(parts.what.lay(PAD, 12, wide) + 10)
        y = y if self._close else self._head(y, stage.say("For"))
        y = self._stack([button for button in parts.groups if not button.isHidden()], y)
        if not parts.day.isHidden():
            parts.day.setGeometry(PAD, round(y), wide, round(self._step_high))
            y += self._step_high + 8
        needed = y
        if stage.session.farm.net_kinds:
            y = parts.ways.lay_deeds(PAD, y + 4, wide) + 10
        y = self._snaps(self._head(y, stage.say("Snap to"))) + 6
        if stage.session.farm.net_kinds:
            y = parts.stock.lay_folded(PAD, y, wide)
        high = y + 8 + wrapped_height(hint, font("second", stage), wide) + 16
        return Laid(high, tuple(self._heads), y + 8, needed)

    def _nets(self, y: float) -> float:
        """Lay what tells of nets; a farm without any is asked for them first."""
        stage, parts, wide = self._stage, self._parts, self._wide
        if not stage.session.farm.net_kinds:
            y = parts.stock.lay_own(PAD, y, wide)
            y = self._stack(parts.kinds, self._head(y, stage.say("How long are they?")))
            return parts.stock.lay_line(PAD, y, wide) + 14
        y = y if self._close else self._head(y, all_nets_words(stage))
        y = self._stack([each for each in parts.kinds if not each.isHidden()], y)
        y = parts.ways.lay_switches(PAD, y, wide) + 8
        half = (wide - 12) // 2
        steppers = [stepper for stepper in parts.sides.steppers if not stepper.isHidden()]
        if steppers and parts.sides.head:
            y = self._head(y, parts.sides.head)
        for at, stepper in enumerate(steppers):
            stepper.setGeometry(PAD + at % 2 * (half + 12), round(y), half, round(self._step_high))
            y += self._step_high + 8 if at % 2 else 0
        return y

    def _snaps(self, y: float) -> float:
        """Lay the switches side by side, each with room by the length of its word."""
        snaps, high = self._parts.snaps, round(40 * self._stage.text_scale)
        x, room = PAD, (self._wide - 2 * SNAP_GAP) / sum(button.sizeHint().width() for button in snaps)
        for button in snaps:
            each = int(button.sizeHint().width() * room)
            button.setGeometry(x, round(y), each, high)
            x += each + SNAP_GAP
        return y + high

    def _head(self, y: float, words: str) -> float:
        self._heads.append(Head(PAD, y, words))
        return y + self._label

    def _stack(self, buttons: Sequence[ChoiceButton], y: float) -> float:
        for button in buttons:
            high = button.sizeHint().height()
            button.setGeometry(PAD, round(y), self._wide, high)
            y += high + GAP
        return y
