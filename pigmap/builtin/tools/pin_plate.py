"""The plate beside a picture that is being pinned: its file, its pins as they are typed, and how well it fits."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.tools.image_rows import ImageRows
from pigmap.errors import PigmapError
from pigmap.geometry.pinned import Fit, Pin
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.pinning import Pinning
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens
from pigmap.records import Image
from pigmap.session.brought_images import shown_name
from pigmap.session.pinned_words import fit_words, metres_off
from pigmap.text import Text

WIDE_PX = 372
MARGIN = 12 - SHADOW
PAD = 12 + SHADOW


class PinPlate(MapPlate):
    """Lies over the map's upper left corner while a picture is pinned.

    Parameters
    ----------
    typed
        Called with the number of a pin (counted from 0) and what was typed; returns whether it was understood.
    """

    choose_asked = Signal()
    keep_asked = Signal()
    again_asked = Signal(object)
    """An image (its row) that was pinned before is to be pinned anew."""

    def __init__(self, stage: Stage, parent: QWidget, pinning: Pinning, typed: Callable[[int, str], bool]) -> None:
        super().__init__(stage, parent)
        self._over, self._pinning, self._typed = parent, pinning, typed
        self.head, self.file = self._label("heading", "ink"), self._label("second", "ink2")
        self.said, self.hint = self._label("body", "ink"), self._label("second", "ink2")
        self.asked = self._label("body", "ink")
        self.choose = WordButton(stage, stage.say("Choose the picture"), "plain", self)
        self.go_on = WordButton(stage, stage.say("It shows a map (Enter)"), "plain", self)
        self.keep = WordButton(stage, stage.say("Keep it so (Enter)"), "plain", self)
        self.again: list[WordButton] = []
        self.lines: list[PinLine] = []
        self.images = ImageRows(stage, self)
        self.choose.clicked.connect(self.choose_asked)
        self.go_on.clicked.connect(pinning.go_on)
        self.keep.clicked.connect(self.keep_asked)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(4)
        self._lay_out()
        self._offer_again()
        pinning.changed.connect(self.renew)
        self.images.changed.connect(self._fit)
        self.images.unplaced.connect(pinning.open)
        parent.installEventFilter(self)
        self.setAccessibleName(stage.say("Pin a picture"))
        self.renew()

    def _label(self, role: Role, colour: str) -> QLabel:
        label = QLabel(self)
        label.setFont(font(role, self.stage))
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setStyleSheet(f"color: {getattr(tokens(self.stage), colour)}; background: transparent;")
        return label

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(PAD, PAD, PAD, PAD)
        column.setSpacing(8)
        self.head.setText(self.stage.say("Pin a picture"))
        column.addWidget(self.head)
        column.addWidget(self.file)
        column.addWidget(self.asked)
        column.addWidget(self.go_on)
        column.addWidget(self.choose)
        self._again_at = QVBoxLayout()
        column.addLayout(self._again_at)
        column.addLayout(self._rows)
        for widget in (self.said, self.keep, self.hint, self.images):
            column.addWidget(widget)

    def _offer_again(self) -> None:
        """Offer the pictures that were pinned before."""
        images = sorted(self.stage.session.farm.images.values(), key=lambda image: image.position)
        for image in images:
            if image.pins:
                self._again_at.addWidget(self._again_button(image))

    def _again_button(self, image: Image) -> WordButton:
        button = WordButton(self.stage, self.stage.say("Move the pins of {name}", name=image.name), "plain", self)
        button.clicked.connect(lambda: self.again_asked.emit(image))
        self.again.append(button)
        return button

    def renew(self) -> None:
        """Say how it stands."""
        pinning, stage = self._pinning, self.stage
        doubted = pinning.doubted
        there = pinning.path is not None or doubted is not None
        self.file.setText(shown_name(pinning.path) if pinning.path is not None else "")
        self.asked.setText(stage.words(_doubt(shown_name(doubted.path))) if doubted is not None else "")
        self.go_on.setVisible(doubted is not None)
        self.choose.setText(stage.say("Choose another picture") if there else stage.say("Choose the picture"))
        self.choose.setAccessibleName(self.choose.text())
        for button in self.again:
            button.setVisible(not there)
        self.images.setVisible(not there)
        fit, words = self._how_it_fits()
        self._show_lines(fit)
        self.said.setText(words)
        self.keep.setVisible(fit is not None)
        self.hint.setText(stage.words(self._hint()) if doubted is None else "")
        for label in (self.file, self.asked, self.said, self.hint):
            label.setVisible(bool(label.text()))
        self._fit()

    def _how_it_fits(self) -> tuple[Fit | None, str]:
        pinning, stage = self._pinning, self.stage
        if pinning.reading:
            return None, stage.say("The picture is being read.")
        if pinning.refused is not None:
            return None, stage.words(sentence(pinning.refused))
        if pinning.path is None:
            return None, ""
        try:
            fit = pinning.fit()
        except PigmapError as error:
            return None, stage.words(sentence(error)) if pinning.pins else ""
        return fit, stage.words(fit_words(pinning.pins, fit))

    def _hint(self) -> Text:
        pinning = self._pinning
        if pinning.path is None:
            return Text(
                "A scan or a photo of a map, taken straight from above. At three points or more you say where it lies."
            )
        if pinning.spot is not None:
            return Text("Now click its place on the map, or type it: the pair of numbers from the phone, or E and N.")
        return Text(
            "Click a point on the picture, then its place on the map; or drag it there. Drag a cross to move a place, "
            "a ring (or Shift) to move the point. Backspace takes one back."
        )

    def _show_lines(self, fit: Fit | None) -> None:
        pinning = self._pinning
        wanted = len(pinning.pins) + 1 if pinning.path is not None else 0
        while len(self.lines) > wanted:
            line = self.lines.pop()
            line.hide()
            line.deleteLater()
        while len(self.lines) < wanted:
            line = PinLine(self.stage, self, len(self.lines), self._typed, self._leave)
            self._rows.addWidget(line)
            line.show()
            self.lines.append(line)
        for number, line in enumerate(self.lines):
            pin = pinning.pins[number] if number < len(pinning.pins) else None
            off = fit.off_m[number] if fit is not None and pin is not None and len(pinning.pins) > 3 else None
            line.show_pin(pin, off)

    def _leave(self) -> None:
        self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    # Its room

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep within the map."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        return False

    def _fit(self) -> None:
        wide = min(round(WIDE_PX * self.stage.text_scale) + 2 * SHADOW, max(220, self._over.width() - 2 * MARGIN))
        self.setFixedWidth(wide)
        layout = self.layout()
        if layout is not None:
            layout.invalidate()
            high = layout.heightForWidth(wide)
            self.setGeometry(MARGIN, MARGIN, wide, min(high, self._over.height() - 2 * MARGIN))


def _doubt(name: str) -> Text:
    return Text(
        "{name} looks like a photo taken standing, not like a map or a scan: it tells of the camera. A view of the "
        "field cannot lie on the map. A photo of a paper map can, and so can one taken from straight above.",
        {"name": name},
    )


class PinLine(QWidget):
    """One pin: its number, what is typed of it, and how far it is off."""

    def __init__(
        self,
        stage: Stage,
        parent: QWidget,
        number: int,
        typed: Callable[[int, str], bool],
        leave: Callable[[], None],
    ) -> None:
        super().__init__(parent)
        self.stage, self._number, self._typed = stage, number, typed
        self.number, self.off = QLabel(str(number + 1), self), QLabel(self)
        self.line = _Line(self, leave)
        for label in (self.number, self.off):
            label.setFont(font("second", stage))
            label.setStyleSheet(f"color: {tokens(stage).ink2}; background: transparent;")
        self.off.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.line.setFont(font("second", stage))
        self.line.setAccessibleName(stage.say("Pin {number}: point of the picture, then its place", number=number + 1))
        self.line.returnPressed.connect(self._take)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(self.number)
        row.addWidget(self.line, 1)
        row.addWidget(self.off)

    def show_pin(self, pin: Pin | None, off_m: float | None) -> None:
        """Show a pin, or an empty line for the next."""
        if not self.line.isModified() or not self.line.hasFocus():
            self.line.setText(pin_words(pin) if pin is not None else "")
            self.line.setCursorPosition(0)
        self.line.setPlaceholderText(self.stage.say("120 340 at E 500 N 300"))
        self.off.setText(self.stage.say("{off} off", off=metres_off(off_m)) if off_m is not None else "")
        self.off.setVisible(off_m is not None)

    def _take(self) -> None:
        if self._typed(self._number, self.line.text().strip()):
            self.line.setModified(False)


class _Line(KeptKeysLine):
    """Leaves the line on Esc and keeps every other key."""

    def __init__(self, parent: QWidget, leave: Callable[[], None]) -> None:
        super().__init__(parent)
        self._leave = leave

    def escape(self, event: QKeyEvent) -> None:
        """Give the keys back to the map."""
        self._leave()


def pin_words(pin: Pin) -> str:
    """Return a pin as it is typed."""
    return f"{pin.column:.0f} {pin.row:.0f} at E {pin.east_m:.1f} N {pin.north_m:.1f}"
