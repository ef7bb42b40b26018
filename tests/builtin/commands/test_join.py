"""The command ``join``, as a person types it."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from pigmap.cli.main import main
from pigmap.records import Group, Projection, add, change
from pigmap.session import Session
from tests.store.made import edit

PLANE = Projection(name="plane", authority="NONE", code=0, definition="", ground_per_grid=1.0)
SOWS = Group(uid="sows", name="Sows")


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    """Return a farm with a copy beside it in which a group was noted otherwise and another one added."""
    path = tmp_path / "farm.gpkg"
    with Session.create(path, PLANE, "Farm", made_by="farm") as session:
        session.do(edit("Sows", add(SOWS))).result()
    shutil.copy(path, tmp_path / "copy.gpkg")
    for name, note in (("farm", "calm"), ("copy", "wild")):
        with Session.open(tmp_path / f"{name}.gpkg", made_by=name) as session:
            session.do(edit("Note", change(SOWS, replace(SOWS, note=note)))).result()
    return path


def test_it_says_what_came_and_lists_what_was_changed_in_both(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["join", str(farm), str(farm.with_name("copy.gpkg"))]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "Brought in 1 step from copy.gpkg (copy)."
    assert said[1] == "1 thing was changed in both. What was done last stands; look at it:"
    assert said[2].split() == ["what", "stands", "other"]
    assert said[3].startswith("Sows: note")
    assert "wild (copy" in said[3]
    assert "calm (farm" in said[3]
    with Session.open(farm) as session:
        assert session.farm.groups["sows"].note == "wild"


def test_as_json_it_is_the_table_alone(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["join", str(farm), str(farm.with_name("copy.gpkg")), "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert row["what"] == "Sows: note"


@pytest.mark.parametrize(
    ("copy", "said"),
    [
        ("farm.gpkg", "farm.gpkg is the farm itself. Name the copy that came back from the other computer."),
        ("nowhere.gpkg", "nowhere.gpkg"),
    ],
)
def test_what_is_no_copy_is_refused_in_words(
    farm: Path, copy: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["join", str(farm), str(farm.with_name(copy))]) == 1
    assert said in capsys.readouterr().err
    with Session.open(farm) as session:
        assert session.farm.groups["sows"].note == "calm"
