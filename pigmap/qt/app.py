"""The window's program: opens a farm and shows it until the window is closed."""

from __future__ import annotations

from pathlib import Path

from pigmap.qt import collecting, platform
from pigmap.session.opening import Opening


def run(session_path: Path) -> int:
    """Show a farm in the window; return the exit status once it is closed.

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
        opening = Opening(session_path)
        from pigmap.qt import desktop  # Qt is imported only where a window can be, and while the farm is read

        return desktop.show(opening)
    finally:
        collecting.go_on()
