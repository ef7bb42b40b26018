"""The ways to place in the tray: rectangles of whole nets or free corners, a row that fills, an old paddock again."""

from __future__ import annotations

from PySide6.QtWidgets import QButtonGroup, QWidget

from pigmap.builtin.panels.tray_sides import SidesInNets
from pigmap.qt.buttons import Look, WordButton
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.text import Text

GAP = 6
LEAST_PAD = 10
"""Room beside the words of a button, at least [px]."""


class WaysToPlace:
    """Two switches, of which one stays on until the other is pressed, and two deeds that the next click does.

    Parameters
    ----------
    stage, parent
        Where they stand.
    sides
        Sides in nets, which a rectangle alone has.
    """

    def __init__(self, stage: Stage, parent: QWidget, sides: SidesInNets) -> None:
        self._stage = stage
        self._sides = sides
        self._parent = parent
        self.nets = self._button("Whole nets", "Whole nets, a rectangle (K)", "switch")
        self.free = self._button("Free corners", "Free corners, set one by one (K)", "switch")
        self.row = self._button("Fill a row", "Fill a row from where you click (R)", "plain")
        self.again = self._button("Place again", "Place again the old paddock that you click (A)", "plain")
        self.mix = self._button("Mix lengths", "Nets of more than one length on a side (L)", "toggle")
        self.mix.clicked.connect(lambda: stage.placing.mix(self.mix.isChecked()))
        self._both = QButtonGroup(parent)
        for switch in (self.nets, self.free):
            self._both.addButton(switch)
        self.nets.clicked.connect(lambda: stage.placing.choose(free=False, reshape_uid=""))
        self.free.clicked.connect(lambda: stage.placing.choose(free=True, reshape_uid=""))
        self.row.clicked.connect(lambda: stage.placing.asked.emit("row"))
        self.again.clicked.connect(lambda: stage.placing.asked.emit("again"))

    def _button(self, words: str, spoken: str, look: Look) -> WordButton:
        button = WordButton(self._stage, self._stage.say(words), look, self._parent)
        button.setAccessibleName(self._stage.say(spoken))
        button.setToolTip(self._stage.say(spoken))
        return button

    @property
    def hint(self) -> Text:
        """How it is done, in a few words."""
        choice = self._stage.placing.choice
        if choice.reshape_uid:
            return Text("Drag its corners, or a side by its middle. Enter sets it. Esc ends.")
        if choice.free:
            return Text("Click its corners; the first one again closes. Backspace takes one back. Esc ends.")
        return Text("Click sets it. Drag on lays a row. Q and E turn. Esc ends.")

    @property
    def switches(self) -> tuple[WordButton, WordButton]:
        """Whole nets, free corners."""
        return self.nets, self.free

    @property
    def deeds(self) -> tuple[WordButton, ...]:
        """Fill a row, place again; a row is laid of rectangles alone."""
        return (self.again,) if self._stage.placing.choice.by_corners else (self.row, self.again)

    @property
    def more(self) -> tuple[WordButton, ...]:
        """Mixing of lengths, where there are several and a rectangle is placed."""
        several = len(self._stage.session.farm.net_kinds) > 1
        return (self.mix,) if several and not self._stage.placing.choice.by_corners else ()

    def show(self, *, folded: bool) -> bool:
        """Show which is on, and what goes with it; return whether sides in nets came or went.

        Parameters
        ----------
        folded
            Whether only what is needed at every paddock is shown.
        """
        free, nets = self._stage.placing.choice.by_corners, bool(self._stage.session.farm.net_kinds)
        shown, turned = nets and not folded, self._sides.steppers[0].isHidden() != (free or not nets)
        for stepper in self._sides.steppers:
            stepper.setVisible(nets and not free)
        (self.free if free else self.nets).setChecked(True)
        for each in (*self.switches, self.again):
            each.setVisible(shown)
        self.row.setVisible(shown and not free)
        self.mix.setVisible(shown and bool(self.more))
        self.mix.setChecked(self._stage.placing.mixed)
        return turned

    def lay_switches(self, x: int, y: float, wide: int) -> float:
        """Lay the switches side by side, or one under the other where their words have no room; return their end."""
        return self._lay(self.switches, x, y, wide)

    def lay_deeds(self, x: int, y: float, wide: int) -> float:
        """Lay the deeds likewise, and mixing below them."""
        y = self._lay(self.deeds, x, y, wide)
        return self._lay(self.more, x, y + GAP, wide) if self.more else y

    def _lay(self, buttons: tuple[WordButton, ...], x: int, y: float, wide: int) -> float:
        high, face = round(36 * self._stage.text_scale), font("strong", self._stage)
        each = (wide - GAP * (len(buttons) - 1)) // len(buttons)
        if any(breadth(button.text(), face) + LEAST_PAD > each for button in buttons):
            for button in buttons:
                button.setGeometry(x, round(y), wide, high)
                y += high + GAP
            return y - GAP
        for at, button in enumerate(buttons):
            button.setGeometry(x + at * (each + GAP), round(y), each, high)
        return y + high
