"""History: what was done to the farm, newest first, and taking back to a line of it."""

from __future__ import annotations

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.aside import PAD, AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.list_rows import PAD_X, SECOND, TallList
from pigmap.drawing.words import day_words
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet
from pigmap.session.history import HistoryEntry, is_yours, steps_back
from pigmap.session.new_farm import Made
from pigmap.text import Text

HIGH, LEAST_HIGH = 420, 60
"""Of the list at a text size of 100 % [px]."""
BAR = 20
"""Room that edges and scroll bar of the list take [px]."""
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
        """Return what was done, when and by whom, or all of it as a sentence."""
        entry = self.entries[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return self.stage.words(entry.label)
            case Qt.ItemDataRole.AccessibleTextRole | Qt.ItemDataRole.ToolTipRole:
                return f"{self._when_and_who(entry)}: {self.stage.words(entry.label)}"
        return self._when_and_who(entry) if role == SECOND else None

    def _when_and_who(self, entry: HistoryEntry) -> str:
        stage, at = self.stage, entry.made_at.astimezone()
        day = stage.say("today") if at.date() == stage.today else day_words(at.date(), "short", language=stage.language)
        if at.year != stage.today.year:
            day = day_words(at.date(), "short year", language=stage.language)
        return stage.say(
            "{day} {hour}, {who}",
            day=day[:1].upper() + day[1:],
            hour=f"{at.hour:02}:{at.minute:02}",
            who=stage.say("you") if is_yours(entry) else entry.made_by or stage.say("another program"),
        )


class History(AsidePlate):
    """A list; one button takes back to where the chosen line begins, one shows the farm as it was after it."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("History"))
        self.lines = Lines(stage, [])
        self._left = 0
        called = stage.say("What was done, newest first")
        self.list = TallList(stage, self, called, high=HIGH, least=LEAST_HIGH, under=True)
        self.whole = Words(stage, "second", self)
        self.back = WordButton(stage, stage.say("Take this back"), "plain", self)
        self.column.addWidget(self.list, 1)
        self.column.addWidget(self.whole)
        self.column.addWidget(self.back)
        self.then = WordButton(stage, stage.say("Show the farm as it was then"), "plain", self)
        self.then.clicked.connect(self._show_then)
        self.column.addWidget(self.then)
        self._asker = Asker(stage, self)
        self.back.clicked.connect(self._take_back)
        stage.farm_changed.connect(self._follow)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell anew what is cut off."""
        super().resizeEvent(event)
        self._show()

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
        """Tell what is chosen, in full, and what its button would do; while steps are taken back it stops them."""
        if self._left:
            return
        steps, stage = self.steps(), self.stage
        later = Text("Take back this and {count} later", plural="Take back this and {count} later", count=steps - 1)
        deed = stage.words(later) if steps > 1 else stage.say("Take this back")
        self._name_deed(deed)
        self.back.setVisible(not stage.session.read_only)
        self.back.setEnabled(steps > 0)
        self.then.setEnabled(self.list.currentIndex().isValid())
        words = str(self.list.currentIndex().data() or "")
        is_cut = breadth(words, self.list.font()) > self.width() - 2 * (PAD + PAD_X) - BAR
        stays = self._why_it_stays() if words and not steps else ""
        self.whole.say("\n".join(filter(None, [words * is_cut, stays])))

    def _why_it_stays(self) -> str:
        entry = self.lines.entries[self.list.currentIndex().row()]
        if not entry.can_undo:
            return self.stage.say("This belongs to the making of the farm and stays.")
        if entry.undoes is not None:
            return self.stage.say("This was an undo. Redo brings back what it took.")
        return self.stage.say("This was taken back already.")

    def _name_deed(self, words: str) -> None:
        self.back.setText(words)
        self.back.setAccessibleName(words)
        self.back.update()

    def _show_then(self) -> None:
        """Show the farm as it was once the chosen line was done, in place of the farm as it is."""
        row = self.list.currentIndex().row()
        if row >= 0 and not self._left:
            uid = self.lines.entries[row].edit_uid
            self.stage.farm_asked.emit(Made(self.stage.session.path, as_of=uid))

    def _take_back(self) -> None:
        """Begin taking back, or stop where it has come to."""
        self._left = 0 if self._left else self.steps()
        if self._left:
            self._undo_one()

    def _undo_one(self) -> None:
        if not self._left:
            self.renew()
            self.list.setFocus(Qt.FocusReason.OtherFocusReason)
            self.stage.notice(Text("Taken back. Redo brings it again, step by step."), deed="redo")
            return
        self._left -= 1
        self._name_deed(self.stage.say("Stop here, {count} left", count=self._left))
        self._asker.hear(self.stage.session.undo(), self._went)

    def _went(self, changes: ChangeSet | None, error: BaseException | None) -> None:
        if error is None:
            self._undo_one()
            return
        self._left = 0
        why = sentence(error) if isinstance(error, PigmapError) else Text("Not all of it was taken back.")
        self.stage.notice(why, "refused")
        self.renew()


class _Panel:
    name = "history"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return History(stage, parent)


panel = _Panel()
