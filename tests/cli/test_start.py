from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

import pytest

from pigmap.cli.main import main
from pigmap.errors import DisplayError
from pigmap.paths import data_folder
from pigmap.plugins import Registry
from pigmap.session.personal import Personal, save_personal
from pigmap.session.sample import SamplePaths
from tests.plugins.strangers import entry

opened: list[Path] = []


def window(path: Path | Callable[[], Path]) -> int:
    opened.append(path if isinstance(path, Path) else path())
    return 0


def shut_window(path: Path) -> int:
    raise DisplayError("The display {display} does not answer.", display=":7")


class Drawing:
    """Stands for the commands that draw: writes a file and says so."""

    api = 1
    summary = "draws"

    def __init__(self, name: str) -> None:
        self.name = name

    def options(self, parser: argparse.ArgumentParser) -> None:
        parser.add_argument("farm", type=Path)
        parser.add_argument("-o", type=Path)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        assert given.farm.is_file()
        given.o.write_text("drawn")
        return 0


picture, sheet = Drawing("picture"), Drawing("sheet")


@pytest.fixture(autouse=True)
def small_sample(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Do not draw the whole farm each time, and begin in an empty folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("pigmap.session.sample.write_sample", _write_small)
    opened.clear()


def _write_small(folder: Path, *, today: object, replace: bool = False) -> SamplePaths:
    folder.mkdir(parents=True, exist_ok=True)
    paths = SamplePaths(folder / "sample-farm.gpkg", folder / "aerial.tif", folder / "weather.csv")
    for path in paths:
        path.write_text("sample")
    return paths


def _registry(face: str = "window") -> Registry:
    return Registry(
        [
            entry("faces", "window", f"{__name__}:{face}", "pigmap"),
            entry("commands", "picture", f"{__name__}:picture", "pigmap"),
            entry("commands", "sheet", f"{__name__}:sheet", "pigmap"),
        ]
    )


def _seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.setenv("DISPLAY", ":0")


def test_without_a_display_it_writes_farm_picture_and_map_and_says_why(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main([], _registry()) == 0
    lines = capsys.readouterr().out.splitlines()
    made = ["sample-farm.gpkg", "aerial.tif", "weather.csv", "window.png", "field-map.pdf"]
    assert lines[:-1] == [str(tmp_path / "pigmap-sample" / name) for name in made]
    assert all(Path(line).is_file() for line in lines[:-1])
    assert lines[-1].startswith("The window needs a display")
    assert not opened


def test_a_second_time_only_its_own_files_are_replaced(tmp_path: Path) -> None:
    assert main([], _registry()) == 0
    own = tmp_path / "pigmap-sample" / "notes.txt"
    own.write_text("mine")
    assert main([], _registry()) == 0
    assert own.read_text() == "mine"


def test_with_a_display_the_first_start_opens_the_sample_in_the_persons_own_folder(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _seen(monkeypatch)
    assert main([], _registry()) == 0
    assert opened == [data_folder() / "sample" / "sample-farm.gpkg"]


def test_the_sample_that_a_person_has_is_not_written_again(monkeypatch: pytest.MonkeyPatch) -> None:
    _seen(monkeypatch)
    main([], _registry())
    opened[0].write_text("worked on")
    main([], _registry())
    assert opened[1].read_text() == "worked on"


def test_with_a_display_it_opens_the_last_farm(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _seen(monkeypatch)
    last = tmp_path / "mine.gpkg"
    last.write_text("farm")
    assert save_personal(Personal(last_farm=str(last)))
    assert main([], _registry()) == 0
    assert opened == [last]


def test_a_last_farm_that_is_gone_gives_way_to_the_sample(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _seen(monkeypatch)
    assert save_personal(Personal(last_farm=str(tmp_path / "gone.gpkg")))
    assert main([], _registry()) == 0
    assert opened == [data_folder() / "sample" / "sample-farm.gpkg"]


def test_a_display_that_does_not_answer_is_no_display(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _seen(monkeypatch)
    assert main([], _registry("shut_window")) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "The display :7 does not answer."
