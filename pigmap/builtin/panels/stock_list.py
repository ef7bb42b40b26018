"""A page of the plate on nets: a list that is to be taken in, told in words before it is done."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.stock_page import StockPage
from pigmap.document.edits import matched, take_in_nets
from pigmap.qt.stage import Stage
from pigmap.session.net_list import NetListFile, taken_words

MOST_TOLD = 30
"""Lines that are told one by one; of more the number is told."""


class ListPage(StockPage):
    """What is taken, what is left out and why; nothing is done before the button is pressed."""

    def __init__(self, stage: Stage, file: NetListFile, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Take in {file}", file=file.name), parent)
        taken = matched(stage.session.farm, file.listed)
        told = [stage.words(each) for each in taken_words(file, taken)]
        self.told = [self.words(told[0], "strong"), *(self.words(each) for each in told[1 : MOST_TOLD + 1])]
        if len(told) > MOST_TOLD + 1:
            self.told.append(self.words(stage.say("And {count} lines more.", count=len(told) - MOST_TOLD - 1)))
        edit = take_in_nets(file.listed, file.name)
        self.go = self.button(stage.say("Take it in"), lambda: self.do(edit))
        if not taken.changes:
            self.words(stage.say("Nothing of it is new to the farm."))
        self.go.setVisible(bool(taken.changes))
        self.end_with(self.go if taken.changes else None)

    def first(self) -> QWidget:
        """Return the button that leaves it: what is told is to be read first."""
        return self.leave
