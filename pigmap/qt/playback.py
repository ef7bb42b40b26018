"""Playing the past two years on the map: a week a step, until today or until someone clicks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt import motion
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.qt.stage import Stage

STEP_DAYS = 7
STEP_MS = 100
"""Between two steps at least [ms]."""
LONGEST_MS = 2_000
"""So long a step waits at most for the map to show the one before [ms]."""
TICK_MS = 20
PAST_DAYS = 730
PLAYS = "plays"
"""Property of a widget whose own press starts and stops: it is no click beside it."""


class Playback(QObject):
    """Steps the day that is shown; it goes the same road as a day that is dragged.

    Where nobody wants motion, each time it is asked for is one step.
    """

    changed = Signal(bool)
    """It plays now, or does not any more."""

    def __init__(self, stage: Stage) -> None:
        super().__init__(stage)
        self._stage = stage
        self._shown: date | None = None
        self._stepped_ms = 0.0
        self.shown: Callable[[], bool] = lambda: True
        """Whether the map shows the day, all of it; the map says."""
        self._timer = QTimer(self, interval=TICK_MS)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._step)

    @property
    def running(self) -> bool:
        """Whether it plays."""
        return self._timer.isActive()

    @property
    def first_day(self) -> date:
        """The day on which it begins: two years back, or the first day of the records where they begin later."""
        stage = self._stage
        since = min((stay.in_on for stay in stage.session.farm.stays.values()), default=stage.today)
        return min(max(since, stage.today - timedelta(days=PAST_DAYS)), stage.today)

    def toggle(self) -> None:
        """Play, or stop; go one step where nobody wants motion; say why where there is not one step of past."""
        if self.running:
            self.stop()
        elif self._stage.today - self.first_day < timedelta(days=STEP_DAYS):
            self._stage.notice(self._why_not(), "care")
        elif not motion.is_allowed():
            self._stage.show_day(self._next())
        else:
            self._begin()

    def _why_not(self) -> Text:
        stays = self._stage.session.farm.stays.values()
        if not stays:
            return Text("There is no past to play yet: no group was put in a paddock.")
        first = min(stay.in_on for stay in stays)
        return Text("There is not a week of past to play yet: the first stay begins on {day}.", {"day": first})

    def _begin(self) -> None:
        app = QCoreApplication.instance()
        if app is not None:
            app.installEventFilter(self)
        self._timer.start()
        self.changed.emit(True)
        self._show(self._next())

    def stop(self) -> None:
        """Stay on the day that is shown."""
        if not self.running:
            return
        self._timer.stop()
        app = QCoreApplication.instance()
        if app is not None:
            app.removeEventFilter(self)
        self.changed.emit(False)

    def _next(self) -> date:
        """Return the next day: from the begin where today or a day to come is shown, or one before the begin."""
        stage, first = self._stage, self.first_day
        if not first <= stage.day < stage.today:
            return first
        return min(stage.day + timedelta(days=STEP_DAYS), stage.today)

    def _step(self) -> None:
        if self._stage.day != self._shown:  # someone chose another day
            self.stop()
            return
        waited = motion.now_ms() - self._stepped_ms
        if waited < STEP_MS or (waited < LONGEST_MS and not self.shown()):
            return
        self._show(self._next())
        if self._stage.day >= self._stage.today:
            self.stop()

    def _show(self, day: date) -> None:
        self._shown, self._stepped_ms = day, motion.now_ms()
        self._stage.show_day(day)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stop at any click, and at Esc, which does nothing else then."""
        if not isinstance(watched, QWidget):  # a window of the system hears of it before its widgets
            return False
        if event.type() == QEvent.Type.MouseButtonPress and not watched.property(PLAYS):
            self.stop()
        escape = isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape
        if not escape or event.type() != QEvent.Type.KeyPress:
            return False
        self.stop()
        return True
