from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from pigmap.builtin.formats.vector import format as vector
from pigmap.cli.main import main
from tests.builtin.commands.test_ground import ROWS, written
from tests.ground.invented import farm


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("farm"), *ROWS)


def export(*given: object) -> int:
    return main(["export", *map(str, given)])


@pytest.mark.parametrize("what", ["fields", "paddocks", "corners", "stays", "checks"])
def test_each_kind_goes_to_a_file_that_is_named(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], what: str
) -> None:
    out = tmp_path / f"{what}.geojson"
    assert export(invented, "--what", what, "-o", out) == 0
    assert capsys.readouterr().out == f"{out}\n"
    assert len(vector.read(out).rows) == {"fields": 2, "paddocks": 3, "corners": 12, "stays": 1, "checks": 1}[what]


def test_the_ground_of_a_day_says_in_its_columns_what_is_a_share(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "ground.csv"
    assert export(invented, "--what", "ground", "--on", "2026-04-11", "-o", out) == 0
    with out.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["rest_days"] for row in rows] == ["5", ""]
    assert {"rooting_share", "cover_share", "load_kg_d_m2", "n_kg_ha", "ready_on", "WKT"} <= set(rows[0])
    assert export(invented, "--what", "ground", "--by", "cell", "--field", "field h", "-o", out) == 0
    assert len(out.read_text().splitlines()) == 1 + 15 * 15


def test_pigs_of_the_day_stand_with_their_paddock(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "paddocks.geojson"
    assert export(invented, "--what", "paddocks", "--on", "2026-04-03", "-o", out) == 0
    told = [each["properties"] for each in json.loads(out.read_text())["features"]]
    assert {row["name"]: row["group_on_day"] for row in told} == {
        "Paddock far": None, "Paddock p": "Group g", "Paddock q": None
    }  # fmt: skip
    assert {row["day"] for row in told} == {"2026-04-03"}


def test_only_one_field_or_paddock_can_be_asked_for(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "a.geojson"
    for given, count in (
        (["--what", "fields", "--field", "Field h"], 1),
        (["--what", "paddocks", "--field", "Field f"], 2),
        (["--what", "stays", "--field", "Field f"], 1),
        (["--what", "corners", "--paddock", "Paddock q"], 4),
        (["--what", "corners", "--field", "Field f"], 8),
        (["--what", "corners", "--field", "Field h"], 4),
    ):
        assert export(invented, *given, "-o", out) == 0
        assert len(vector.read(out).rows) == count


def test_the_list_of_nets_is_the_one_that_the_window_writes(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "nets.csv"
    assert export(invented, "--what", "nets", "-o", out) == 0
    assert out.read_text(encoding="utf-8-sig").startswith("kind,length_m,tape,number")


@pytest.mark.parametrize(
    ("given", "words", "status"),
    [
        (["--what", "ways"], "invented.gpkg has no ways to hand out. Look at the farm in the window", 1),
        (["--what", "fields", "--field", "x"], "There is no field x. The farm has: Field f, Field h.", 2),
        (["--what", "fields", "--paddock", "x"], "--paddock counts only with --what corners. Leave it out", 2),
        (["--what", "fields", "--by", "cell"], "--by counts only with --what ground. Leave it out", 2),
        (["--what", "places", "--field", "Field f"], "Places belong to no field. Leave --field out", 2),
    ],
)
def test_what_cannot_be_handed_out_is_refused_in_words(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], given: list[str], words: str, status: int
) -> None:
    assert export(invented, *given, "-o", tmp_path / "a.geojson") == status
    assert words in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_list_of_nets_goes_to_no_map(invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert export(invented, "--what", "nets", "-o", tmp_path / "a.kml") == 2
    assert "The list of nets has no shapes, so it is not written to a.kml. End the name in .csv." in (
        capsys.readouterr().err
    )


def test_what_a_format_cannot_hold_is_told_on_standard_error(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert export(invented, "--what", "fields", "-o", tmp_path / "a.shp") == 0
    assert "at most ten letters in a Shapefile" in capsys.readouterr().err


def test_a_farm_without_ground_has_none_to_hand_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert not farm().fields
    path = written(tmp_path)
    assert export(path, "--what", "ground", "-o", tmp_path / "a.csv") == 1
    assert "has no ground in fields to hand out." in capsys.readouterr().err
