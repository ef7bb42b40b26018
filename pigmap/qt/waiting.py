"""A window with one sentence, shown at once where the farm it waits for is still to be made."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEventLoop, QRectF, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.drawing.english import sort_of
from pigmap.drawing.tokens import THEMES
from pigmap.drawing.words import render
from pigmap.qt import fonts
from pigmap.qt.files import usual_language
from pigmap.qt.starting import application, show_usual, text_scale, theme_named
from pigmap.session.personal import load_personal
from pigmap.text import Text

LOOK_MS = 30
"""How often is looked whether the farm is made [ms]."""
TEXT_PX = 16


class Waiting(QWidget):
    """Lies where the window of the farm will lie, in its colours."""

    def __init__(self, words: Text) -> None:
        super().__init__()
        personal = load_personal()
        self._theme = THEMES[theme_named(personal.theme)]
        self._scale = text_scale(personal.text_pt)
        self._words = render(words, language=sort_of(personal.language or usual_language()))
        self.given_up = False
        """Whether a person closed it."""
        self.setWindowTitle("pigmap")
        self.setAccessibleName(self._words)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the sentence in the middle."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(self._theme.paper))
            painter.setFont(fonts.font(TEXT_PX * self._scale, 500))
            painter.setPen(QColor(self._theme.ink))
            middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(QRectF(self.rect()).adjusted(40, 40, -40, -40), int(middle), self._words)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Know that nobody waits any more."""
        self.given_up = True
        super().closeEvent(event)


def shown_while(make: Callable[[], Path], words: Text) -> tuple[Path, Waiting]:
    """Return what is made, and the window that was shown meanwhile; it goes once the farm's own is there.

    Parameters
    ----------
    make
        Makes the farm, on a thread of its own.
    words
        What is waited for.
    """
    app = application()
    app.setQuitOnLastWindowClosed(False)
    window = Waiting(words)
    show_usual(window)
    app.processEvents()
    made: list[Path] = []
    failed: list[BaseException] = []

    def work() -> None:
        try:
            made.append(make())
        except BaseException as error:  # noqa: BLE001  (raised again where it is waited for)
            failed.append(error)

    thread = threading.Thread(target=work, name="making the farm")
    thread.start()
    loop, look = QEventLoop(), QTimer(interval=LOOK_MS)
    look.timeout.connect(lambda: None if thread.is_alive() else loop.quit())
    look.start()
    loop.exec()
    look.stop()
    thread.join()
    if failed:
        window.deleteLater()
        raise failed[0]
    return made[0], window
