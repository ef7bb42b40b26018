"""Paint without a window: no display is asked for, and style and font are ours."""

from __future__ import annotations

from PySide6.QtGui import QGuiApplication

from pigmap.qt.platform import draw_off_screen, need_picture
from pigmap.qt.starting import application

_kept: list[QGuiApplication] = []


def be_ready() -> None:
    """Make sure that Qt runs and knows the font; an application that runs already is used.

    Raises
    ------
    DisplayError
        If a library that Qt needs even to draw into a file is missing.
    """
    if QGuiApplication.instance() is None:
        need_picture()
        draw_off_screen()
        _kept.append(application())  # let go, it would end while its fonts are in use
    application()
