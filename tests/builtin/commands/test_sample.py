from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from pigmap.builtin.commands import sample
from pigmap.cli.main import main
from pigmap.errors import StoreError
from pigmap.session.sample import SamplePaths

asked: list[tuple[Path, date]] = []


@pytest.fixture(autouse=True)
def quick_sample(monkeypatch: pytest.MonkeyPatch) -> None:
    def write(folder: Path, *, today: date) -> SamplePaths:
        asked.append((folder, today))
        if folder.name == "full":
            raise StoreError("{folder} is full.", remedy="Choose another folder.", folder=folder.name)
        return SamplePaths(folder / "a.gpkg", folder / "a.tif", folder / "a.csv")

    asked.clear()
    monkeypatch.setattr(sample, "write_sample", write)


def test_it_prints_the_paths(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sample", "made"]) == 0
    assert capsys.readouterr().out.split() == [str(Path("made") / name) for name in ("a.gpkg", "a.tif", "a.csv")]
    assert asked == [(Path("made"), date.today())]


def test_the_day_can_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sample", "made", "--on", "2026-11-25", "--json"]) == 0
    assert asked == [(Path("made"), date(2026, 11, 25))]
    rows = json.loads(capsys.readouterr().out)
    assert [row["what"] for row in rows] == ["farm", "image", "weather"]


def test_a_refusal_of_the_disk_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sample", "full"]) == 1
    assert capsys.readouterr().err == "full is full. Choose another folder.\n"


def test_a_folder_must_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sample"]) == 2
    assert "the following arguments are required: FOLDER. See: pigmap sample --help" in capsys.readouterr().err
