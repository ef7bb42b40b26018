"""Make what a window needs: the application in our look, and a stage for a session."""

from __future__ import annotations

import sys
from datetime import date

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QSize, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from pigmap.drawing.tokens import THEMES
from pigmap.qt import fonts
from pigmap.qt.stage import Stage
from pigmap.qt.theme import palette
from pigmap.session import Session

USUAL_TEXT_PT = 10.5
"""Points of a text size of 100 %: body text of 14 pixels at 96 to the inch."""
SWITCH_S = 0.0005
"""So soon a worker hands the interpreter to the window, a tenth of what is usual: a small share of a frame [s]."""
LEAST_SCALE, MOST_SCALE = 0.9, 1.5
USUAL_SIZE = QSize(1600, 1000)
"""Of the window [px]."""


def application() -> QApplication:
    """Return the application, made in one style with the bundled font; the one that is there already, if any."""
    there = QApplication.instance()
    if isinstance(there, QApplication):
        fonts.load_fonts()
        return there
    QGuiApplication.setHighDpiScaleFactorRoundingPolicy(Qt.HighDpiScaleFactorRoundingPolicy.PassThrough)
    made = QApplication(["pigmap"])
    made.setStyle("Fusion")
    made.setApplicationName("pigmap")
    made.setDesktopFileName("pigmap")
    fonts.load_fonts()
    made.setFont(fonts.font(14))
    sys.setswitchinterval(SWITCH_S)
    return made


def stage_for(session: Session, today: date, *, theme: str = "light", text_pt: float | None = None) -> Stage:
    """Return the stage of a session, in a theme and a size of text."""
    stage = Stage(session, today)
    stage.text_scale = text_scale(text_pt)
    stage.show_theme(theme)
    app = QApplication.instance()
    if isinstance(app, QApplication):
        app.setPalette(palette(THEMES[theme]))
    return stage


def show_usual(window: QWidget) -> None:
    """Show a window in its usual size, or as large as the screen where that is smaller."""
    screen = window.screen().availableGeometry()
    if screen.width() <= USUAL_SIZE.width() or screen.height() <= USUAL_SIZE.height():
        window.resize(screen.size())
        window.showMaximized()
    else:
        window.resize(USUAL_SIZE)
        window.move(screen.center() - window.rect().center())
        window.show()


def theme_named(name: str) -> str:
    """Return the theme that a choice means: ``system`` is the computer's own, light or dark."""
    if name != "system":
        return name
    scheme = QGuiApplication.styleHints().colorScheme()
    return "dark" if scheme == Qt.ColorScheme.Dark else "light"


def take_down(widget: QWidget) -> None:
    """Close a window and delete it at once, while all that it shows is still there."""
    widget.close()
    widget.deleteLater()
    QCoreApplication.sendPostedEvents(widget, QEvent.Type.DeferredDelete)


def let_go(thing: QObject) -> None:
    """Delete what no window shows at once: functions that were tied to its signals are let go of with it."""
    thing.deleteLater()
    QCoreApplication.sendPostedEvents(thing, QEvent.Type.DeferredDelete)


def text_scale(text_pt: float | None) -> float:
    """Return the text size for a size in points; 1 where none was chosen.

    Examples
    --------
    >>> text_scale(None), text_scale(21.0), text_scale(10.5)
    (1.0, 1.5, 1.0)
    """
    return 1.0 if text_pt is None else min(max(text_pt / USUAL_TEXT_PT, LEAST_SCALE), MOST_SCALE)
