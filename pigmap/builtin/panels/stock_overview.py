"""What the plate on nets shows first: each kind with its count, who has which nets, and what is damaged."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.stock_page import TARGET
from pigmap.builtin.panels.stock_words import (
    count_line,
    damaged_line,
    damaged_nets,
    day_line,
    holding_lines,
    kind_words,
    lasts_line,
    numbers_line,
    waits_for_repair,
)
from pigmap.document.edits import net_mended
from pigmap.fence.holdings import kinds_in_order, net_called, stock_flags
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Net, NetKind
from pigmap.text import Text


class Overview(QWidget):
    """Made anew whenever the farm or the day changes."""

    kind_asked = Signal(str)
    """The details of a kind are wanted, by its uid."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.more: list[WordButton] = []
        self.mended: list[WordButton] = []
        self.what: FormLine | None = None
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(0, 0, 0, 0)
        self.rows.setSpacing(4)
        self._add("second", day_line(stage), "ink2")
        farm = stage.session.farm
        for flag in stock_flags(farm, stage.day, stage.today):
            self._add("body", stage.words(flag), "warn")
        kinds = kinds_in_order(farm)
        if not kinds:
            self._add("body", stage.say("No nets yet. Say how many you own, and how long they are."))
        for kind in kinds:
            self._kind(kind)
        self._holdings()
        self._damaged()

    def _add(self, role: str, words: str, colour: str = "ink") -> None:
        made = {"strong": "strong", "second": "second"}.get(role, "body")
        self.rows.addWidget(Words(self.stage, made, self, words, colour))  # type: ignore[arg-type]

    def _kind(self, kind: NetKind) -> None:
        stage, name = self.stage, self.stage.words(kind_words(kind))
        more = WordButton(stage, stage.say("More"), "link", self)
        more.setAccessibleName(stage.say("More: {kind}", kind=name))
        more.clicked.connect(partial(self.kind_asked.emit, kind.uid))
        more.setVisible(not stage.session.read_only)
        self._beside(Words(stage, "strong", self, name), more)
        self.more.append(more)
        self._add("body", count_line(stage, kind))
        lasts = lasts_line(stage, kind)
        if lasts.words:
            self._add("body" if lasts.is_short else "second", lasts.words, "warn" if lasts.is_short else "ink2")
        if numbers := numbers_line(stage, kind):
            self._add("second", numbers, "ink2")

    def _beside(self, words: Words, button: WordButton) -> None:
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(words, 1)
        row.addWidget(button)
        self.rows.addLayout(row)

    def _holdings(self) -> None:
        found = holding_lines(self.stage)
        if found:
            self.rows.addSpacing(8)
            self._add("strong", self.stage.say("Who has them"))
        for line in found:
            self._add("body", line)

    def _damaged(self) -> None:
        stage, found = self.stage, damaged_nets(self.stage)
        if not found:
            return
        self.rows.addSpacing(8)
        self._add("strong", stage.say("Damaged"))
        for at, net in enumerate(found, start=1):
            line = damaged_line(stage, net)
            button = WordButton(stage, stage.say("Mended"), parent=self)
            button.setFixedHeight(round(TARGET * stage.text_scale))
            again = len({damaged_line(stage, each) for each in found}) < len(found)
            button.setAccessibleName(stage.say("Mended: {net}", net=f"{line} ({at})" if again else line))
            button.clicked.connect(partial(self._mend, net))
            button.setVisible(not stage.session.read_only and waits_for_repair(stage, net))
            self._beside(Words(stage, "body", self, line), button)
            self.mended.append(button)
        if not stage.session.read_only and any(waits_for_repair(stage, net) for net in found):
            called = stage.say("What was mended, if you like to say")
            self.what = FormLine(stage, called, self, called)
            self.what.setFixedHeight(round(TARGET * stage.text_scale))
            self.rows.addWidget(self.what)

    def _mend(self, net: Net) -> None:
        stage = self.stage
        what = self.what.text() if self.what is not None else ""
        edit = net_mended(net.uid, min(stage.day, stage.today), what)
        done = Text("{net} is mended.", {"net": net_called(stage.session.farm, net)})
        tell(stage, stage.session.do(Edit(done, edit.changes)), done)
