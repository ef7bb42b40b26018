"""A new group by hand: how many pigs, about how heavy, a name; the rest has a default under More."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.form_parts import high_at
from pigmap.builtin.panels.group_deeds import TARGET
from pigmap.builtin.panels.group_typed import CLASS_WORDS, GroupTyped, MistypedError, class_of, doubts, given, why_these
from pigmap.builtin.panels.kept_typed import KeptTyped, kept_lines
from pigmap.document.edits import amend, once, together
from pigmap.errors import EditError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import PigClass, new_uid
from pigmap.text import Text

IN_MORE = ("tank", "drinkers", "feeder", "feed", "target")
"""Lines of `KeptTyped` that are asked for with a new group; the others can be told on its card."""


class GroupForm(QWidget):
    """Stands in the cards' place while a group is typed; what cannot be is said in it and stays to be put right."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setAccessibleName(stage.say("A new group"))
        self._uid = new_uid()
        self._doubted: tuple[Text, ...] = ()
        self._labels: list[QLabel] = []
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        self._head = QLabel(stage.say("A new group"))
        rows.addWidget(self._head)
        kilograms = "About how heavy, lb each" if stage.units == "us" else "About how heavy, kg each"
        self.pigs = self._line(rows, stage.say("How many pigs"), "12")
        self.weight = self._line(rows, stage.say(kilograms), stage.say("not known"))
        self.name = self._line(rows, stage.say("Name"), stage.say("such as Dry sows"))
        self._kind_chosen = False
        self.pig_class, self._pigs_label = self._make_kinds(rows)
        self._more = WordButton(stage, stage.say("More: breed type, feed, water"), "link", self)
        rows.addWidget(self._more, alignment=Qt.AlignmentFlag.AlignLeft)
        self._under_more = QWidget(self)
        self.breed = self._make_more(self._under_more)
        rows.addWidget(self._under_more)
        self._said = QLabel(wordWrap=True)
        rows.addWidget(self._said)
        self.add, self.leave = WordButton(stage, "", parent=self), WordButton(stage, stage.say("Leave it"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        below.addWidget(self.add, 1)
        below.addWidget(self.leave, 1)
        rows.addLayout(below)
        self._more.clicked.connect(lambda: self._open_more(self._under_more.isHidden()))
        self.add.clicked.connect(self._add)
        self.leave.clicked.connect(self.ended)
        stage.farm_changed.connect(self._see)
        stage.theme_changed.connect(self._dress)
        self._under_more.hide()
        self._say("")

    def _line(self, rows: QVBoxLayout, label: str, example: str) -> CardField:
        line = CardField(self)
        line.setPlaceholderText(example)
        line.taken.connect(self._enter)
        line.dropped.connect(self.ended)
        line.textEdited.connect(self._typed_anew)
        self._with_label(rows, label, line)
        line.show()
        return line

    def _with_label(self, rows: QVBoxLayout, label: str, widget: QWidget) -> QLabel:
        words = QLabel(label)
        words.setBuddy(widget)
        self._labels.append(words)
        widget.setAccessibleName(label)
        rows.addWidget(words)
        rows.addWidget(widget)
        rows.addSpacing(6)
        return words

    def _make_kinds(self, rows: QVBoxLayout) -> tuple[ChoiceBox, QLabel]:
        kinds = ChoiceBox(self.stage, self)
        for kind, words in CLASS_WORDS.items():
            kinds.addItem(self.stage.words(words).capitalize(), kind)
        kinds.setCurrentIndex(list(CLASS_WORDS).index(PigClass.GROWING))
        kinds.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        kinds.activated.connect(self._choose_kind)
        kinds.currentIndexChanged.connect(self._look_again)
        return kinds, self._with_label(rows, self.stage.say("What pigs"), kinds)

    def _make_more(self, place: QWidget) -> CardField:
        rows = QVBoxLayout(place)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        breed = self._line(rows, self.stage.say("Breed type"), self.stage.say("such as coloured"))
        self.kept = {name: self._line(rows, *said) for name, said in kept_lines(self.stage).items() if name in IN_MORE}
        return breed

    def _open_more(self, is_open: bool) -> None:
        self._under_more.setVisible(is_open)
        self.grown.emit()
        if is_open:
            self.breed.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.breed)

    def begin(self) -> None:
        """Begin anew, at the first question."""
        self._uid = new_uid()
        for line in (self.pigs, self.weight, self.name, self.breed, *self.kept.values()):
            line.clear()
        self._kind_chosen = False
        self._typed_anew()
        self._under_more.hide()
        self._dress()
        self._look_again()
        self.pigs.setFocus(Qt.FocusReason.OtherFocusReason)

    # What is typed

    def _typed(self) -> GroupTyped:
        kind = list(CLASS_WORDS)[self.pig_class.currentIndex()]
        return GroupTyped(self.pigs.text(), self.weight.text(), self.name.text(), kind, self.breed.text())

    def _kept_typed(self) -> KeptTyped:
        tank, drinkers, feeder, feed, target = (self.kept[name].text() for name in IN_MORE)
        return KeptTyped(tank=tank, drinkers=drinkers, feeder=feeder, feed=feed, target=target)

    def _enter(self) -> None:
        """Add the group, as its button does; what is out of the ordinary only the button adds."""
        if self._doubted:
            self.shows.emit(self.add)
        else:
            self._add()

    def _add(self) -> None:
        """Add the group; what is out of the ordinary is said first, and added when it is pressed again."""
        stage = self.stage
        try:
            group = given(self._typed(), stage.units)
            kept = self._kept_typed().columns(stage.units)
        except EditError as error:
            self._refuse(error, getattr(self, error.field) if isinstance(error, MistypedError) else None)
            return
        found = doubts(stage.session.farm, group, stage.day)
        if found and found != self._doubted:
            self._doubted = found
            self._say(" ".join(stage.words(each) for each in found), "warn")
            self.shows.emit(self.add)
            if self.add.hasFocus():  # a second Enter would add it
                odd = self.weight if "weight" in found[0].values else self.name
                odd.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        added = group.edit(min(stage.day, stage.today), self._uid)
        edit = once(together(added.label, [added, amend("groups", self._uid, **kept)]), "groups", self._uid)
        done = Text("{name} added. Show where it stands (W), or place a paddock for it (P).", {"name": group.name})
        tell(stage, stage.session.do(edit), done)

    def _refuse(self, error: EditError, field: QLineEdit | None) -> None:
        """Say what cannot be, with the keys in the line where it is typed."""
        if field is None:
            field = next(line for line in self.kept.values() if line.text().strip())
            self._under_more.show()
        self._say(self.stage.words(sentence(error)), "no")
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        field.selectAll()
        self.shows.emit(self._said)
        self.shows.emit(field)

    def _see(self) -> None:
        """End when the group is there: one that the farm file did not take stays typed."""
        if not self.isHidden() and self._uid in self.stage.session.farm.groups:
            self.ended.emit()
            self.stage.pick(Picked("groups", self._uid))

    def _choose_kind(self) -> None:
        self._kind_chosen = True
        self._look_again()

    def _typed_anew(self) -> None:
        """Take the kind of pigs from name and weight, until one was chosen."""
        if not self._kind_chosen:
            kind = class_of(self.name.text(), self.weight.text(), self.stage.units)
            self.pig_class.setCurrentIndex(list(CLASS_WORDS).index(kind))
        self._look_again()

    def _look_again(self) -> None:
        self._doubted = ()
        said = why_these(self._typed(), self.stage.units, chosen=self._kind_chosen)
        self._pigs_label.setText(self.stage.words(said))
        self.pig_class.setAccessibleName(self.stage.words(said))
        self._say("")

    # What it says

    def _say(self, words: str, kind: str = "ink") -> None:
        """Say what is wrong, or nothing; the button says whether it adds all the same."""
        stage = self.stage
        self.add.setText(stage.say("Add it as it is") if self._doubted else stage.say("Add"))
        self.add.setAccessibleName(self.add.text())
        if self._said.text() == words and bool(words) != self._said.isHidden():
            return
        theme = tokens(stage)
        colour, ground = {"no": (theme.no, theme.nobg), "warn": (theme.warn, theme.warnbg)}.get(kind, (theme.ink, ""))
        self._said.setStyleSheet(f"color: {colour}; background: {ground}; padding: 8px;" if ground else "")
        self._said.setText(words)
        self._said.setVisible(bool(words))
        self.setAccessibleDescription(words)
        self.grown.emit()
        if words and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self._said, QAccessible.Event.Alert))

    def _dress(self) -> None:
        stage = self.stage
        self._head.setFont(font("heading", stage))
        for label in (*self._labels, self._said):
            label.setFont(font("second", stage))
        fields = (self.pigs, self.weight, self.name, self.breed, *self.kept.values(), self.pig_class)
        for field in fields:
            field.setFont(font("body", stage))
        for widget in (*fields, self.add, self.leave):
            widget.setFixedHeight(round(TARGET * stage.text_scale))
        self.grown.emit()

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)
