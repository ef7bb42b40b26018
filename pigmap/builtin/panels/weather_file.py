"""Weather from a file, in the plate for rain: the file is read by a worker, and its columns are told where need be."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.errors import PigmapError, RecordError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Farm
from pigmap.session.brought_weather import FileTold, read_weather, said_of, told_of, weather_taken
from pigmap.text import Text
from pigmap.weather.daily_columns import WORDS, Told
from pigmap.weather.daily_file import DailyFile, head_of_file

ASKED: tuple[tuple[str, Text], ...] = (
    ("date", Text("Date")),
    ("rain", Text("Rain")),
    ("tmin", Text("Lowest temperature")),
    ("tmax", Text("Highest temperature")),
)
UNITS: tuple[tuple[Told, Text], ...] = (
    ("", Text("as its first row says")),
    ("metric", Text("millimetres and °C")),
    ("us", Text("inches and °F")),
)


TARGET = 40
"""Height of a list [px]."""


class WeatherFile(QWidget):
    """One button; where a file cannot be read as it is, lists to say which column holds what."""

    grown = Signal()
    """Its height may have changed."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self.jobs, self._asker = Jobs(self), Asker(stage, self)
        self._path: Path | None = None
        self._told: FileTold | None = None
        self.bring = WordButton(stage, stage.say("Weather from a file"), "plain", self)
        self.said = Words(stage, "second", self, "", "ink2")
        self.lists = QWidget(self)
        self.columns = {word: self._list(words) for word, words in ASKED}
        self.units = self._list(Text("Units"))
        self.again = WordButton(stage, stage.say("Read it so"), "plain", self.lists)
        self.leave = WordButton(stage, stage.say("Leave it"), "plain", self.lists)
        self._lay()
        self.bring.clicked.connect(self._choose)
        self.again.clicked.connect(self._take_again)
        self.leave.clicked.connect(self._leave)
        self.lists.hide()

    def _list(self, words: Text) -> ChoiceBox:
        box = ChoiceBox(self.stage, self.lists)
        box.setAccessibleName(self.stage.words(words))
        box.setFont(font("body", self.stage))
        return box

    def _lay(self) -> None:
        inner = QGridLayout(self.lists)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(6)
        inner.setColumnStretch(1, 1)
        high = round(TARGET * self.stage.text_scale)
        for row, box in enumerate((*self.columns.values(), self.units)):
            label = QLabel(box.accessibleName(), self.lists)
            label.setFont(font("second", self.stage))
            label.setBuddy(box)
            box.setFixedHeight(high)
            inner.addWidget(label, row, 0)
            inner.addWidget(box, row, 1)
        buttons = QHBoxLayout()
        for button in (self.again, self.leave):
            button.setFixedHeight(high)
            buttons.addWidget(button, 1)
        inner.addLayout(buttons, len(self.columns) + 1, 0, 1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        for widget in (self.bring, self.said, self.lists):
            column.addWidget(widget)

    def renew(self) -> None:
        """Begin with no file."""
        self.said.say("")
        self.lists.hide()

    def _leave(self) -> None:
        self.renew()
        self.grown.emit()

    def _choose(self) -> None:
        stage = self.stage
        ends = "*.csv *.txt *.tsv *.wth *.dat"
        kinds = ";;".join(
            [stage.say("Tables of daily weather ({ends})", ends=ends), stage.say("All files ({ends})", ends="*")]
        )
        chosen = self.choose_file(self, stage.say("A file of daily weather"), kinds)
        if chosen:
            self.take_file(Path(chosen))

    def take_file(self, path: Path, told: FileTold | None = None) -> None:
        """Read a file in a worker, and take its days in."""
        self._path, self._told = path, told
        self._say(self.stage.say("The file is being read."))
        self.bring.setEnabled(False)
        farm = self.stage.session.farm
        job = self.jobs.run(lambda progress, stop: _read(farm, path, told))
        job.done.connect(self._taken)
        job.failed.connect(self._refused)

    def _taken(self, read: DailyFile) -> None:
        stage, edit = self.stage, weather_taken(read, self._told)
        self.bring.setEnabled(True)

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                stage.notice(sentence(error), "refused")
            elif error is None:
                stage.notice(edit.label, "done", "undo")

        self.lists.hide()
        self._say(" ".join(stage.words(words) for words in said_of(read)))
        self._asker.ask(edit, ended)

    def _refused(self, why: object) -> None:
        """Say what is wrong; where the file is a table, its columns can be told."""
        self.bring.setEnabled(True)
        if isinstance(why, PigmapError):
            self._offer_columns()
            self._say(self.stage.words(sentence(why)))

    def _offer_columns(self) -> None:
        try:
            names = head_of_file(self._path) if self._path is not None else ()
            told = told_of(self.stage.session.farm, self._path) if self._path is not None else FileTold()
        except RecordError:
            self.lists.hide()
            return
        for word, box in self.columns.items():
            box.clear()
            box.addItem(self.stage.say("by its name, or none"), "")
            for name in names:
                box.addItem(name, name)
            box.setCurrentIndex(max(box.findData(told.columns.get(word, "")), 0))
        self.units.clear()
        for units, words in UNITS:
            self.units.addItem(self.stage.words(words), units)
        self.units.setCurrentIndex(max(self.units.findData(told.units), 0))
        self.lists.show()

    def _take_again(self) -> None:
        columns = {word: str(box.currentData()) for word, box in self.columns.items() if box.currentData()}
        if self._path is not None:
            self.take_file(self._path, FileTold(columns, self.units.currentData() or ""))

    def _say(self, words: str) -> None:
        self.said.say(words)
        self.grown.emit()


def _read(farm: Farm, path: Path, told: FileTold | None) -> DailyFile:
    return read_weather(farm, path, told)


assert {word for word, _ in ASKED} <= set(WORDS)
