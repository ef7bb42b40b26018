"""What scrolls in a card's place while something of it is told: purposes of a field, nets, a weight, an energizer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.energizer_form import EnergizerForm
from pigmap.builtin.panels.feed_form import FeedForm
from pigmap.builtin.panels.figure_form import FigureForm
from pigmap.builtin.panels.happened_form import HappenedForm
from pigmap.builtin.panels.kept_form import KeptForm
from pigmap.builtin.panels.needs_form import NeedsForm
from pigmap.builtin.panels.nets_form import NetsForm
from pigmap.builtin.panels.own_days_form import OwnDaysForm
from pigmap.builtin.panels.purpose_form import PurposeForm
from pigmap.builtin.panels.soil_form import SoilForm
from pigmap.builtin.panels.told_jobs import ToldJobs
from pigmap.builtin.panels.took_form import TookForm
from pigmap.builtin.panels.weigh_form import WeighForm
from pigmap.qt.stage import Stage
from pigmap.records import Field, Group, Paddock, Place, Way

_Form = (
    PurposeForm
    | ToldJobs
    | SoilForm
    | WeighForm
    | NetsForm
    | EnergizerForm
    | FeedForm
    | FigureForm
    | HappenedForm
    | TookForm
    | NeedsForm
    | OwnDaysForm
    | KeptForm
)

_OF_GROUP: Mapping[str, Callable[[Stage, Group, QWidget], _Form]] = MappingProxyType(
    {
        "happened": HappenedForm,
        "took": TookForm,
        "needs": NeedsForm,
        "days": OwnDaysForm,
        "kept": KeptForm,
    }
)

FOR_CLOSE = 36
FOR_BAR = 10
"""Kept free beside the form for the bar that scrolls it [px]."""


class CardForm(QScrollArea):
    """Scrolls where the card has not room for all of it."""

    ended = Signal()
    grown = Signal()

    def __init__(
        self, stage: Stage, row: Field | Group | Paddock | Place | Way, parent: QWidget, deed: str = ""
    ) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._stage, self._row = stage, row
        self._take(_form(stage, row, self, deed))
        self.form.ended.connect(self.ended)

    def _take(self, form: _Form) -> None:
        """Show a form in place of the one before."""
        self.form = form
        form.head.setContentsMargins(0, 0, FOR_CLOSE, 0)
        self.setWidget(form)  # the one before goes
        form.grown.connect(self._grow)
        form.shows.connect(lambda part: self.ensureWidgetVisible(part, 0, 12))
        if isinstance(form, NeedsForm):
            form.asks.connect(self._go_on)

    def _go_on(self, deed: str) -> None:
        """Show a form that another asked for; that one comes back when it ends."""
        self._take(_form(self._stage, self._row, self, deed))
        self.form.ended.connect(self._go_back)
        self._show_taken()

    def _go_back(self) -> None:
        self._take(_form(self._stage, self._row, self, "needs"))
        self.form.ended.connect(self.ended)
        self._show_taken()

    def _show_taken(self) -> None:
        self.form.show()
        self._grow()
        self.form.first.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def beside(self) -> int:
        """Breadth that it takes beside what it shows [px]."""
        return FOR_BAR

    def begin(self) -> None:
        """Show it, with the keys in it."""
        self.show()
        self.raise_()
        self._lay_out()
        self.form.first.setFocus(Qt.FocusReason.OtherFocusReason)

    def high_at(self, width: int) -> int:
        """Return the height that all of it takes at a breadth [px]."""
        return self.form.high_at(width)

    def _grow(self) -> None:
        self.grown.emit()
        self._lay_out()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        wide = self.width() - FOR_BAR
        self.form.resize(wide, max(self.form.high_at(wide), self.height()))


def _form(stage: Stage, row: Field | Group | Paddock | Place | Way, parent: QWidget, deed: str) -> _Form:
    if isinstance(row, Way | Place) and deed == "figure":
        return FigureForm(stage, row, parent)
    if isinstance(row, Way) or (isinstance(row, Paddock) and deed == "fed"):
        return FeedForm(stage, row, parent)
    if isinstance(row, Place) or (isinstance(row, Group) and deed == "energizer"):
        return EnergizerForm(stage, row, parent)
    if isinstance(row, Group):
        return _OF_GROUP.get(deed, WeighForm)(stage, row, parent)
    if isinstance(row, Field) and deed == "told":
        return ToldJobs(stage, row, parent)
    if isinstance(row, Field) and deed == "soil":
        return SoilForm(stage, row, parent)
    return NetsForm(stage, row, parent) if isinstance(row, Paddock) else PurposeForm(stage, row, parent)
