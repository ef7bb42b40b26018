from __future__ import annotations

import csv
import json
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest

from pigmap.cli.main import main
from pigmap.ground.listed import UNITS
from pigmap.ground.written import BANDS
from pigmap.records import Edit, Record, add
from pigmap.session import Session
from pigmap.store.connection import connect
from pigmap.text import Text
from tests.ground.invented import check, farm, field, herd, paddock, square, stay

ROWS = (
    *herd(),
    field(),
    field("h", square(200, 0, 30)),
    paddock(),
    paddock("q", square(50, 0)),
    paddock("far", square(900, 900), None),
    stay("s", 0, 5),
    check("c", 6, 2),
)
FIGURES = ["rest_days", "rooting", "cover", "load_kg_d_m2", "n_kg_ha", "p_kg_ha", "unknown", "ready_on"]


def written(folder: Path, *rows: Record) -> Path:
    """Write a farm file with these rows."""
    path = folder / "invented.gpkg"
    whole = farm(*rows)
    with Session.create(path, whole.projection, "Invented farm") as session:
        tables = [*rows, *whole.weather_days.values()]
        session.do(Edit(Text("Everything."), lambda _: [add(row) for row in tables])).result()
    return path


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("farm"), *ROWS)


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_a_row_for_each_paddock_goes_to_a_csv(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "g.csv"
    assert main(["ground", str(invented), "--on", "2026-04-11", "-o", str(out)]) == 0
    rows = rows_of(out)
    assert list(rows[0]) == ["field", "paddock", *FIGURES]
    assert [(row["field"], row["paddock"], row["rest_days"]) for row in rows] == [
        ("Field f", "Paddock p", "5"),
        ("Field f", "Paddock q", ""),
    ]
    assert rows[0]["load_kg_d_m2"] == "2.4"
    assert float(rows[0]["rooting"]) + float(rows[0]["cover"]) == pytest.approx(1)
    assert rows[0]["ready_on"] == "2026-05-06"
    assert rows[1]["ready_on"] == "2026-04-11"
    assert (rows[0]["unknown"], rows[1]["unknown"]) == ("0", "1")
    told = capsys.readouterr()
    assert told.out.strip() == str(out)
    assert (
        told.err.strip()
        == "Paddock Paddock far lies outside every field and is left out. Draw a field around it, or move it into one."
    )


def test_many_paddocks_outside_every_field_are_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    far = [paddock(f"far{n}", square(900 + 60 * n, 900), None) for n in range(7)]
    path = written(tmp_path, field(), *far)
    assert main(["ground", str(path), "-o", str(tmp_path / "g.csv")]) == 0
    assert capsys.readouterr().err.startswith(
        "7 paddocks lie outside every field and are left out: Paddock far0, Paddock far1, Paddock far2, Paddock far3, "
        "Paddock far4 and others. Draw a field around them, or move them into one."
    )


def test_a_row_for_each_field_is_printed_as_json(invented: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground", str(invented), "--on", "2026-04-11", "--by", "field", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert [list(row) for row in rows] == [["field", *FIGURES]] * 2
    assert [row["rest_days"] for row in rows] == [5, None]
    assert rows[0]["ready_on"] == "2026-05-06"


def test_a_field_without_a_paddock_says_why_there_is_no_row(invented: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground", str(invented), "--on", "2026-04-11", "--field", "Field h"]) == 0
    told = capsys.readouterr()
    assert told.err.strip() == "Field h has no paddock, so there is no row. Give --by field to see its ground."
    assert len(told.out.splitlines()) == 1
    assert main(["ground", str(invented), "--on", "2026-04-11", "--field", "Field h", "--by", "field"]) == 0
    assert capsys.readouterr().err == ""


def test_without_a_file_the_table_is_printed(invented: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground", str(invented), "--on", "2026-04-11", "--by", "field"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["field", *FIGURES]
    assert len(lines) == 3


def test_a_row_for_each_cell_says_where_it_lies(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "g.csv"
    assert (
        main(["ground", str(invented), "--on", "2026-04-11", "--by", "cell", "--field", "field F", "-o", str(out)]) == 0
    )
    rows = rows_of(out)
    assert len(rows) == 2500
    assert (rows[0]["x_m"], rows[0]["y_m"], rows[0]["rest_days"]) == ("500001", "5200001", "5")


def test_geojson_is_in_longitude_and_latitude(invented: Path, tmp_path: Path) -> None:
    out = tmp_path / "g.geojson"
    assert main(["ground", str(invented), "--on", "2026-04-11", "-o", str(out)]) == 0
    first = json.loads(out.read_text(encoding="utf-8"))["features"][0]
    lon, lat = first["geometry"]["coordinates"][0][0]
    assert (lon, lat) == (pytest.approx(9.0, abs=0.01), pytest.approx(46.95, abs=0.01))
    assert list(first["properties"]) == ["field", "paddock", *FIGURES]
    assert (first["properties"]["rest_days"], first["properties"]["ready_on"]) == (5, "2026-05-06")


def test_a_geopackage_is_in_the_coordinates_of_the_farm(invented: Path, tmp_path: Path) -> None:
    import pyogrio

    out = tmp_path / "g.gpkg"
    assert main(["ground", str(invented), "--on", "2026-04-11", "--by", "field", "-o", str(out)]) == 0
    about = pyogrio.read_info(out, layer="ground")
    assert about["crs"] == "EPSG:32632"
    assert list(about["fields"]) == ["field", *FIGURES]
    assert about["features"] == 2
    assert tuple(about["total_bounds"]) == (500_000.0, 5_200_000.0, 500_230.0, 5_200_100.0)


def test_a_raster_holds_the_cells_of_one_field_where_they_lie(invented: Path, tmp_path: Path) -> None:
    import rasterio

    out = tmp_path / "g.tif"
    assert main(["ground", str(invented), "--on", "2026-04-11", "--field", "Field f", "-o", str(out)]) == 0
    with rasterio.open(out) as raster:
        assert raster.descriptions == (*FIGURES[:-2], "ready_in_days", "unknown")
        assert raster.crs.to_epsg() == 32632
        rest, unknown = raster.read(1), raster.read(8)
        used = next(iter(raster.sample([(500_010, 5_200_010)], indexes=[1, 4])))
    assert rest.shape == (50, 50)
    assert used.tolist() == pytest.approx([5, 2.4])
    assert (rest == 5).sum() == 625
    assert np.nansum(unknown) == 2500 - 625
    assert np.isnan(rest[0, 0])


def test_rasterio_reads_units_meanings_and_the_day_of_a_raster(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import rasterio

    out = tmp_path / "g.tif"
    assert main(["ground", str(invented), "--on", "2026-04-11", "--field", "Field f", "-o", str(out)]) == 0
    with rasterio.open(out) as raster:
        assert raster.units == ("d", "1", "1", "kg.d/m2", "kg/ha", "kg/ha", "d", "1")
        assert raster.tags(5)["what"] == "nitrogen laid on in the twelve months before"
        assert raster.tags()["day"] == "2026-04-11"
        nitrogen = raster.read(5)
    capsys.readouterr()
    assert main(["ground", str(invented), "--on", "2026-04-11", "--json"]) == 0
    paddock_p = json.loads(capsys.readouterr().out)[0]
    assert paddock_p["n_kg_ha"] > 0
    assert float(np.nanmax(nitrogen)) == pytest.approx(paddock_p["n_kg_ha"], abs=0.05)


@pytest.mark.parametrize("by", ["cell", "paddock", "field"])
def test_geopandas_reads_a_geopackage_with_units_in_its_metadata(invented: Path, tmp_path: Path, by: str) -> None:
    import geopandas
    import pyogrio

    out = tmp_path / "g.gpkg"
    assert main(["ground", str(invented), "--on", "2026-04-11", "--by", by, "-o", str(out)]) == 0
    read = geopandas.read_file(out)
    assert set(FIGURES) < set(read.columns)
    assert read.crs.to_epsg() == 32632
    used = read[read.rest_days == 5]
    assert len(used) == {"cell": 625, "paddock": 1, "field": 1}[by]
    assert str(used.ready_on.iloc[0])[:10] == "2026-05-06"
    about = pyogrio.read_info(out)["layer_metadata"]
    assert {name: about[f"unit {name}"] for name in ("rest_days", "rooting", "load_kg_d_m2", "n_kg_ha")} == {
        "rest_days": "d",
        "rooting": "1",
        "load_kg_d_m2": "kg.d/m2",
        "n_kg_ha": "kg/ha",
    }
    assert about["rooting"] == "share of the ground that is rooted"
    assert about["day"] == "2026-04-11"


def test_geopandas_reads_a_csv_as_it_was_printed(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import geopandas

    out = tmp_path / "g.csv"
    asked = ["ground", str(invented), "--on", "2026-04-11", "--by", "field"]
    assert main([*asked, "-o", str(out)]) == 0
    capsys.readouterr()
    assert main([*asked, "--json"]) == 0
    printed = json.loads(capsys.readouterr().out)
    read = geopandas.read_file(out)
    assert list(read.columns) == ["field", *FIGURES]
    for name in ("rooting", "cover", "load_kg_d_m2", "n_kg_ha", "unknown"):
        assert read[name].astype(float).tolist() == [row[name] for row in printed]
    assert read.ready_on.tolist() == [row["ready_on"] for row in printed]


def test_every_column_has_a_unit() -> None:
    assert set(FIGURES) <= set(UNITS)
    assert set(BANDS) <= set(UNITS)


@pytest.mark.parametrize(
    ("options", "status", "words"),
    [
        (["--field", "Meadow"], 2, "There is no field Meadow in invented.gpkg. It has: Field f, Field h.\n"),
        (
            ["-o", "g.xlsx"],
            2,
            "g.xlsx ends in .xlsx, a kind of file that the ground is not written to. "
            "End its name in one of: .csv, .geojson, .gpkg, .tif.\n",
        ),
        (
            ["-o", "ground"],
            2,
            "ground ends in nothing, a kind of file that the ground is not written to. "
            "End its name in one of: .csv, .geojson, .gpkg, .tif.\n",
        ),
        (
            ["-o", "g.tif"],
            2,
            "A raster holds one field; the farm has 2. Name one with --field: Field f, Field h.\n",
        ),
        (
            ["-o", "g.tif", "--by", "paddock"],
            2,
            "g.tif holds every square of the ground, not a row for each paddock. "
            "Leave --by out, or end the name in .csv, .geojson or .gpkg.\n",
        ),
    ],
)
def test_what_cannot_be_answered_is_refused_in_words(
    invented: Path, options: list[str], status: int, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ground", str(invented), *options]) == status
    told = capsys.readouterr()
    assert told.err == words
    assert told.out == ""


@pytest.mark.parametrize("name", ["g.csv", "g.geojson", "g.gpkg", "g.tif"])
def test_a_folder_that_is_not_there_is_told_and_nothing_is_left(
    invented: Path, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "missing" / name
    assert main(["ground", str(invented), "--field", "Field f", "-o", str(out)]) == 1
    told = capsys.readouterr().err
    assert told.startswith(f"{name} cannot be written: ")
    assert told.endswith(f"Look whether the folder {out.parent} is there, may be written to and has room.\n")
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_stops_half_way_leaves_the_old_one(
    invented: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "g.csv"
    out.write_text("old", encoding="utf-8")

    def full(path: Path, rows: object) -> None:
        path.write_text("half", encoding="utf-8")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pigmap.ground.written._write_csv", full)
    assert main(["ground", str(invented), "-o", str(out)]) == 1
    assert out.read_text(encoding="utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["g.csv"]


def test_a_farm_without_fields_has_no_ground(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path)
    assert main(["ground", str(path)]) == 1
    assert capsys.readouterr().err == (
        "invented.gpkg has no fields, so there is no ground to tell about. Draw a field in the window, or make a farm "
        "from outlines: pigmap new FARM --fields FILE.\n"
    )


def test_a_day_before_the_first_stay_is_answered_and_said(
    invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "g.csv"
    assert main(["ground", str(invented), "--on", "2020-01-01", "--field", "Field f", "-o", str(out)]) == 0
    assert capsys.readouterr().err == (
        "Nothing is recorded there up to 2020-01-01: the first pigs came on 2026-04-01. What was before is not "
        "known; give a later day after --on to see more.\n"
    )
    assert {row["rest_days"] for row in rows_of(out)} == {""}


def test_a_row_that_other_software_made_unreadable_is_told_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, *ROWS)
    with closing(connect(path)) as db:
        db.execute("UPDATE paddocks SET geom = substr(geom, 1, 60) WHERE uid = 'q'")
    assert main(["ground", str(path), "--on", "2026-04-11", "--field", "Field f"]) == 0
    shown = capsys.readouterr()
    assert shown.err.startswith("A row of paddocks that other software wrote is left out (q): ")
    assert "Paddock p" in shown.out
    assert "Paddock q" not in shown.out
    assert main(["verify", str(path), "--on", "2026-04-11"]) == 1
    shown = capsys.readouterr()
    assert shown.out.count("is left out (q)") == 1
    assert "is left out" not in shown.err
