from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from pigmap.cli.main import main
from pigmap.plugins import Registry
from tests.qt.window_farm import make_session


def test_without_a_display_it_says_so_in_one_line_and_names_what_needs_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    assert main(["open", str(tmp_path / "any.gpkg")]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
    assert "needs a display" in said.err
    assert "pigmap picture" in said.err
    assert "pigmap sheet" in said.err


def test_with_a_display_the_window_opens_on_that_farm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with make_session(tmp_path) as session:
        path = session.path
    opened: list[Path] = []
    usual = Registry.load

    def run(given: Path) -> int:
        opened.append(given)
        return 0

    def load(self: Registry, kind: str, name: str) -> Any:
        return run if (kind, name) == ("faces", "window") else usual(self, kind, name)

    monkeypatch.setattr(Registry, "load", load)
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.delenv("QT_QPA_PLATFORM")
    assert main(["open", str(path)]) == 0
    assert opened == [path]
