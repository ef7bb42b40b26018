"""The plate for rain and hot days: what stood in the gauge, which days are hot, and weather from a file."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.card_field import typed_day
from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.weather_file import WeatherFile
from pigmap.builtin.panels.weather_typed import rain_typed
from pigmap.document.edits import call_hot
from pigmap.drawing.words import day_words
from pigmap.errors import EditError, PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.day_weather import weather_of, weather_words
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Edit

TARGET = 44
"""Height of what a thumb hits [px]."""


class Weather(AsidePlate):
    """Enter writes the rain down and puts the plate away; a hot day is one touch, taken back by another."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Rain and hot days"))
        self._asker = Asker(stage, self)
        unit = stage.say("Rain in the gauge, inches" if stage.units == "us" else "Rain in the gauge, mm")
        self.rain = FormLine(stage, unit, self, stage.say("none is 0"))
        self.day = FormLine(stage, stage.say("Day"), self, "2026-03-01")
        self.known = Words(stage, "second", self, "", "ink2")
        self.refused = Words(stage, "body", self, "", "no")
        self.take = WordButton(stage, stage.say("Write it down"), "plain", self)
        self.hot = WordButton(stage, "", "switch", self)
        self.hot_next = WordButton(stage, "", "switch", self)
        self.file = WeatherFile(stage, self)
        self._of_rain: list[QWidget] = [self.take, self.rain, self.day, self.hot_next]
        self._labelled(self.rain)
        self._labelled(self.day)
        for widget in (self.known, self.refused):
            self.column.addWidget(widget)
        self._lay_buttons()
        self.take.clicked.connect(self.write)
        self.rain.returnPressed.connect(self.write)
        self.day.returnPressed.connect(self.write)
        self.day.textChanged.connect(self._show_day)
        self.hot.clicked.connect(lambda: self._toggle(self._day()))
        self.hot_next.clicked.connect(lambda: self._toggle(stage.today + timedelta(days=1)))
        self.file.grown.connect(self._refit)
        stage.farm_changed.connect(self._farm_changed)

    def _labelled(self, line: FormLine) -> None:
        label = QLabel(line.accessibleName(), self)
        label.setFont(font("second", self.stage))
        label.setBuddy(line)
        line.setFixedHeight(round(TARGET * self.stage.text_scale))
        self._of_rain.append(label)
        self.column.addWidget(label)
        self.column.addWidget(line)

    def _lay_buttons(self) -> None:
        high = round(TARGET * self.stage.text_scale)
        for button in (self.take, self.hot, self.hot_next):
            button.setFixedHeight(high)
            button.setCheckable(button is not self.take)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.hot, 1)
        row.addWidget(self.hot_next, 1)
        self.column.addWidget(self.take)
        self.column.addLayout(row)
        self.column.addWidget(self.file)

    def first(self) -> QWidget:
        """Return the line for rain."""
        return self.rain

    def renew(self) -> None:
        """Begin with the day that is shown, or with today where that is to come."""
        self.rain.clear()
        self.refused.say("")
        self.file.renew()
        self.day.setText(min(self.stage.day, self.stage.today).isoformat())
        self._show_day()

    def _day(self) -> date | None:
        try:
            return typed_day(self.day.text()) or self.stage.today
        except EditError:
            return None

    def _show_day(self) -> None:
        """Say what is known of the day, and which days are hot."""
        stage, day = self.stage, self._day()
        farm, tomorrow = stage.session.farm, stage.today + timedelta(days=1)
        row = weather_of(farm, day) if day is not None else None
        known = weather_words(row)
        if day is not None and known:
            said = day_words(day, "short year", language=stage.language)
            self.known.say(stage.say("Written down for {day}: {weather}.", day=said, weather=known))
        else:
            self.known.say("")
        said = day_words(day or stage.today, "short", language=stage.language)
        self._name(self.hot, stage.say("Hot on {day}", day=said), row is not None and row.hot)
        after = weather_of(farm, tomorrow)
        self._name(self.hot_next, stage.say("Hot tomorrow"), after is not None and after.hot)
        self._refit()

    @staticmethod
    def _name(button: WordButton, words: str, holds: bool) -> None:
        button.setText(words)
        button.setAccessibleName(words)
        button.setChecked(holds)

    def _farm_changed(self, changes: ChangeSet) -> None:
        if not self.isHidden() and any(changes.of("weather_days")):
            self._show_day()

    def _refit(self) -> None:
        """Do without the lines for rain while the columns of a file are told: a low map has no room for both."""
        telling = not self.file.lists.isHidden()
        for part in self._of_rain:
            part.setVisible(not telling)
        self.hot.setVisible(not telling and self._day() not in (None, self.stage.today + timedelta(days=1)))
        for words in (self.known, self.refused):
            words.setVisible(not telling and bool(words.text()))
        if not self.isHidden():
            self.fit()

    def write(self) -> None:
        """Write the rain down, or say why not."""
        try:
            on = typed_day(self.day.text()) or self.stage.today
            self._need_past(on)
            edit = rain_typed(self.rain.text(), on, self.stage.units)
        except PigmapError as error:
            self._refuse(error)
            return
        self._ask(edit, goes=True)

    def _need_past(self, on: date) -> None:
        if on > self.stage.today:
            raise EditError(
                "{day} is still to come, so no rain of it is in the gauge.",
                remedy="Give today or a day that was.",
                day=on,
            )

    def _toggle(self, day: date | None) -> None:
        if day is None:
            return
        row = weather_of(self.stage.session.farm, day)
        self._ask(call_hot(day, hot=not (row is not None and row.hot)))

    def _ask(self, edit: Edit, *, goes: bool = False) -> None:
        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                self._refuse(error)
                self._show_day()
            elif error is None:
                self.stage.notice(edit.label, "done", "undo")
                if goes and self.isVisible():
                    self.put_away()

        self._asker.ask(edit, ended)

    def _refuse(self, error: PigmapError) -> None:
        self.refused.say(self.stage.words(sentence(error)))
        self._refit()
        self.rain.setFocus(Qt.FocusReason.OtherFocusReason)


class _Panel:
    name = "weather"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Weather(stage, parent)


panel = _Panel()
