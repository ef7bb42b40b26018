"""Tell whether this machine can show a window, before Qt is asked: Qt would end the program instead of saying why."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import DisplayError


class Library(NamedTuple):
    """A library of the system that Qt opens, and the Debian package that brings it."""

    file: str
    package: str


FOR_ANY_PICTURE = (
    Library("libEGL.so.1", "libegl1"),
    Library("libGL.so.1", "libgl1"),
    Library("libxkbcommon.so.0", "libxkbcommon0"),
    Library("libfontconfig.so.1", "libfontconfig1"),
    Library("libdbus-1.so.3", "libdbus-1-3"),
    Library("libglib-2.0.so.0", "libglib2.0-0"),
)
"""What Qt needs on Linux even to draw into a file."""

FOR_A_WINDOW = (
    *FOR_ANY_PICTURE,
    Library("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
    Library("libxcb-cursor.so.0", "libxcb-cursor0"),
    Library("libxcb-icccm.so.4", "libxcb-icccm4"),
    Library("libxcb-image.so.0", "libxcb-image0"),
    Library("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    Library("libxcb-randr.so.0", "libxcb-randr0"),
    Library("libxcb-render-util.so.0", "libxcb-render-util0"),
    Library("libxcb-shape.so.0", "libxcb-shape0"),
    Library("libxcb-xkb.so.1", "libxcb-xkb1"),
)
"""What its window needs on an X11 display besides."""

Opens = Callable[[str], bool]


def need_display(
    environ: Mapping[str, str] | None = None,
    *,
    system: str = sys.platform,
    opens: Opens | None = None,
    answers: Callable[[str], bool] | None = None,
) -> None:
    """Refuse, in words, to open a window where none can be shown.

    Parameters
    ----------
    environ, system
        The surroundings; by default those of this process.
    opens, answers
        Whether a library can be opened, and whether a display answers.

    Raises
    ------
    DisplayError
        If there is no display, it does not answer, or a library is missing.
    """
    around = os.environ if environ is None else environ
    if system in ("win32", "darwin") or around.get("QT_QPA_PLATFORM"):
        return
    if _wayland_socket(around):
        _need_libraries(FOR_ANY_PICTURE, opens or _opens, "The window")
        return
    display = around.get("DISPLAY", "")
    if not display:
        raise DisplayError("The window needs a display, and this machine has none.", remedy=WITHOUT_A_WINDOW)
    _need_libraries(FOR_A_WINDOW, opens or _opens, "The window")
    if not (answers or _x11_answers)(display):
        raise DisplayError(
            "The display {display} does not answer, so the window cannot open.",
            remedy=WITHOUT_A_WINDOW,
            display=display,
        )


WITHOUT_A_WINDOW = "Draw it into a file with: pigmap picture; or print the field map with: pigmap sheet."


def need_picture(*, system: str = sys.platform, opens: Opens | None = None) -> None:
    """Refuse, in words, to draw where a library for it is missing.

    Raises
    ------
    DisplayError
        If one is missing.
    """
    if system not in ("win32", "darwin"):
        _need_libraries(FOR_ANY_PICTURE, opens or _opens, "The picture")


def _need_libraries(libraries: Iterable[Library], opens: Opens, what: str) -> None:
    missing = [library for library in libraries if not opens(library.file)]
    if missing:
        raise DisplayError(
            what + " needs {files}, which this machine lacks.",
            remedy="On Debian and its kin they come with: apt install {packages}",
            files=", ".join(library.file for library in missing),
            packages=" ".join(library.package for library in missing),
        )


def _opens(file: str) -> bool:
    try:
        ctypes.CDLL(file)
    except OSError:
        return False
    return True


def _wayland_socket(around: Mapping[str, str]) -> bool:
    name = around.get("WAYLAND_DISPLAY", "")
    return bool(name) and (Path(around.get("XDG_RUNTIME_DIR", "/nowhere")) / name).exists()


def _x11_answers(display: str) -> bool:
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return False
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(display.encode(), None)
    refused = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return not refused


def draw_off_screen(density: float = 1.0) -> None:
    """Make Qt draw without a display; only before the first QApplication of a process.

    One style, our own colours and font, and no guess from the desktop make the picture the same everywhere.
    """
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    os.environ["QT_SCALE_FACTOR"] = f"{density:g}"
    os.environ["QT_SCALE_FACTOR_ROUNDING_POLICY"] = "PassThrough"
    for name in ("QT_STYLE_OVERRIDE", "QT_QPA_PLATFORMTHEME", "QT_FONT_DPI"):
        os.environ.pop(name, None)
