from __future__ import annotations

import os
from pathlib import Path

import pytest

from pigmap.errors import DisplayError
from pigmap.qt import platform
from pigmap.qt.platform import draw_off_screen, need_display, need_picture


def _all(_: str) -> bool:
    return True


def test_no_display_is_said_and_names_the_commands_that_need_none() -> None:
    with pytest.raises(DisplayError) as caught:
        need_display({}, system="linux")
    assert "needs a display" in str(caught.value.message)
    assert "pigmap picture" in str(caught.value.remedy)
    assert "pigmap sheet" in str(caught.value.remedy)


def test_a_missing_library_is_named_with_its_package() -> None:
    with pytest.raises(DisplayError) as caught:
        need_display({"DISPLAY": ":0"}, system="linux", opens=lambda file: "cursor" not in file, answers=_all)
    assert "libxcb-cursor.so.0" in str(caught.value.message)
    assert "apt install libxcb-cursor0" in str(caught.value.remedy)


def test_a_display_that_does_not_answer_is_named() -> None:
    with pytest.raises(DisplayError) as caught:
        need_display({"DISPLAY": ":77"}, system="linux", opens=_all, answers=lambda _: False)
    assert ":77 does not answer" in str(caught.value.message)
    assert "pigmap picture" in str(caught.value.remedy)


def test_nobody_listens_on_a_display_number_that_is_not_used() -> None:
    assert not platform._x11_answers(":7654")


@pytest.mark.parametrize("system", ["win32", "darwin"])
def test_windows_and_macos_need_no_variable(system: str) -> None:
    need_display({}, system=system)


def test_a_platform_that_someone_chose_is_taken_at_its_word() -> None:
    need_display({"QT_QPA_PLATFORM": "offscreen"}, system="linux", opens=lambda _: False)


def test_a_wayland_socket_is_a_display(tmp_path: Path) -> None:
    (tmp_path / "wayland-0").touch()
    around = {"WAYLAND_DISPLAY": "wayland-0", "XDG_RUNTIME_DIR": str(tmp_path)}
    need_display(around, system="linux", opens=_all)
    with pytest.raises(DisplayError):
        need_display({**around, "XDG_RUNTIME_DIR": str(tmp_path / "gone")}, system="linux", opens=_all)


def test_a_picture_without_its_library_names_the_package() -> None:
    with pytest.raises(DisplayError) as caught:
        need_picture(system="linux", opens=lambda file: file != "libEGL.so.1")
    assert "The picture needs libEGL.so.1" in str(caught.value.message)
    assert "apt install libegl1" in str(caught.value.remedy)


def test_drawing_off_screen_forgets_the_desktop(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "QT_SCALE_FACTOR", "QT_SCALE_FACTOR_ROUNDING_POLICY"):
        monkeypatch.setenv(name, "x")
    monkeypatch.setenv("QT_STYLE_OVERRIDE", "strange")
    draw_off_screen(2.0)
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
    assert os.environ["QT_SCALE_FACTOR"] == "2"
    assert "QT_STYLE_OVERRIDE" not in os.environ
