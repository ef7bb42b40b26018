"""History: what was done to the farm, newest first, and taking back to a line of it."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QListView, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.drawing.words import day_words
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import ChangeSet
from pigmap.session.history import HistoryEntry, steps_back
from pigmap.text import Text

HIGH = 360
_ROOT = QModelIndex()


class Lines(QAbstractListModel):
    """Entries as sentences, made when they come in sight."""

    def __init__(self, stage: Stage, entries: list[HistoryEntry]) -> None:
        super().__init__()
        self.stage = stage
        self.entries = entries

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = _ROOT) -> int:
        """Return how many there are."""
        return len(self.entries)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return one as a sentence."""
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return None
        return line_of(self.stage, self.entries[index.row()])


def line_of(stage: Stage, entry: HistoryEntry) -> str:
    """Return an entry as a sentence: when, who, what."""
    at = entry.made_at.astimezone()
    day = stage.say("today") if at.date() == stage.today else day_words(at.date(), "short", language=stage.language)
    return stage.say(
        "{day} {hour}, {who}: {what}",
        day=day[:1].upper() + day[1:],
        hour=_hour(at),
        who=entry.made_by or stage.say("another program"),
        what=stage.words(entry.label),
    )


def _hour(at: datetime) -> str:
    return f"{at.hour:02}:{at.minute:02}"


class History(AsidePlate):
    """A list, and one button that takes back as many steps as it takes to be where the chosen line begins."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("History"))
        self.list = QListView(self)
        self.list.setFont(font("body", stage))
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName(stage.say("What was done, newest first"))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.back = WordButton(stage, stage.say("Take back to before this"), "plain", self)
        self.column.addWidget(self.list)
        self.column.addWidget(self.back)
        self._asker = Asker(stage, self)
        self._left = 0
        self.back.clicked.connect(self._take_back)
        stage.farm_changed.connect(self._follow)

    def first(self) -> QWidget:
        """Return the list."""
        return self.list

    def renew(self) -> None:
        """Read the history."""
        try:
            entries = self.stage.session.history()
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")
            entries = []
        self.lines = Lines(self.stage, entries)
        self.list.setModel(self.lines)
        self.list.selectionModel().currentChanged.connect(self._show)
        self.list.setCurrentIndex(self.lines.index(0))
        self._show()

    def _follow(self) -> None:
        if not self.isHidden() and not self._left:
            self.renew()

    def steps(self) -> int:
        """Return how many steps back the chosen line is; 0 where undo does not reach it."""
        row = self.list.currentIndex().row()
        if row < 0:
            return 0
        return steps_back(self.lines.entries, self.lines.entries[row].edit_uid)

    def _show(self, *_: object) -> None:
        self.back.setEnabled(self.steps() > 0 and not self.stage.session.read_only)

    def _take_back(self) -> None:
        self._left = self.steps()
        self._undo_one()

    def _undo_one(self) -> None:
        if not self._left:
            self.renew()
            self.stage.notice(Text("Taken back. Redo brings it again, step by step."), deed="redo")
            return
        self._left -= 1
        self._asker.hear(self.stage.session.undo(), self._went)

    def _went(self, changes: ChangeSet | None, error: BaseException | None) -> None:
        if isinstance(error, PigmapError):
            self._left = 0
            self.stage.notice(sentence(error), "refused")
            self.renew()
        else:
            self._undo_one()


class _Panel:
    name = "history"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return History(stage, parent)


panel = _Panel()
