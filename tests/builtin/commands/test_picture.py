from __future__ import annotations

from pathlib import Path

import pytest

from pigmap.builtin.commands.picture import size
from pigmap.cli.main import main
from pigmap.errors import UsageError
from tests.qt.window_farm import make_session


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    with make_session(tmp_path) as session:
        return session.path


@pytest.fixture(autouse=True)
def _same_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "QT_SCALE_FACTOR", "QT_SCALE_FACTOR_ROUNDING_POLICY"):
        monkeypatch.setenv(name, "offscreen" if name == "QT_QPA_PLATFORM" else "1")


def test_the_picture_is_written_and_its_path_printed(
    qapp: object, farm: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "w.png"
    status = main(["picture", str(farm), "-o", str(out), "--on", "2026-05-20", "--show", "rest", "--size", "1000x700"])
    assert status == 0
    assert capsys.readouterr().out.strip() == str(out)
    assert out.read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize("typed", ["1600", "1600 by 1000", "x1000", "-5x10", "1600x"])
def test_a_size_that_does_not_read_is_said_with_an_example(typed: str) -> None:
    with pytest.raises(UsageError) as caught:
        size(typed)
    assert str(caught.value.message) == f"{typed} is not a size."
    assert "1600x1000" in str(caught.value.remedy)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--on", "2026-02-30"], "2026-02-30 is not a day of the calendar."),
        (["--theme", "pink"], "There is no theme called pink."),
        (["--show", "mud"], "There is no way to show the ground called mud."),
        (["--panel", "attic"], "There is no panel called attic."),
        (["--size", "big"], "big is not a size."),
        (["--density", "12"], "A density of 12 cannot be drawn."),
    ],
)
def test_a_wrong_option_ends_with_status_two_and_one_sentence(
    farm: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], options: list[str], words: str
) -> None:
    assert main(["picture", str(farm), "-o", str(tmp_path / "w.png"), *options]) == 2
    said = capsys.readouterr()
    assert words in said.err
    assert len(said.err.strip().splitlines()) == 1
    assert not (tmp_path / "w.png").exists()


def test_a_farm_that_is_not_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["picture", str(tmp_path / "none.gpkg"), "-o", str(tmp_path / "w.png")]) == 1
    assert "none.gpkg" in capsys.readouterr().err
