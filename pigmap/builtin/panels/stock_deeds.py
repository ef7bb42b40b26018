"""Pages of the plate on nets: a net is damaged, nets are added, nets go out of use."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_field import typed_day
from pigmap.builtin.panels.nets_typed import MOST_NETS, kind_typed
from pigmap.builtin.panels.stock_page import StockPage
from pigmap.builtin.panels.stock_words import kind_words, nets_in_order, uses_numbers
from pigmap.builtin.panels.typed_numbers import whole_number
from pigmap.document.edits import add_nets, end_use, net_damaged, next_numbers, one_damaged, retire_nets, together
from pigmap.errors import EditError, PigmapError
from pigmap.fence.holdings import kinds_in_order, net_called
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Edit, NetKind, new_uid
from pigmap.records.damage import is_damaged
from pigmap.text import Quantity, Text


class DamagedPage(StockPage):
    """One touch on a kind, or on a number, and it is written down."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Which net is damaged?"), parent)
        farm = stage.session.farm
        self.choices: list[WordButton] = []
        sound = [net for net in nets_in_order(stage) if not is_damaged(farm, net, stage.day)]
        for kind in kinds_in_order(farm):
            own = [net for net in sound if net.net_kind_uid == kind.uid]
            if not own:
                continue
            name = stage.words(kind_words(kind))
            button = self.button(name, lambda kind=kind: self._one(kind))  # type: ignore[misc]
            self.rows.addWidget(button)
            self.choices.append(button)
            numbered = [net for net in own if net.number]
            if numbered:
                small = []
                for net in numbered:
                    number = self.button(net.number, lambda net=net: self._net(net.uid))  # type: ignore[misc]
                    number.setAccessibleName(stage.say("{kind}, number {number}", kind=name, number=net.number))
                    small.append(number)
                self.grid(small)
        if not self.choices:
            self.words(stage.say("The farm owns no net in good order on this day."))
        self.what = self.line(
            stage.say("What is wrong, if you like to say"), example=stage.say("such as torn at post 4")
        )
        self.end_with(None)

    def first(self) -> QWidget:
        """Return the first kind."""
        return self.choices[0] if self.choices else self.leave

    def _one(self, kind: NetKind) -> None:
        edit = one_damaged(kind.uid, self._since, self.what.text())
        label = Text("One of the {kind} is damaged from {day} on.", {"kind": kind.name, "day": self._since})
        self.do(Edit(label, edit.changes))

    @property
    def _since(self) -> date:
        """The day that is shown; nobody knows yet what will be torn on one to come."""
        return min(self.stage.day, self.stage.today)

    def _net(self, uid: str) -> None:
        net = self.stage.session.farm.nets.get(uid)
        if net is not None:
            label = Text(
                "{net} is damaged from {day} on.",
                {"net": net_called(self.stage.session.farm, net), "day": self._since},
            )
            self.do(Edit(label, net_damaged(uid, self._since, self.what.text()).changes))


class AddPage(StockPage):
    """How many of which kind, and from when; a kind of another length can be added with them."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Add nets"), parent)
        self.kind = self.kinds(stage.say("Kind"))
        self.kind.addItem(stage.say("Another length"), "")
        unit = stage.say("How long, ft" if stage.units == "us" else "How long, m")
        self.long = self.line(unit, example="164" if stage.units == "us" else "50", deed=self._add)
        self.count = self.line(stage.say("How many"), example="2", deed=self._add)
        # Those that are told first were there before the records: else what stood in them would lack nets.
        since = stage.day.isoformat() if stage.session.farm.nets else ""
        self.since = self.line(stage.say("First used on"), since, stage.say("from the start"), deed=self._add)
        self.numbers = self.words("")
        self.go = self.button(stage.say("Add them"), self._add)
        self.end_with(self.go)
        self.kind.currentIndexChanged.connect(self._show)
        self.count.textEdited.connect(self._show)
        self._uid = new_uid()
        self._show()

    def first(self) -> QWidget:
        """Return how many, or how long where there is no kind yet."""
        return self.count if self.kind.currentData() else self.long

    def _show(self, *_: object) -> None:
        uid = self.kind.currentData()
        for each in (self.labels[self.long], self.long):
            each.setVisible(not uid)
        numbers = self._numbers(uid)
        said = self.stage.say("They get the numbers {numbers}.", numbers=", ".join(numbers)) if numbers else ""
        self.numbers.say(said)
        self.grown.emit()

    def _numbers(self, uid: str) -> list[str]:
        """Return the numbers that the nets get: only where all others of the kind have one."""
        farm, count = self.stage.session.farm, self.count.text().strip()
        own = [net for net in nets_in_order(self.stage) if net.net_kind_uid == uid]
        if not (own and all(net.number for net in own) and count.isdecimal() and 0 < int(count) <= MOST_NETS):
            return []
        return next_numbers(farm, uid, int(count))

    def _add(self) -> None:
        at: QWidget = self.count
        try:
            count = whole_number(Text("The number of nets"), self.count.text(), 1, MOST_NETS, 4)
            at = self.since
            since = typed_day(self.since.text())
            at = self.long
            edit = self._edit(count)
        except PigmapError as error:
            self.refuse(error, at)
            return
        uid = self.kind.currentData() or self._uid
        add = add_nets(uid, count, numbers=self._numbers(uid), first_used_on=since)
        label = Text("1 net added.", plural="{count} nets added.", count=count)
        self.do(together(label, [*edit, add]))

    def _edit(self, count: int) -> list[Edit]:
        """Return the edit that adds the kind, where it is a new one."""
        if self.kind.currentData():
            return []
        stage = self.stage
        typed = kind_typed(stage.session.farm, f"{count} x {self.long.text()}", stage.units)
        length = Quantity(typed.length_m, "m", 0 if typed.length_m == round(typed.length_m) else 1)
        return [typed._replace(nets=0).edit(stage.say("{length} nets", length=length), self._uid)]


class OutPage(StockPage):
    """How many of which kind, or one by its number, and from when."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Out of use"), parent)
        self.kind = self.kinds(stage.say("Kind"))
        self.count = self.line(stage.say("How many"), "1", "1", deed=self._retire)
        self.number = None
        if uses_numbers(stage.session.farm):
            self.number = self.line(stage.say("Or its number"), deed=self._retire)
        self.on = self.line(stage.say("From"), stage.day.isoformat(), "2026-03-01", deed=self._retire)
        self.words(stage.say("Damaged ones go first. Where they stood stays written down."))
        self.go = self.button(stage.say("Out of use"), self._retire)
        self.end_with(self.go)

    def first(self) -> QWidget:
        """Return how many."""
        return self.count

    def _retire(self) -> None:
        at: QWidget = self.count
        number = self.number.text().strip() if self.number is not None else ""
        try:
            on = typed_day(self.on.text()) or self.stage.day
            if number:
                at = self.number or self.count
                gone = end_use("nets", self._numbered(number), on)
                edit = Edit(Text("Net {number} out of use.", {"number": number}), gone.changes)
            else:
                count = whole_number(Text("The number of nets"), self.count.text(), 1, MOST_NETS, 1)
                edit = retire_nets(self.kind.currentData() or "", count, on)
        except PigmapError as error:
            self.refuse(error, at)
            return
        self.do(edit)

    def _numbered(self, number: str) -> str:
        uid = self.kind.currentData()
        own = [net for net in nets_in_order(self.stage) if net.net_kind_uid == uid]
        found = next((net for net in own if net.number == number), None)
        if found is None:
            raise EditError(
                "None of them has the number {number} on this day.",
                remedy="Look up the number under Numbers, or choose the other kind.",
                number=number,
            )
        return found.uid
