"""The plate while a paddock is put where it really stands: which, how far off, what follows, and what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.over_map import TOOL_PLATE
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens
from pigmap.text import Quantity, Text, Value

WIDE_PX = 300
MARGIN_PX = 12
PAD = 14
MOST_NOTES = 3
FINE: dict[str, Value] = {"fine": Quantity(1.0, "m", 0)}


class HerePlate(MapPlate):
    """Lies over the map's upper left corner.

    Parameters
    ----------
    settle
        Called when it is said to stand here.
    drop
        Called when it is to be as it was.
    """

    def __init__(self, stage: Stage, parent: QWidget, settle: Callable[[], None], drop: Callable[[], None]) -> None:
        super().__init__(stage, parent)
        self._heading = self._label("heading", "ink")
        self._hint = self._label("second", "ink2")
        self._moved = self._label("strong", "ink")
        self._follows = self._label("second", "plan")
        self._notes = self._label("second", "warn")
        self._settle = WordButton(stage, stage.say("It stands here"), "plain", self)
        self._drop = WordButton(stage, stage.say("As it was"), "plain", self)
        self._settle.clicked.connect(settle)
        self._drop.clicked.connect(drop)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(*(SHADOW + PAD,) * 4)
        rows.setSpacing(8)
        for label in self._labels:
            rows.addWidget(label)
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        buttons.addWidget(self._settle)
        buttons.addWidget(self._drop)
        rows.addLayout(buttons)
        self.setFixedWidth(round(WIDE_PX * stage.text_scale) + 2 * SHADOW)
        self.move(MARGIN_PX - SHADOW, MARGIN_PX - SHADOW)
        self.setProperty(TOOL_PLATE, True)

        for before, after in pairwise((parent, self._settle, self._drop)):
            QWidget.setTabOrder(before, after)

    @property
    def _labels(self) -> tuple[QLabel, ...]:
        return self._heading, self._hint, self._moved, self._follows, self._notes

    def _label(self, role: Role, colour: str) -> QLabel:
        label = QLabel("", self, wordWrap=True)
        label.setFont(font(role, self.stage))
        theme = tokens(self.stage)
        ground = f"background: {theme.warnbg}; padding: 8px; border-radius: 6px;" if colour == "warn" else ""
        label.setStyleSheet(f"color: {getattr(theme, colour)}; {ground}")
        return label

    def show_ground(self, name: str, moved: Text | None, corner: int | None, follows: Text | None) -> None:
        """Show how far it has come, and what would follow.

        Parameters
        ----------
        name
            What the paddock is called; empty where none is chosen yet.
        moved
            How far it is from where it was, None where it is not.
        corner
            The corner that keys move, None for the whole.
        follows
            What is planned and follows, if anything.
        """
        stage = self.stage
        heading = (
            stage.say("Where does {name} really stand?", name=name) if name else stage.say("Where it really stands")
        )
        self.setAccessibleName(heading)
        self._say(self._heading, heading)
        self._say(self._hint, stage.words(_hint(name, corner)))
        self._say(self._moved, stage.words(moved) if moved is not None else "")
        self._say(self._follows, stage.words(follows) if follows is not None else "")
        self._settle.setEnabled(moved is not None)
        self._drop.setEnabled(moved is not None)
        self._settle.setVisible(bool(name))
        self._drop.setVisible(bool(name))
        self._fit()

    def show_notes(self, notes: Sequence[Text]) -> None:
        """Show what comes of it that is out of the ordinary: it is no hindrance."""
        said = [self.stage.words(note) for note in notes[:MOST_NOTES]]
        if len(notes) > MOST_NOTES:
            said.append(self.stage.say("and {count} more", count=len(notes) - MOST_NOTES))
        self._say(self._notes, "\n".join(said))
        self._fit()

    def _say(self, label: QLabel, words: str) -> None:
        label.setText(words)
        label.setVisible(bool(words))

    def _fit(self) -> None:
        spoken = [label.text() for label in self._labels[1:] if label.text()]
        self.setAccessibleDescription(" ".join(spoken))
        self.adjustSize()
        self.updateGeometry()  # key and message keep off it


def _hint(name: str, corner: int | None) -> Text:
    if not name:
        return Text("Click a paddock with pigs in it.")
    if corner is not None:
        return Text("Arrows step this corner by a post, with Shift by {fine}. N goes on to the next corner.", FINE)
    return Text(
        "Drag it, or one of its corners. Arrows step it by a post, with Shift by {fine}; Q and E turn it; N takes a "
        "corner; T types how far.",
        FINE,
    )
