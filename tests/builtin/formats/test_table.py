from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from pigmap.builtin.formats.table import format as table
from pigmap.document.incoming import IncomingLayer
from pigmap.errors import OutlineError

SQUARE = shapely.box(9.0, 50.0, 9.001, 50.001)


def read(folder: Path, words: str | bytes, name: str = "a.csv") -> IncomingLayer:
    path = folder / name
    path.write_bytes(words.encode() if isinstance(words, str) else words)
    return table.read(path)


def test_shapes_as_words_are_longitude_and_latitude_where_they_can_be(tmp_path: Path) -> None:
    layer = read(tmp_path, f'name,WKT\nLey,"{SQUARE.wkt}"\nGone,\nTorn,POLYGON ((9\n')
    assert layer.crs == "EPSG:4326"
    assert [row.shape == SQUARE if row.shape is not None else None for row in layer.rows] == [True, None, None]
    assert [row.name for row in layer.rows] == ["Ley", "Gone", "Torn"]
    assert list(layer.rows[0].columns) == ["name"]


def test_words_may_name_their_coordinates_and_binary_is_read_too(tmp_path: Path) -> None:
    assert read(tmp_path, 'wkt\n"SRID=25832;POINT (500000 5540000)"\n\n').crs == "EPSG:25832"
    layer = read(tmp_path, f"name;geom\nLey;{SQUARE.wkb_hex}\n")
    assert layer.rows[0].shape == SQUARE
    assert read(tmp_path, "name,wkt\nLey,POINT (500000 5540000)\n").crs == ""


@pytest.mark.parametrize(
    ("head", "row", "crs"),
    [
        ("lat,lon", "50.5,9.25", "EPSG:4326"),
        ("Longitude\tLatitude", "9.25\t50.5", "EPSG:4326"),
        ("Breite;Länge", "50,5;9,25", "EPSG:4326"),
        ("easting,northing", "9.25,50.5", ""),
        ("x_m,y_m,lon_deg,lat_deg", "1,2,9.25,50.5", "EPSG:4326"),
    ],
)
def test_two_columns_are_a_place(tmp_path: Path, head: str, row: str, crs: str) -> None:
    layer = read(tmp_path, f"{head}\n{row}\n")
    assert layer.rows[0].shape == shapely.Point(9.25, 50.5)
    assert layer.crs == crs


def test_a_table_needs_no_place(tmp_path: Path) -> None:
    layer = read(tmp_path, "group,paddock\nSows,1\n,\nWeaners\n")
    assert [row.shape for row in layer.rows] == [None, None]
    assert [dict(row.columns) for row in layer.rows] == [
        {"group": "Sows", "paddock": "1"}, {"group": "Weaners", "paddock": None}
    ]  # fmt: skip


def test_columns_of_one_name_or_none_are_told_apart(tmp_path: Path) -> None:
    assert list(read(tmp_path, "a,a,\n1,2,3\n").rows[0].columns) == ["a", "a 2", "column 3"]


def test_a_value_may_be_long_and_hold_lines(tmp_path: Path) -> None:
    line = shapely.LineString([(9 + at / 1e6, 50.0) for at in range(20_000)])
    layer = read(tmp_path, f'name,wkt\n"Ley\nnorth","{line.wkt}"\n')
    assert layer.rows[0].columns["name"] == "Ley\nnorth"
    assert layer.rows[0].shape == line


@pytest.mark.parametrize("words", [b"\x00\x01\x02", b"one line only\n", b"a,b\n"])
def test_what_is_no_table_is_refused(tmp_path: Path, words: bytes) -> None:
    with pytest.raises(OutlineError, match=r"a\.csv is not a table\. Give a text file \(CSV\): a first row"):
        read(tmp_path, words)


def test_a_table_has_one_layer(tmp_path: Path) -> None:
    read(tmp_path, "a,b\n1,2\n")
    assert table.layers(tmp_path / "a.csv") == ("a",)
    assert table.read(tmp_path / "a.csv", "A").name == "a"
    with pytest.raises(OutlineError, match=r"a\.csv has no layer b\. It is one table: leave the layer out"):
        table.read(tmp_path / "a.csv", "b")


def test_a_table_that_is_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pigmap.builtin.formats.table_words.MOST_BYTES", 3)
    with pytest.raises(OutlineError, match=r"a\.csv has more than 0 MB, too much .* Cut out the rows of the farm"):
        read(tmp_path, "a,b\n1,2\n")


@pytest.mark.parametrize(("ending", "driver"), [(".xlsx", "XLSX"), (".ods", "ODS")])
def test_sheets_of_a_spreadsheet_are_layers(tmp_path: Path, ending: str, driver: str) -> None:
    path = spreadsheet(tmp_path / f"a{ending}", driver, "Stays", group=["Sows", "Weaners"], days=[3.0, 5.0])
    spreadsheet(path, driver, "Places", append=True, name=["Oak"], lat=[50.5], lon=[9.25])
    assert table.layers(path) == ("Stays", "Places")
    assert [dict(row.columns) for row in table.read(path).rows] == [
        {"group": "Sows", "days": 3.0}, {"group": "Weaners", "days": 5.0}
    ]  # fmt: skip
    places = table.read(path, "places")
    assert (places.crs, places.rows[0].shape) == ("EPSG:4326", shapely.Point(9.25, 50.5))
    with pytest.raises(OutlineError, match=r"has no sheet Nets\. Its sheets are: Stays, Places"):
        table.read(path, "Nets")


def spreadsheet(path: Path, driver: str, layer: str, *, append: bool = False, **columns: list[Any]) -> Path:
    from pyogrio.raw import write

    values = [np.array(each, dtype=object if isinstance(each[0], str) else None) for each in columns.values()]
    write(path, None, values, list(columns), layer=layer, driver=driver, geometry_type=None, crs=None, append=append)
    return path


def test_what_is_no_spreadsheet_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(b"PK\x03\x04 and no more")
    with pytest.raises(OutlineError, match=r"a\.xlsx cannot be read as a spreadsheet\. Save the sheet as a text file"):
        table.read(tmp_path / "a.xlsx")
