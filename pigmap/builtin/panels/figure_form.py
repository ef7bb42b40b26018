"""One figure of a thing that stays, told in the card's place: minutes to clear a ride, how far nets keep off a tree."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.told_form import ToldForm
from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import amend
from pigmap.errors import EditError
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Place, Way
from pigmap.text import Quantity, Text, Value
from pigmap.units import METRES_PER_FOOT

MOST_MIN = 6000.0
MOST_RADIUS_M = 100.0
"""More is a slip of the keys. Own choice."""


class FigureForm(ToldForm):
    """One line; left empty nothing is told."""

    def __init__(self, stage: Stage, row: Way | Place, parent: QWidget) -> None:
        self._row = row
        ride = isinstance(row, Way)
        self._per = 1.0 if ride or stage.units == "metric" else METRES_PER_FOOT
        super().__init__(stage, stage.say("Minutes to clear" if ride else "How far nets keep off"), parent)
        now = row.minutes_to_clear if isinstance(row, Way) else row.radius_m or None
        asked = stage.say("Minutes for all of it")
        if not ride:
            asked = stage.say("Radius, m") if stage.units == "metric" else stage.say("Radius, ft")
        empty = stage.say("not told") if ride else stage.say("0: nets may touch it")
        self.figure = self.add_line(asked, "" if now is None else f"{now / self._per:.3g}", empty)
        self.add_end()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.figure

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        row, typed = self._row, self.figure.text().strip()
        name = row.name or str(row.kind).capitalize()
        label = Text("{name} changed.", {"name": name})
        if isinstance(row, Way):
            minutes = number(Text("The time to clear"), typed, "25") if typed else None
            _need(Text("The time to clear"), minutes, MOST_MIN, "min")
            return Edit(label, amend("ways", row.uid, minutes_to_clear=minutes).changes)
        radius = number(Text("The radius"), typed, "9") * self._per if typed else 0.0
        _need(Text("The radius"), radius, MOST_RADIUS_M, "m")
        return Edit(label, amend("places", row.uid, radius_m=radius).changes)


def _need(what: Text, figure: float | None, most: float, unit: str) -> None:
    if figure is not None and not 0.0 <= figure <= most:
        values: dict[str, Value] = {"what": what, "figure": _said(figure, unit), "most": _said(most, unit)}
        raise EditError("{what} is {figure}.", remedy="Give a figure from 0 to {most}.", **values)


def _said(figure: float, unit: str) -> Value:
    if unit == "m":
        return Quantity(figure, "m", 0)
    return Text("{minutes} minutes", {"minutes": f"{figure:g}"})
