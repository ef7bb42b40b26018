"""Data in and out: what the farm knows as a file for a phone or another program, and files that are taken in."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.aside_tall import TallPlate
from pigmap.builtin.panels.data_in import DataIn
from pigmap.builtin.panels.data_out import DataOut
from pigmap.builtin.panels.tab_order import tab_in_order
from pigmap.qt.stage import Stage

TITLE = "Data in and out"


class Data(TallPlate):
    """Hands out above, takes in below; it scrolls where the map is low."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say(TITLE))
        self.out = DataOut(stage, self.tall.inner)
        self.taking = DataIn(stage, self.tall.inner)
        self.tall.column.addWidget(self.out)
        self.tall.column.addWidget(self.taking)
        self.taking.setVisible(not stage.session.read_only)
        self.out.grown.connect(self._refit)
        self.taking.grown.connect(self._refit)
        self.taking.at_work.connect(lambda at_work: self.out.setVisible(not at_work))
        tab_in_order([self.close_button, self.out, self.taking])

    def first(self) -> QWidget:
        """Return what is to be chosen first."""
        return self.out.what if self.out.isVisibleTo(self) else self.taking.choose

    def renew(self) -> None:
        """Begin with no file, unless one is being looked at."""
        self.out.say("")
        self.out.offer_picked()
        if self.taking.path is None:
            self.taking.begin_anew()

    def close_down(self) -> None:
        """Wait for what is being read or written."""
        self.out.jobs.close()
        self.taking.jobs.close()


class _Panel:
    name = "data"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Data(stage, parent)


panel = _Panel()
