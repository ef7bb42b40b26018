"""A page of the plate on nets: what is known of a kind, from its tape to its price."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.bays_typed import MM_PER, bays_typed, bays_words
from pigmap.builtin.panels.stock_page import StockPage
from pigmap.builtin.panels.stock_words import kind_words
from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import change_net_kind
from pigmap.errors import PigmapError
from pigmap.qt.stage import Stage
from pigmap.records import NetKind
from pigmap.text import Text

MM_PER_INCH = 25.4
"""Exact by definition: international yard and pound agreement of 1959."""


class KindPage(StockPage):
    """Each thing in a line of its own; what is left empty is not known."""

    def __init__(self, stage: Stage, kind: NetKind, parent: QWidget) -> None:
        super().__init__(stage, stage.words(kind_words(kind)), parent)
        self._uid = kind.uid
        us = stage.units == "us"
        self._high_mm = MM_PER_INCH if us else 10.0
        length = f"{kind.length_mm / MM_PER[stage.units]:.3f}".rstrip("0").rstrip(".")
        not_known = stage.say("not known")
        self.name = self.line(stage.say("Name"), kind.name, deed=self._take)
        self.tape = self.line(stage.say("Colour of the tape"), kind.tape, stage.say("such as blue"), self._take)
        self.long = self.line(stage.say("Length, ft" if us else "Length, m"), length, "", self._take)
        example = stage.say("such as 14 x 3.57")
        bays = stage.say("From post to post, ft" if us else "From post to post, m")
        self.bays = self.line(bays, bays_words(kind.bays_mm, stage.units), example, self._take)
        high = f"{kind.height_mm / self._high_mm:.1f}".removesuffix(".0")
        self.high = self.line(stage.say("Height, in" if us else "Height, cm"), high, "", self._take)
        self.price = self.line(stage.say("Price of one"), _typed(kind.price), not_known, self._take)
        resistance = stage.say("Resistance from end to end, ohm a kilometre")
        self.ohm = self.line(resistance, _typed(kind.ohm_per_km), not_known, self._take)
        leak = stage.say("From one net through usual grass to the ground, kilohm")
        self.leak = self.line(leak, _typed(kind.leak), not_known, self._take)
        self.go = self.button(stage.say("Write it down"), self._take)
        self.end_with(self.go)

    def first(self) -> QWidget:
        """Return its name."""
        return self.name

    def _take(self) -> None:
        at: QWidget = self.long
        units = self.stage.units
        try:
            per = MM_PER[units] / 1000.0
            length_m = number(Text("The length of the net"), self.long.text(), "50") * per
            at = self.bays
            if length_m <= 0:
                at = self.long
            bays = bays_typed(self.bays.text(), length_m, units)
            at = self.high
            high = number(Text("The height of the net"), self.high.text(), "90") * self._high_mm
            at = self.price
            price = self._some(Text("The price of a net"), self.price.text())
            at = self.ohm
            ohm = self._some(Text("The resistance"), self.ohm.text())
            at = self.leak
            leak = self._some(Text("The resistance to the ground"), self.leak.text())
        except PigmapError as error:
            self.refuse(error, at)
            return
        self.do(
            change_net_kind(
                self._uid,
                name=self.name.text(),
                tape=self.tape.text(),
                bays_mm=bays,
                height_mm=round(high),
                price=price,
                ohm_per_km=ohm,
                leak=leak,
            )
        )

    @staticmethod
    def _some(what: Text, typed: str) -> float | None:
        return number(what, typed, "120") if typed.strip() else None


def _typed(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
