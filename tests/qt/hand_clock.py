"""Motion by hand: things move as far as a test lets time pass, however busy the machine is."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QObject

from pigmap.qt import motion
from pigmap.qt.motion import Motion


class HandClock:
    """A clock that a test sets; what moves is believed to be on a screen."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.ms = 0.0
        monkeypatch.setattr(motion, "is_watched", lambda: True)
        monkeypatch.setattr(motion, "now_ms", lambda: self.ms)

    def let_pass(self, ms: float, over: QObject) -> None:
        """Let time pass, and have all that moves within an object take its frame."""
        self.ms += ms
        for each in over.findChildren(Motion):
            if each.running:
                each._frame()
