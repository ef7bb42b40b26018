"""Tell, from the surroundings alone, whether anybody could see a window here."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping

from pigmap.text import Text

UNSEEN = ("offscreen", "minimal", "minimalegl")
"""Platforms of Qt that show nothing to anybody."""

NO_DISPLAY = Text("The window needs a display, and there is none here; everything else works without one.")


def without_display(environ: Mapping[str, str] | None = None, *, system: str = sys.platform) -> bool:
    """Whether a window would be seen by nobody.

    Parameters
    ----------
    environ, system
        The surroundings; by default those of this process.

    Notes
    -----
    A display that is named but does not answer, or a library that is missing, shows only when the window is opened:
    that raises a `DisplayError`.

    Examples
    --------
    >>> without_display({}, system="linux"), without_display({"DISPLAY": ":0"}, system="linux")
    (True, False)
    """
    around = os.environ if environ is None else environ
    chosen = around.get("QT_QPA_PLATFORM", "").split(":")[0]
    if chosen:
        return chosen in UNSEEN
    if system in ("win32", "darwin"):
        return False
    return not (around.get("DISPLAY") or around.get("WAYLAND_DISPLAY"))
