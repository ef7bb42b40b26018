"""The rows of the history brush that ask about work: what was done, when, until when, what nitrogen it brought."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from pigmap.builtin.tools.work_typed import WorkTyped, work_of
from pigmap.document.edits import GroundWork
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import GroundJobKind
from pigmap.records.told_words import WORK


class WorkRows(QWidget):
    """Asks only what the chosen work has."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 0)
        rows.setSpacing(6)
        self.what = ChoiceBox(stage, self)
        self.what.setAccessibleName(stage.say("What was done"))
        for kind, words in WORK.items():
            self.what.addItem(stage.words(words), kind)
        rows.addWidget(self.what)
        self._labels: list[QLabel] = []
        self.day = self._line(rows, stage.say("On the day"), stage.today.isoformat())
        self.until = self._line(rows, "", "")
        unit = stage.say("lb/ac") if stage.units == "us" else stage.say("kg/ha")
        self.nitrogen = self._line(rows, stage.say("Nitrogen it brought, {unit}", unit=unit), "")
        self.what.currentIndexChanged.connect(self._ask)
        self._ask()

    def _line(self, rows: QVBoxLayout, called: str, typed: str) -> KeptKeysLine:
        label, line = QLabel(called, self), KeptKeysLine(self)
        label.setBuddy(line)
        line.setText(typed)
        line.setMaxLength(10)
        line.setAccessibleName(called)
        self._labels.append(label)
        rows.addWidget(label)
        rows.addWidget(line)
        return line

    @property
    def kind(self) -> GroundJobKind:
        """The work that is chosen."""
        chosen: GroundJobKind = list(WORK)[max(self.what.currentIndex(), 0)]
        return chosen

    def _ask(self) -> None:
        """Ask for what the chosen work has: how long sown ground is shut, what manure brought."""
        stage, kind = self.stage, self.kind
        sown = kind is GroundJobKind.SEEDED
        words = stage.say("No pigs up to, if not 12 weeks") if sown else stage.say("Up to, if it took days")
        self._labels[1].setText(words)
        self.until.setAccessibleName(words)
        manure = kind is GroundJobKind.MANURE
        self._labels[2].setVisible(manure)
        self.nitrogen.setVisible(manure)

    def dress(self) -> None:
        """Take the fonts and colours of the theme."""
        stage, theme = self.stage, tokens(self.stage)
        for label in self._labels:
            label.setFont(font("second", stage))
            label.setStyleSheet(f"color: {theme.ink2}; background: transparent;")
        for widget in self.stops():
            widget.setFont(font("body", stage))

    def stops(self) -> tuple[QWidget, ...]:
        """Return what the Tab key goes through."""
        return self.what, self.day, self.until, self.nitrogen

    def work(self) -> GroundWork:
        """Return what is chosen and typed.

        Raises
        ------
        EditError
            If a day is none, or the nitrogen cannot be.
        """
        typed = WorkTyped(self.kind, self.day.text(), self.until.text(), self.nitrogen.text())
        return work_of(typed, self.stage.units)
