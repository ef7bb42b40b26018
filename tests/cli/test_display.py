from __future__ import annotations

import pytest

from pigmap.cli.display import without_display


@pytest.mark.parametrize(
    ("environ", "system", "unseen"),
    [
        ({}, "linux", True),
        ({"DISPLAY": ""}, "linux", True),
        ({"DISPLAY": ":0"}, "linux", False),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", False),
        ({"QT_QPA_PLATFORM": "offscreen"}, "linux", True),
        ({"QT_QPA_PLATFORM": "offscreen", "DISPLAY": ":0"}, "linux", True),
        ({"QT_QPA_PLATFORM": "minimal:enable_fonts"}, "win32", True),
        ({"QT_QPA_PLATFORM": "eglfs"}, "linux", False),
        ({}, "win32", False),
        ({}, "darwin", False),
    ],
)
def test_whether_somebody_would_see_a_window(environ: dict[str, str], system: str, unseen: bool) -> None:
    assert without_display(environ, system=system) is unseen
