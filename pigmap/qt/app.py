"""The window's program: opens a farm and shows it until the window is closed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from pigmap.qt import collecting, platform
from pigmap.qt.own_import import take_back_import
from pigmap.session.opening import Opening
from pigmap.text import Text

MAKING = Text("The sample farm is being made. This takes some seconds, the first time only.")


def run(session_path: Path | Callable[[], Path]) -> int:
    """Show a farm in the window; return the exit status once it is closed.

    Parameters
    ----------
    session_path
        The farm file, or what makes the sample farm and returns its file: a window says so meanwhile.

    Raises
    ------
    DisplayError
        If no window can be shown here: no display, one that does not answer, or a missing library.
    StoreError
        If the farm cannot be opened.
    """
    platform.need_display()
    collecting.rest()
    try:
        waiting = None
        if not isinstance(session_path, Path):
            from pigmap.qt.waiting import shown_while

            session_path, waiting = shown_while(session_path, MAKING)
            if waiting.given_up:
                return 0
        opening = Opening(session_path)
        take_back_import()
        from pigmap.qt import desktop  # Qt is imported only where a window can be, and while the farm is read

        return desktop.show(opening, waiting)
    finally:
        collecting.go_on()
