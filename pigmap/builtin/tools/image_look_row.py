"""How one image of the list is shown: its bands as red, green and blue, and what is black and white."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.document.edits.image_look import show_image_as
from pigmap.errors import EditError, PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import Edit, Image
from pigmap.session.image_look import ImageHolds, image_holds

COLOURS = ("Red", "Green", "Blue")
HIGH = 36
"""Height of what is typed into or chosen from [px]."""


class ImageLookRow(QWidget):
    """Asks a worker what the file holds, then offers it; nothing changes before it is asked for.

    Parameters
    ----------
    jobs
        Work off the window's thread.
    ask
        Does an edit and says how it went.
    grown
        Called when it takes another height.
    """

    def __init__(
        self, stage: Stage, image: Image, jobs: Jobs, ask: Callable[[Edit], None], grown: Callable[[], None]
    ) -> None:
        super().__init__()
        self.stage, self.image = stage, image
        self._jobs, self._ask, self._grown = jobs, ask, grown
        self.bands: list[ChoiceBox] = []
        self.black, self.white = self._line(stage.say("Black at")), self._line(stage.say("White at"))
        self.said = self._words(stage.say("The file is being looked at."))
        self.said.setWordWrap(True)
        self.show_so = WordButton(stage, stage.say("Show it so"), "plain", self)
        self.as_it_is = WordButton(stage, stage.say("As the file says"), "link", self)
        self._colours, self._values = QGridLayout(), QGridLayout()
        self._lay_out()
        self.show_so.clicked.connect(self._take)
        self.as_it_is.clicked.connect(lambda: self._do(show_image_as(image.uid)))
        self._open()

    def _lay_out(self) -> None:
        for at, line in enumerate((self.black, self.white)):
            self._values.addWidget(self._words(line.accessibleName()), 0, at)
            self._values.addWidget(line, 1, at)
        deeds = QHBoxLayout()
        deeds.setSpacing(8)
        deeds.addWidget(self.show_so)
        deeds.addWidget(self.as_it_is)
        deeds.addStretch(1)
        self._rows = rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 8)
        rows.setSpacing(6)
        for grid in (self._colours, self._values):
            grid.setHorizontalSpacing(8)
            grid.setVerticalSpacing(2)
            rows.addLayout(grid)
        rows.addWidget(self.said)
        rows.addLayout(deeds)

    def _line(self, called: str) -> KeptKeysLine:
        line = KeptKeysLine(self)
        line.setAccessibleName(called)
        line.setFont(font("second", self.stage))
        line.setFixedHeight(round(HIGH * self.stage.text_scale))
        line.returnPressed.connect(self._take)
        return line

    def _words(self, words: str) -> QLabel:
        label = QLabel(words, self)
        label.setFont(font("second", self.stage))
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setStyleSheet(f"color: {tokens(self.stage).ink2}; background: transparent;")
        return label

    # What the file holds

    def _open(self) -> None:
        session, uid = self.stage.session, self.image.uid
        job = self._jobs.run(lambda progress, stop: image_holds(session, uid))
        job.done.connect(self._opened)
        job.failed.connect(self._refused)

    def _opened(self, holds: object) -> None:
        if not isinstance(holds, ImageHolds):
            return
        self._say("")
        if holds.palette:
            self._say(self.stage.say("Its colours are those of its own palette."))
            self._still()
            return
        self._offer_bands(holds)
        self._offer_values(holds)
        self._grow()

    def _refused(self, why: object) -> None:
        """Say why it cannot be shown; what was chosen before can still be taken back."""
        self._say(self.stage.words(sentence(why)) if isinstance(why, PigmapError) else "")
        self._still()

    def _still(self) -> None:
        for part in (self.black, self.white, self.show_so):
            part.setEnabled(False)

    def _offer_bands(self, holds: ImageHolds) -> None:
        if holds.bands < 2:
            return
        for at, called in enumerate(COLOURS):
            words = self.stage.say(called)
            box = ChoiceBox(self.stage, self)
            box.setFont(font("second", self.stage))
            box.setAccessibleName(words)
            box.setFixedHeight(round(HIGH * self.stage.text_scale))
            for band in range(1, holds.bands + 1):
                box.addItem(self.stage.say("band {number}", number=band), band)
            box.setCurrentIndex(box.findData(holds.shown[at]))
            for row, part in enumerate((self._words(words), box)):
                self._colours.addWidget(part, row, at)
                part.show()  # else it takes no room yet
            self.bands.append(box)

    def _offer_values(self, holds: ImageHolds) -> None:
        chosen = self.image.darkest, self.image.brightest
        for line, own, value in zip((self.black, self.white), chosen, (holds.black, holds.white), strict=True):
            line.setPlaceholderText(self.stage.say("found: {value}", value=f"{value:.6g}"))
            line.setText("" if own is None else f"{own:.6g}")

    # What is chosen

    def _take(self) -> None:
        try:
            bands = tuple(int(box.currentData()) for box in self.bands)
            one = bands[:1] if len(set(bands)) == 1 else bands
            edit = show_image_as(
                self.image.uid,
                bands=one,
                darkest=_typed(self.black),
                brightest=_typed(self.white),
            )
        except EditError as why:
            self._say(self.stage.words(sentence(why)))
            return
        self._do(edit)

    def _do(self, edit: Edit) -> None:
        self._say("")
        self._ask(edit)

    def _say(self, words: str) -> None:
        self.said.setText(words)
        self.said.setVisible(bool(words))
        self._grow()

    def _grow(self) -> None:
        """Ask for the height that it takes with all that is in it now."""
        self._rows.activate()
        self.setFixedHeight(self._rows.minimumSize().height())
        self._grown()


def _typed(line: KeptKeysLine) -> float | None:
    words = line.text().strip().replace(",", ".")
    if not words:
        return None
    try:
        return float(words)
    except ValueError:
        raise EditError(
            "{what} {typed}: that is no number.",
            remedy="Give a value of the image, or leave it empty.",
            what=line.accessibleName(),
            typed=line.text().strip(),
        ) from None
