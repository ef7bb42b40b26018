"""Motion: what a thing is, it is at once; only its pixels follow, for so long, and never where nobody wants it."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QStyle

from pigmap.session.personal import load_personal

SNAP_MS = 80
"""A ghost comes to rest on a side."""
PANEL_MS = 120
"""A plate or the card opens."""
GLIDE_MS = 160
"""The map goes a step, or to another scale."""
FADE_MS = 120
"""The ground is shown another way."""
MESSAGE_IN_MS, MESSAGE_OUT_MS = 100, 160
FRAME_MS = 16

UNSEEN = ("offscreen", "minimal", "vnc")
"""Platforms where nobody watches, or where every picture has a long way."""


def is_wanted() -> bool:
    """Whether what changes may move to where it is: never off screen, so that pictures show what is."""
    return is_watched() and is_allowed()


def is_watched() -> bool:
    """Whether the window is on a screen."""
    return QGuiApplication.platformName() not in UNSEEN


def is_allowed() -> bool:
    """Whether neither the computer nor the person asked for no motion."""
    return not _stilled_by_system() and load_personal().motion == "full"


def _stilled_by_system() -> bool:
    """Whether the computer asks for no motion: the style then gives animations no time."""
    style = QApplication.style()
    return style is not None and style.styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration) <= 0


def now_ms() -> float:
    """Return the time of a clock that only goes on [ms]."""
    return perf_counter() * 1000.0


def eased(share: float) -> float:
    """Return how far a thing has come after a share of its time: fast at first, then ever slower.

    Examples
    --------
    >>> eased(0.0), eased(0.5), eased(1.0)
    (0.0, 0.875, 1.0)
    """
    return 1.0 - (1.0 - min(max(share, 0.0), 1.0)) ** 3


class Motion(QObject):
    """One thing that moves: told frame by frame how far it has come. It ends with its parent.

    Parameters
    ----------
    parent
        What moves.
    step
        Called with 0 to 1, eased; the last call is with 1, unless it is stopped before.
    """

    def __init__(self, parent: QObject, step: Callable[[float], None]) -> None:
        super().__init__(parent)
        self._step = step
        self._length_ms = 1
        self._begun_ms = 0.0
        self._timer = QTimer(self, interval=FRAME_MS)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._frame)

    @property
    def running(self) -> bool:
        """Whether it moves now."""
        return self._timer.isActive()

    def begin(self, length_ms: int) -> None:
        """Move from the beginning, for so long [ms]; ask `is_wanted` before."""
        self._length_ms = length_ms
        self._begun_ms = now_ms()
        self._timer.start()
        self._step(0.0)

    def stop(self) -> None:
        """Stay where it is."""
        self._timer.stop()

    def _frame(self) -> None:
        share = (now_ms() - self._begun_ms) / self._length_ms
        if share >= 1.0:
            self._timer.stop()
        self._step(eased(share))
