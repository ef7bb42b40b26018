"""Draw the whole window into a file, without a display."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from pigmap.errors import DisplayError, UsageError
from pigmap.qt import platform
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.session import Session

SIZES = ((320, 240), (7680, 4320))
"""Least and most breadth and height [px]."""
DENSITIES = (0.5, 4.0)
THEMES = ("light", "dark", "bright")


def write(
    session: Session,
    path: Path,
    *,
    day: date,
    show: str,
    theme: str,
    size: tuple[int, int],
    density: float,
    panel: str = "",
) -> Text:
    """Write a picture of the window; return what to say where the panel that was asked for has nothing to show.

    Parameters
    ----------
    session
        The open farm.
    path
        A ``.png`` file; complete, or not there.
    day
        The day that is shown.
    show
        Name of the way the ground is coloured; empty for the usual one.
    theme
        ``light``, ``dark`` or ``bright``.
    size, density
        Breadth and height in pixels of scale 1, and device pixels in one of them.
    panel
        One panel alone, by its name; empty for the whole window.

    Raises
    ------
    UsageError
        If the size, density, theme, way of colouring or panel is none that there is, or the file no ``.png``.
    DisplayError
        If this machine lacks a library to draw with, or the file cannot be written.
    """
    _check(session, path, show=show, theme=theme, size=size, density=density, panel=panel)
    platform.need_picture()
    platform.draw_off_screen(density)
    from pigmap.qt import drawn

    return drawn.draw(session, path, day=day, show=show, theme=theme, size=size, density=density, panel=panel)


def _check(
    session: Session, path: Path, *, show: str, theme: str, size: tuple[int, int], density: float, panel: str
) -> None:
    if path.suffix.lower() != ".png":
        raise UsageError(
            "{file} does not end in .png.", remedy="Name a .png file for the picture.", file=path.name or str(path)
        )
    (least_wide, least_high), (most_wide, most_high) = SIZES
    if not (least_wide <= size[0] <= most_wide and least_high <= size[1] <= most_high):
        raise UsageError(
            "A window of {wide} by {high} pixels cannot be drawn.",
            remedy="Give a size from {least} to {most}, such as 1600x1000.",
            wide=size[0],
            high=size[1],
            least=f"{least_wide}x{least_high}",
            most=f"{most_wide}x{most_high}",
        )
    if not DENSITIES[0] <= density <= DENSITIES[1]:
        raise UsageError(
            "A density of {density} cannot be drawn.",
            remedy="Give a number from {least} to {most}; 2 is for sharp screens.",
            density=f"{density:g}",
            least=f"{DENSITIES[0]:g}",
            most=f"{DENSITIES[1]:g}",
        )
    _check_name("theme", theme, THEMES)
    tints = [part.name for part in session.registry.parts("tints")]
    if show:
        _check_name("way to show the ground", show, tints)
    if panel:
        _check_name("panel", panel, [part.name for part in session.registry.parts("panels")])


def _check_name(what: str, name: str, known: tuple[str, ...] | list[str]) -> None:
    if name not in known:
        raise UsageError(
            "There is no {what} called {name}.",
            remedy="Choose one of: {known}.",
            what=what,
            name=name,
            known=", ".join(known),
        )


__all__ = ["DisplayError", "write"]
