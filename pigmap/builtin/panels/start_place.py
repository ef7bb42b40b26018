"""Where a new farm is: said later, typed as a phone shows it, or read from a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.errors import RecordError, UsageError
from pigmap.geometry.typed_place import EXAMPLE, TypedPlace, typed_place
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.session.brought import IMAGE_SUFFIXES, outline_suffixes
from pigmap.session.brought_images import address_of, typed_image
from pigmap.text import Text

WAYS = {"later": Text("Later"), "typed": Text("Type it"), "file": Text("From a file")}

SAID_LINES = 3
"""Lines kept free for what is said of the place."""


class PlaceChoice(QWidget):
    """Three ways, and what each asks for.

    Parameters
    ----------
    only
        The one way there is, which then needs no choosing.
    """

    changed = Signal()

    def __init__(self, stage: Stage, parent: QWidget, *, only: str = "") -> None:
        super().__init__(parent)
        self.stage = stage
        self._only = only
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self.file: Path | None = None
        self._longitude_first = self._refused = False
        self._ways = QButtonGroup(self)
        self.buttons = {name: WordButton(stage, stage.words(words), "switch", self) for name, words in WAYS.items()}
        self.choose = WordButton(stage, stage.say("Choose the file"), "plain", self)
        self._file_words = Words(stage, "body", self)
        self.address = FormLine(stage, stage.say("Address of an image on the web"), self)
        self.address.setPlaceholderText(stage.say("or its address on the web: https://..."))
        called = stage.say("Place, as the phone shows it")
        self.line = FormLine(stage, called, self, stage.say("such as {example}", example=EXAMPLE))
        self._line_words = Words(stage, "second", self, called, "ink2")
        self.read_back = Words(stage, "second", self)
        self.turn = WordButton(stage, stage.say("The other way round"), "link", self)
        self._note = Words(stage, "second", self, "", "ink2")
        self._lay()
        self.choose.clicked.connect(self._choose)
        self.turn.clicked.connect(self._turn)
        self.buttons["typed"].clicked.connect(self._go_to_line)
        self.line.textChanged.connect(self._typed)
        self.address.textChanged.connect(self.changed)
        self._ways.buttonToggled.connect(self._show_way)
        self.buttons[only or "later"].setChecked(True)

    def _lay(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        for button in self.buttons.values():
            self._ways.addButton(button)
            button.setVisible(not self._only)
            row.addWidget(button)
        row.addStretch()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(row)
        file_row = QHBoxLayout()
        file_row.setSpacing(10)
        file_row.addWidget(self.choose)
        file_row.addWidget(self._file_words, 1)
        column.addLayout(file_row)
        for widget in (self.address, self._line_words, self.line):
            column.addWidget(widget)
        column.addWidget(self._kept_room())

    def _kept_room(self) -> QWidget:
        """Return what is said of the place, or what it asks for, in a room that stays: no button moves meanwhile."""
        room = QWidget(self)
        back = QHBoxLayout()
        back.addWidget(self.read_back, 1)
        back.addWidget(self.turn)
        said = QVBoxLayout(room)
        said.setContentsMargins(0, 0, 0, 0)
        said.setSpacing(0)
        said.addLayout(back)
        said.addWidget(self._note)
        said.addStretch()
        room.setMinimumHeight(round(SAID_LINES * line_height(font("second", self.stage))) + 4)
        return room

    @property
    def way(self) -> str:
        """``later``, ``typed`` or ``file``."""
        return next(name for name, button in self.buttons.items() if button.isChecked())

    def take_file(self, file: Path) -> None:
        """Take a file as if it had been chosen, or an address as if it had been typed."""
        self.buttons["file"].setChecked(True)
        self.address.setText(address_of(file))
        self.file = None if address_of(file) else file
        self._file_words.say(self.file.name if self.file is not None else "")
        self.changed.emit()

    def brought(self) -> Path | None:
        """Return the file that was chosen or whose address was typed; None where the place comes another way.

        Raises
        ------
        UsageError
            If neither was, or what was typed is no address of an image.
        """
        if self.way != "file":
            return None
        if self.address.text().strip():
            return typed_image(self.address.text(), outline_suffixes(self.stage.session.registry))
        if self.file is None:
            raise UsageError(
                "No file is chosen yet.",
                remedy="Choose it, or say with {later} that the place comes later.",
                later=self.buttons["later"].text(),
            )
        return self.file

    def place(self) -> TypedPlace | None:
        """Return the place that was typed; None where none was.

        Raises
        ------
        RecordError
            If it does not read as a place; that is then told in red where the place is read back.
        UsageError
            If it was to be typed and was not.
        """
        typed = self.line.text().strip()
        if self.way == "later" or (self.way == "file" and not typed):
            return None
        if not typed:
            remedy = "Type it as the phone shows it, such as {example}"
            later = "." if self._only else ", or say with {later} that it comes later."
            name = self.buttons["later"].text()
            raise UsageError("No place is typed yet.", remedy=remedy + later, example=EXAMPLE, later=name)
        try:
            return typed_place(typed, longitude_first=self._longitude_first)
        except RecordError:
            self._refused = True
            self._show_read_back()
            raise

    def understood(self) -> TypedPlace | None:
        """Return the place that is typed, as far as it is one; None while nothing is.

        Raises
        ------
        RecordError
            If it does not read as a place.
        """
        typed = self.line.text().strip()
        return typed_place(typed, longitude_first=self._longitude_first) if typed else None

    def _choose(self) -> None:
        outlines = " ".join(f"*{suffix}" for suffix in outline_suffixes(self.stage.session.registry))
        images = " ".join(f"*{suffix}" for suffix in IMAGE_SUFFIXES)
        kinds = ";;".join(
            [
                self.stage.say("Outlines and aerial images ({ends})", ends=f"{outlines} {images}"),
                self.stage.say("All files ({ends})", ends="*"),
            ]
        )
        chosen = self.choose_file(self, self.stage.say("A file of outlines, or an aerial image"), kinds)
        if chosen:
            self.take_file(Path(chosen))

    def _go_to_line(self) -> None:
        """Give the line the keys: what is typed next is the place."""
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def _turn(self) -> None:
        self._longitude_first = not self._longitude_first
        self._show_read_back()
        self.changed.emit()

    def _typed(self) -> None:
        self._longitude_first = self._refused = False
        self._show_read_back()
        self.changed.emit()

    def _show_read_back(self) -> None:
        """Say what was understood of what is typed; what is asked for stands there until something is."""
        typed, asked = self.line.text().strip(), self.way != "later"
        self.turn.hide()
        self.read_back.say("")
        self.read_back.colour("no" if self._refused else "ink")
        self._note.say("" if self._only or (typed and asked) else self.stage.words(NOTES[self.way]))
        if not typed or not asked:
            return
        try:
            place = typed_place(typed, longitude_first=self._longitude_first)
        except RecordError as error:
            self.read_back.say(self.stage.words(sentence(error)))
            return
        self.read_back.say(self.stage.words(place.words))
        self.turn.setVisible(place.both_ways)

    def _show_way(self) -> None:
        way = next((name for name, button in self.buttons.items() if button.isChecked()), "later")
        self.choose.setVisible(way == "file")
        self._file_words.setVisible(way == "file" and self.file is not None)
        self.address.setVisible(way == "file")
        self.line.setVisible(way != "later")
        words = Text("Only what lies within 1 km of this place; may stay empty")
        called = self.stage.words(words) if way == "file" else self.stage.say("Place, as the phone shows it")
        self._line_words.say(called if way != "later" else "")
        self.line.setAccessibleName(called)
        self._show_read_back()
        self.changed.emit()


NOTES = {
    "later": Text("The farm begins on an empty grid, with no place on the map of the world."),
    "typed": Text("Read it off the phone while you stand in the yard."),
    "file": Text("A boundary walked with the phone, a parcel file or an aerial image."),
}
