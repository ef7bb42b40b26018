"""A page of the plate on nets: which numbered net stands where, and the numbers themselves."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QHBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.stock_page import TARGET, StockPage
from pigmap.builtin.panels.stock_words import kind_words, nets_in_order
from pigmap.document.edits import another_stands_here, number_all, number_net
from pigmap.fence.holdings import kinds_in_order, net_called
from pigmap.fence.places import PlaceOfNet, places_of_nets
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit, Net, NetKind
from pigmap.text import Text


class NumbersPage(StockPage):
    """A line for each place with the net in it, and one for each net with its number."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Numbers of nets"), parent)
        self._nets = nets_in_order(stage)
        self.boxes: dict[str, ChoiceBox] = {}
        self.lines: dict[str, FormLine] = {}
        self._first: QWidget | None = None
        if any(net.number for net in self._nets):
            self._places()
        self._numbers()
        self.end_with(None)
        self.leave.setText(stage.say("Back to the nets"))
        self.leave.setAccessibleName(self.leave.text())

    def first(self) -> QWidget:
        """Return the first place or net."""
        return self._first or self.leave

    def _places(self) -> None:
        stage = self.stage
        found = places_of_nets(stage.session.farm, stage.day)
        if found:
            self.words(stage.say("Which net stands where"), "strong")
            self.words(stage.say("Choose the net that really stands there: two that were mixed up change places."))
        for place in found:
            box = ChoiceBox(stage, self)
            box.setFont(font("body", stage))
            box.addItem(stage.say("not known"), "")
            for net in self._offered(place):
                box.addItem(net.number, net.uid)
            box.setCurrentIndex(max(0, box.findData(place.net.uid if place.net is not None else "")))
            box.activated.connect(partial(self._stands, place, box))
            self.boxes[place.use.uid] = box
            self._beside(stage.words(place.called), box)

    def _offered(self, place: PlaceOfNet) -> list[Net]:
        own = [net for net in self._nets if net.number and net.net_kind_uid == place.use.net_kind_uid]
        if place.net is not None and place.net not in own and place.net.number:
            own.append(place.net)
        return own

    def _beside(self, called: str, box: QWidget) -> None:
        words = Words(self.stage, "body", self, called)
        box.setAccessibleName(called)
        box.setFixedHeight(round(TARGET * self.stage.text_scale))
        box.setFixedWidth(round(140 * self.stage.text_scale))
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(words, 1)
        row.addWidget(box)
        self.rows.addLayout(row)
        self._first = self._first or box

    def _stands(self, place: PlaceOfNet, box: ChoiceBox, _: int) -> None:
        farm, uid = self.stage.session.farm, box.currentData()
        net = farm.nets.get(uid or "")
        if net is None:  # what stands somewhere is not forgotten again
            box.setCurrentIndex(max(0, box.findData(place.net.uid if place.net is not None else "")))
            return
        edit = another_stands_here(place.use.uid, net.uid, self.stage.day)
        done = Text("{place}: {net} stands there.", {"place": place.called, "net": net_called(farm, net)})
        self.do(Edit(done, edit.changes), ends=False)

    def _numbers(self) -> None:
        stage = self.stage
        for kind in kinds_in_order(stage.session.farm):
            own = [net for net in self._nets if net.net_kind_uid == kind.uid]
            if not own:
                continue
            name = stage.words(kind_words(kind))
            self.words(name, "strong")
            bare = [net for net in own if not net.number]
            if bare:
                words = Text("Give 1 more a number", plural="Give {count} more a number", count=len(bare))
                if len(bare) == len(own):
                    words = Text("Give it a number", plural="Give all {count} a number", count=len(bare))
                button = self.button(stage.words(words), partial(self._number_all, kind))
                button.setAccessibleName(f"{name}: {button.text()}")
                self.rows.addWidget(button)
                self._first = self._first or button
            for net in own:
                if net.number:
                    self._number(net, name)

    def _number(self, net: Net, kind: str) -> None:
        stage = self.stage
        called = stage.say("Number {number}", number=net.number)
        line = FormLine(stage, called, self)
        line.setText(net.number)
        line.editingFinished.connect(partial(self._renumber, net.uid, line))
        self._beside(called, line)
        line.setAccessibleName(stage.say("{kind}, number {number}", kind=kind, number=net.number))
        self.lines[net.uid] = line

    def _renumber(self, uid: str, line: FormLine) -> None:
        net = self.stage.session.farm.nets.get(uid)
        if net is not None and net.number != line.text().strip() and self.isVisible():
            self.do(number_net(uid, line.text()), ends=False)

    def _number_all(self, kind: NetKind) -> None:
        edit = number_all(kind.uid, self.stage.day)
        self.do(Edit(Text("The {kind} have numbers.", {"kind": kind.name}), edit.changes), ends=False)
