"""How many days a paddock lasts a group, told in its card's place: in all, for one purpose, for a part of the year."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.lasts_facts import lasts_facts, paddock_lasts
from pigmap.builtin.panels.own_days_typed import OwnDaysTyped, own_days_words
from pigmap.builtin.panels.purpose_words import USE_WORDS
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Group, OwnDays, Use
from pigmap.records.keepers_days import own_days_of


class OwnDaysForm(ToldForm):
    """A figure that was told before is chosen and changed; with its days emptied it is taken out."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Days a paddock lasts {group}", group=group.name), parent)
        self._group = group
        self.rows.addWidget(Words(stage, "second", self, stage.say("Your own days lead, whatever the figures say.")))
        self._told = own_days_of(stage.session.farm, group.uid)
        choices = [(own_days_words(stage, each), each.uid) for each in self._told]
        self.which = self.add_choice(
            stage.say("Which"), [*choices, (stage.say("another"), "")], choices[0][1] if choices else ""
        )
        self.days = self.add_line(stage.say("Days"), "", self._usual())
        uses = [(stage.say("any"), None), *((stage.words(words), use) for use, words in USE_WORDS.items())]
        self.purpose = self.add_choice(stage.say("Ground that is for"), uses, None)
        year = stage.say("all year")
        self.first_day = self.add_line(stage.say("From"), "", year)
        self.last_day = self.add_line(stage.say("To"), "", year)
        self.learned: WordButton | None = None
        found = paddock_lasts(stage, group)
        if found is not None and found.own_pace and found.rooting.days:
            self.learned = self._make_learned(found.rooting.days)
        self.add_end(*([self.learned] if self.learned is not None else []))
        for part in self.parts[:2]:
            part.setVisible(bool(choices))
        self.which.currentIndexChanged.connect(self._choose)
        self._choose()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.days

    def _make_learned(self, days: float) -> WordButton:
        """Return the button that takes the days which the farm's own visits tell."""
        stage, said = self.stage, f"{max(round(days), 1)}"
        words = stage.say("Take {days} days, as this farm has taught", days=said)
        button = WordButton(stage, words, "link", self)
        button.clicked.connect(lambda: self.days.setText(said))
        self.rows.setAlignment(button, Qt.AlignmentFlag.AlignLeft)
        return button

    def _usual(self) -> str:
        """Return what counts now, as an example."""
        rows = lasts_facts(self.stage, self._group)
        return rows[0].figure if rows else "5"

    def _chosen(self) -> OwnDays | None:
        return next((each for each in self._told if each.uid == self.which.currentData()), None)

    def _choose(self, *_: object) -> None:
        """Show the figure that was chosen."""
        own = self._chosen()
        self.days.setText("" if own is None else f"{own.days:g}")
        self.purpose.setCurrentIndex(max(self.purpose.findData(own.purpose if own is not None else None), 0))
        self.first_day.setText(own.from_month_day or "" if own is not None else "")
        self.last_day.setText(own.to_month_day or "" if own is not None else "")

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        purpose = self.purpose.currentData()
        typed = OwnDaysTyped(
            self.days.text(),
            Use(purpose) if purpose is not None else None,
            self.first_day.text(),
            self.last_day.text(),
        )
        own = self._chosen()
        return typed.edit(self._group.uid, own.uid if own is not None else "", self.stage.language)
