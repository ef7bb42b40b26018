"""The daily check, in the groups' place: all well but for these, and the readings of one group."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.check_all_well import AllWell
from pigmap.builtin.panels.check_form import CheckForm
from pigmap.builtin.panels.check_photos import CheckPhotos
from pigmap.builtin.panels.check_typed import CheckGiven, CheckTyped, given, remarks, too_rooted
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.group_typed import MistypedError
from pigmap.builtin.panels.group_words import reading_words
from pigmap.builtin.panels.season_drag import change_end
from pigmap.drawing.words import day_words
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence
from pigmap.qt.group_step import group_of
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import font
from pigmap.qt.whereabouts import Whereabouts, book_of
from pigmap.records import ChangeSet, Group, Paddock, Stay, new_uid
from pigmap.session.photos import Belongs
from pigmap.text import Text

PAD = 12
TARGET = 44
"""Height of a button that a thumb hits [px]."""


class DailyCheck(QWidget):
    """Checks the day that is shown, today or before; what was not looked at stays unsaid."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setObjectName("column")
        self.setAccessibleName(stage.say("Daily check"))
        self._asker = Asker(stage, self)
        self._stay_uid = ""
        self._begun: dict[tuple[str, date], CheckTyped] = {}
        """What was typed for a group on a day and not recorded yet."""
        self._of = ("", stage.day)
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidgetResizable(True)
        self._inside = QWidget()
        self._inside.setMinimumSize(1, 1)  # else words over several lines ask for the height of their narrowest
        self._scroll.setWidget(self._inside)
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(PAD, PAD, PAD, 4)
        self._column.setSpacing(6)
        self._column.addWidget(Words(stage, "heading", self, stage.say("Daily check")))
        self._day = self._words("second", "ink2")
        self.well = AllWell(stage, self._inside)
        self._column.addWidget(self.well)
        self.group = self._box(stage.say("Which group"))
        self._where = self._words("second", "ink2")
        self.form = CheckForm(stage, self._inside)
        self._column.addWidget(self.form)
        self.photos = CheckPhotos(stage, self._inside)
        self._column.addWidget(self.photos)
        self._column.addStretch(1)
        self._make_foot()
        stage.picked_changed.connect(self._to_readings)
        self.form.entered.connect(self._record)
        self.form.touched.connect(lambda: self.said.say(""))
        self.group.activated.connect(self._choose)
        for signal in (stage.verb_changed, stage.farm_changed, stage.day_changed, stage.picked_changed):
            signal.connect(self._renew)
        self._renew()

    def _make_foot(self) -> None:
        """Keep what records, and what was said of it, in sight however far the form is scrolled."""
        foot = QVBoxLayout()
        foot.setContentsMargins(PAD, 6, PAD, 8)
        foot.setSpacing(6)
        self.said = Words(self.stage, "body", self, "", "no")
        self.record = self._button(self.stage.say("Record"), self._record, foot)
        self.tomorrow = self._button(self.stage.say("Go tomorrow"), self._go_tomorrow, foot)
        self.tomorrow.hide()
        foot.insertWidget(0, self.said)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._scroll, 1)
        whole.addLayout(foot)
        whole.addStretch(0)
        self._inside.installEventFilter(self)

    def _words(self, role: str, colour: str) -> Words:
        words = Words(self.stage, role, self._inside, "", colour)  # type: ignore[arg-type]
        self._column.addWidget(words)
        return words

    def _button(self, words: str, deed: Callable[[], None], row: QVBoxLayout) -> WordButton:
        button = WordButton(self.stage, words, "plain", self)
        button.setFixedHeight(round(TARGET * self.stage.text_scale))
        button.clicked.connect(lambda: deed())
        row.addWidget(button)
        return button

    def _box(self, called: str) -> ChoiceBox:
        self._column.addWidget(Words(self.stage, "second", self._inside, called, "ink2"))
        box = ChoiceBox(self.stage, self._inside)
        box.setAccessibleName(called)
        box.setFont(font("body", self.stage))
        self._column.addWidget(box)
        return box

    # Whose check

    def _there(self) -> list[tuple[Group, Paddock, Whereabouts]]:
        """Return the groups that stand somewhere on the day that is shown."""
        stage = self.stage
        book = book_of(stage.session.farm, stage.today)
        found = []
        for group in book.groups(stage.day):
            where = book.whereabouts(group, stage.day)
            paddock = book.paddock_of(where.stay)
            if paddock is not None:
                found.append((group, paddock, where))
        return found

    def _renew(self, *_changed: object) -> None:
        stage = self.stage
        if stage.verb != "check":
            return
        there = self._there()
        to_come = stage.day > stage.today
        self._day.say(day_words(stage.day, "full", language=stage.language))
        chosen = group_of(stage.session.farm, stage.picked, stage.day, stage.today) or self.group.currentData()
        self.group.clear()
        for group, paddock, _where in there:
            self.group.addItem(stage.say("{group}, {paddock}", group=group.name, paddock=paddock.name), group.uid)
        self.group.setCurrentIndex(max(0, self.group.findData(chosen)))
        self.well.show_for(self._unchecked(), possible=not to_come and not stage.session.read_only)
        for widget in (self.record, self.group, self.photos):
            widget.setEnabled(bool(there) and not to_come and not stage.session.read_only)
        self._show_group()
        if to_come:
            self.said.say(stage.say("This day is to come. Go back to today to record a check."))
        elif not there:
            self.said.say(stage.say("No group stands anywhere on this day. Show where one stands first (W)."))
        else:
            self.said.say("")

    def _unchecked(self) -> list[tuple[Group, Paddock]]:
        there, day = self._there(), self.stage.day
        return [(group, at) for group, at, seen in there if seen.check is None or seen.check.checked_on != day]

    def _chosen(self) -> tuple[Group, Paddock, Stay] | None:
        uid = self.group.currentData()
        for group, paddock, there in self._there():
            if group.uid == uid and there.stay is not None:
                return group, paddock, there.stay
        return None

    def _choose(self, at: int) -> None:
        self.stage.pick(Picked("groups", str(self.group.itemData(at))))

    def _show_group(self) -> None:
        there = next((each for each in self._there() if each[0].uid == self.group.currentData()), None)
        if there is None:
            self._where.say("")
            return
        self._go_on_with(there[0].uid)
        self.form.ask_for(live_weight(self.stage.session.farm, there[0].uid, self.stage.day).pigs)
        check = there[2].check
        last = reading_words(self.stage, check) if check is not None else self.stage.say("not checked yet")
        self._where.say(self.stage.say("Last: {reading}", reading=last))

    def _go_on_with(self, group_uid: str) -> None:
        """Keep what was typed for the group before, and bring back what was begun for this one."""
        now = (group_uid, self.stage.day)
        if now == self._of:
            return
        self._begun[self._of] = self.form.typed()
        self._of = now
        self.photos.go_on_with(now)
        self.form.fill(self._begun.pop(now, CheckTyped()))

    # Recording

    def _record(self) -> None:
        stage, chosen = self.stage, self._chosen()
        if chosen is None or not self.record.isEnabled():
            return
        group, paddock, stay = chosen
        try:
            seen = given(self.form.typed())
        except MistypedError as error:
            self.said.say(stage.words(sentence(error)))
            getattr(self.form, error.field).setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if seen.is_empty:
            self.said.say(stage.say("Nothing is filled in. Give one reading, or say that all is well."))
            return
        belongs = Belongs(paddock.uid, new_uid(), stage.day)

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is None:
                self.photos.take_in(belongs)
                self._recorded(seen, group, paddock, stay)

        self._asker.ask(seen.edit(paddock, group.uid, stage.day, str(belongs.check_uid)), ended)

    def _recorded(self, seen: CheckGiven, group: Group, paddock: Paddock, stay: Stay) -> None:
        """Say what was recorded and what it asks for; go on with the next group that was not checked."""
        stage = self.stage
        found = remarks(stage.session.farm, seen, group.uid, paddock, stage.day)
        words = Text("{group} in {paddock} checked.", {"group": group.name, "paddock": paddock.name})
        for each in found:
            words = Text("{words} {more}", {"words": words, "more": each})
        stage.notice(words, "care" if found else "done", deed="undo")
        if self._of == (group.uid, stage.day):
            self.form.fill(CheckTyped())
        soon = stage.today + timedelta(days=1)
        late = stay.out_on is not None and stay.out_on > soon and stage.day == stage.today
        self._stay_uid = stay.uid if late and too_rooted(stage.session.farm, seen, paddock, stage.day) else ""
        self.tomorrow.setVisible(bool(self._stay_uid))
        self.tomorrow.setAccessibleName(stage.say("Go tomorrow: {group}", group=group.name))
        after = self._unchecked()
        if after and not self._stay_uid:
            stage.pick(Picked("groups", after[0][0].uid))
        self.form.kv.setFocus(Qt.FocusReason.OtherFocusReason)

    def _go_tomorrow(self) -> None:
        stay = self.stage.session.farm.stays.get(self._stay_uid)
        self.tomorrow.hide()
        if stay is not None:
            change_end(self.stage, stay, self.stage.today + timedelta(days=1))

    def _to_readings(self, *_changed: object) -> None:
        """Give the keys to the first reading: whoever picks a group here is about to type what was read."""
        if self.stage.verb == "check" and self.isVisible() and self.record.isEnabled():
            self.form.kv.setFocus(Qt.FocusReason.OtherFocusReason)

    def _into_sight(self) -> None:
        """Scroll to the reading that is typed, where the panel is low."""
        focused = self.focusWidget()
        if focused is not None and self._inside.isAncestorOf(focused):
            self._column.activate()
            self._scroll.ensureWidgetVisible(focused, 0, PAD)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the reading that is typed in sight."""
        super().resizeEvent(event)
        self._fit()
        self._into_sight()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the height of what is asked."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return False

    def _fit(self) -> None:
        """Keep what records right below the last line where the column is higher than what is asked."""
        wide, column = self._scroll.viewport().width(), self._column
        high = column.totalHeightForWidth(wide) if column.hasHeightForWidth() else column.totalSizeHint().height()
        self._scroll.setMaximumHeight(high)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin with the first reading."""
        super().showEvent(event)
        self._to_readings()
        QTimer.singleShot(0, self, self._into_sight)  # once all of it has its place

    def close_down(self) -> None:
        """Wait for photos that are being read."""
        self.photos.close_down()

    # Its room

    def sizeHint(self) -> QSize:
        """Return the height in a narrow window; in a column the window gives what it has."""
        return QSize(self.stage.room.column_px, 360)


class _Panel:
    name = "check"
    place = "column"
    verb = "check"

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the check."""
        return DailyCheck(stage, parent)


panel = _Panel()
