"""Tell of a group in its card's place: treated, got out, booked, sold, born and so on; or put an entry right."""

from __future__ import annotations

import shapely
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.happened_edit import AT_PADDOCK, KEPT, NEW_GROUP, ON_MAP, edit_of, put_right
from pigmap.builtin.panels.happened_given import asked_first, choices, typed_before
from pigmap.builtin.panels.happened_kept import Kept, kept_of, take_out
from pigmap.builtin.panels.happened_lines import LINES, SAID, Line, What
from pigmap.builtin.panels.happened_typed import Typed
from pigmap.builtin.panels.tab_order import tab_in_order
from pigmap.builtin.panels.told_form import TARGET, ToldForm
from pigmap.drawing.words import day_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Group, lasting_on

MOST_KEPT = 12
"""Entries that are offered to be put right; the books have all of them."""


class HappenedForm(ToldForm):
    """A list of what can be told, and of what is written down already; below it what is asked for that.

    Parameters
    ----------
    row_uid
        The entry that is to be put right; empty where something new is told.
    """

    def __init__(self, stage: Stage, group: Group, parent: QWidget, row_uid: str = "") -> None:
        super().__init__(stage, stage.say("What happened"), parent)
        self._group = group
        kept = kept_of(stage.session.farm, group.uid)
        asked = [each for each in kept if each.row.uid == row_uid]
        self._kept = [*asked, *(each for each in kept if each not in asked)][:MOST_KEPT]
        self.lines: dict[str, CardField | ChoiceBox] = {}
        self._quiet: list[QWidget] = []
        self._asked: list[QWidget] = []
        self._shown: shapely.Point | None = None
        self.what = self.add_choice(stage.say("What"), self._offered(), asked_first(stage, group).value)
        self.asked = QVBoxLayout()
        self.asked.setSpacing(4)
        self.rows.addLayout(self.asked)
        self.only_removed = WordButton(stage, stage.say("Remove this entry"), parent=self)
        self.more = WordButton(stage, stage.say("More of it"), "link", self)
        self.add_end(self.more, self.only_removed)
        self.rows.setAlignment(self.more, Qt.AlignmentFlag.AlignLeft)
        self.only_removed.setFixedHeight(round(TARGET * stage.text_scale))
        self.more.clicked.connect(self._show_more)
        self.only_removed.clicked.connect(self._remove)
        if asked:
            self.what.setCurrentIndex(self.what.findData("#0"))
        self.what.currentIndexChanged.connect(self._ask_anew)
        stage.spotted.connect(self._take_spot)
        self._ask_anew()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.what

    def _offered(self) -> list[tuple[str, str]]:
        stage = self.stage
        new = [(stage.words(words), what.value) for what, words in SAID.items()]
        return [*new, *((self._entry_said(each), f"#{at}") for at, each in enumerate(self._kept))]

    def _entry_said(self, each: Kept) -> str:
        day = day_words(each.day, "short", language=self.stage.language)
        return self.stage.say("Put right: {what}, {day}", what=each.words, day=day)

    @property
    def entry(self) -> Kept | None:
        """The entry that is to be put right; None where something new is told."""
        chosen = str(self.what.currentData())
        return self._kept[int(chosen[1:])] if chosen.startswith("#") else None

    @property
    def told(self) -> What | None:
        """What is asked; None where an entry can only be removed."""
        return self.entry.what if self.entry is not None else What(self.what.currentData())

    def choose(self, what: What) -> None:
        """Ask for something."""
        self.what.setCurrentIndex(max(self.what.findData(what.value), 0))

    # What is asked

    def _ask_anew(self, *_: object) -> None:
        """Ask for what is chosen now, with what is known of it."""
        for part in self._asked:
            self.asked.removeWidget(part)
            part.hide()
            part.deleteLater()
        self.lines, self._quiet, self._asked = {}, [], []
        told, entry = self.told, self.entry
        before = typed_before(self.stage, self._group, told, entry.row if entry else None) if told else {}
        for line in LINES[told] if told else ():
            self._ask(line, told or What.TREATED, before.get(line.key, ""))
        self.only_removed.setVisible(entry is not None)
        self.take.setVisible(told is not None)
        self.said.say("")
        self._name_follows()
        self._fold()
        tab_in_order([self.what, *self._asked, self.more, self.only_removed, self.take, self.leave])

    def _ask(self, line: Line, what: What, typed: str) -> None:
        stage, count = self.stage, len(self.parts)
        label, example = stage.words(line.label), stage.words(line.example)
        made: CardField | ChoiceBox
        if line.sort == "kg":
            label = stage.say("{what}, lb" if stage.units == "us" else "{what}, kg", what=label)
        if line.sort == "choice":
            offered = choices(stage, self._group, what, line.key)
            if typed == KEPT:
                offered.insert(0, (stage.say("where it is on the map"), KEPT))
            made = self.add_choice(label, offered, typed)
            made.currentIndexChanged.connect(self._name_follows)
            if line.key == "spot":
                made.activated.connect(self._ask_for_spot)
        else:
            made = self.add_line(label, typed, example or (stage.today.isoformat() if line.sort == "day" else ""))
        self.lines[line.key] = made
        parts = self.parts[count:]
        del self.parts[count:]  # they go with what is chosen
        for part in parts:
            self.asked.addWidget(part)
        self._asked += parts
        if line.quiet and not typed:
            self._quiet += parts

    def _ask_for_spot(self, *_: object) -> None:
        """Let the place be shown on the map."""
        spot = self.lines.get("spot")
        if isinstance(spot, ChoiceBox) and spot.currentData() == ON_MAP:
            self.stage.take_up("spot")

    def _take_spot(self, x_m: float, y_m: float) -> None:
        """Take a place that was shown on the map, and go on here."""
        spot = self.lines.get("spot")
        if isinstance(spot, ChoiceBox):
            self._shown = shapely.Point(x_m, y_m)
            at = spot.findData(ON_MAP)
            spot.setItemText(at, self.stage.say("where I clicked on the map"))
            spot.setCurrentIndex(at)
            spot.setFocus(Qt.FocusReason.OtherFocusReason)

    def _point(self) -> shapely.Point | None:
        """Return where pigs got out, as far as that is told."""
        spot = self.lines.get("spot")
        chosen = spot.currentData() if isinstance(spot, ChoiceBox) else ""
        if chosen == ON_MAP:
            return self._shown
        if chosen != AT_PADDOCK:
            return None
        farm, stage = self.stage.session.farm, self.stage
        there = (each for each in lasting_on(farm, stage.today).values() if each.stay.group_uid == self._group.uid)
        ground = next((each.stay.ground for each in there if each.covers(min(stage.day, stage.today))), None)
        return ground.representative_point() if ground is not None else None

    def _name_follows(self, *_: object) -> None:
        """Ask for a name where a group begins with these pigs."""
        to, name = self.lines.get("to"), self.lines.get("name")
        if not isinstance(to, ChoiceBox) or name is None:
            return
        new = to.currentData() == NEW_GROUP
        at = self._asked.index(name)
        for part in self._asked[at - 1 : at + 1]:
            part.setVisible(new)
        self.grown.emit()

    def _fold(self) -> None:
        for each in self._quiet:
            each.hide()
        self.more.setVisible(bool(self._quiet))
        self.grown.emit()

    def _show_more(self) -> None:
        quiet, self._quiet = self._quiet, []
        for each in quiet:
            each.show()
        self.more.hide()
        self.grown.emit()
        first = next((each for each in quiet if each.focusPolicy() & Qt.FocusPolicy.TabFocus), None)
        if first is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(first)

    # What is done

    def typed(self) -> Typed:
        """Return what is typed and chosen."""
        lines = {
            key: str(line.currentData() or "") if isinstance(line, ChoiceBox) else line.text()
            for key, line in self.lines.items()
        }
        return Typed({**lines, "point": self._point()}, self.stage.units, self.stage.today)

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        told, entry = self.told, self.entry
        if entry is not None and told is not None:
            return put_right(told, entry.row, self.typed())
        return edit_of(told or What.TREATED, self.stage.session.farm, self._group, self.typed())

    def _remove(self) -> None:
        entry = self.entry
        if entry is not None:
            edit = take_out(self.stage.session.farm, entry.row)
            tell(self.stage, self.stage.session.do(edit), edit.label)
            self.ended.emit()
