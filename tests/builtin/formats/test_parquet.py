from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from pigmap.builtin.formats.parquet import format as parquet
from pigmap.errors import OutlineError
from pigmap.geometry.projection import to_projection
from pigmap.records.projection import NO_PLACE
from pigmap.session.handing_out import hand_out
from tests.session.handing_out.round_trip import metres_off, same
from tests.session.handing_out.test_round_trip import DAY, HOLE, NAMES, named, sample, tables


def test_without_its_library_a_file_is_refused_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow.parquet", None)
    (tmp_path / "a.parquet").write_bytes(b"PAR1")
    assert parquet.layers(tmp_path / "a.parquet") == ("a",)
    with pytest.raises(
        OutlineError, match=r"a\.parquet is read by the library pyarrow, .* not installed here\. Install"
    ):
        parquet.read(tmp_path / "a.parquet")


@pytest.mark.parametrize("what", list(tables()))
def test_what_is_handed_out_comes_back_as_it_was(tmp_path: Path, what: str) -> None:
    pytest.importorskip("pyarrow")
    handed, projection = tables()[what], sample().projection
    hand_out(handed, tmp_path / "a.parquet", projection)
    layer = parquet.read(tmp_path / "a.parquet")
    assert len(layer.rows) == len(handed)
    for at, row in enumerate(layer.rows):
        assert metres_off(handed.shapes[at], row.shape, layer.crs, projection, ".parquet") == 0.0
        for column in handed.columns:
            assert same(column.values[at], row.columns[column.name], ".parquet")


def test_any_name_comes_back_and_a_farm_without_a_place_names_none(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow")
    hand_out(named(NAMES), tmp_path / "a.parquet", NO_PLACE)
    layer = parquet.read(tmp_path / "a.parquet")
    assert layer.crs == ""
    assert [row.columns["note"] for row in layer.rows] == list(NAMES)
    assert {row.columns["in_on"] for row in layer.rows} == {None, DAY}


@pytest.mark.parametrize(
    ("geo", "words"),
    [
        (None, r"is Parquet without shapes\. Give GeoParquet"),
        ({"columns": 3}, r"is Parquet without shapes"),
        ({"primary_column": "gone", "columns": {"gone": {"encoding": "WKB"}}}, r"is Parquet without shapes"),
        (
            {"primary_column": "geometry", "columns": {"geometry": {"encoding": "point"}}},
            r"kept in a way that is not read here \(point\)\. Write it with shapes as WKB",
        ),
    ],
)
def test_other_parquet_is_refused(tmp_path: Path, geo: Any, words: str) -> None:
    pyarrow = pytest.importorskip("pyarrow")
    table = pyarrow.table({"geometry": [HOLE.wkb]})
    if geo is not None:
        table = table.replace_schema_metadata({b"geo": json.dumps(geo).encode()})
    pytest.importorskip("pyarrow.parquet").write_table(table, tmp_path / "a.parquet")
    with pytest.raises(OutlineError, match=words):
        parquet.read(tmp_path / "a.parquet")


def test_a_file_that_says_no_coordinate_system_is_in_longitude_and_latitude(tmp_path: Path) -> None:
    pyarrow = pytest.importorskip("pyarrow")
    told = {"primary_column": "geometry", "columns": {"geometry": {"encoding": "WKB", "geometry_types": []}}}
    table = pyarrow.table({"geometry": [b""]}).replace_schema_metadata({b"geo": json.dumps(told).encode()})
    pytest.importorskip("pyarrow.parquet").write_table(table, tmp_path / "a.parquet")
    layer = parquet.read(tmp_path / "a.parquet")
    assert "CRS84" in layer.crs
    assert to_projection([], layer.crs, sample().projection) == []


def test_what_is_no_parquet_is_refused(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow")
    (tmp_path / "a.parquet").write_bytes(b"PAR1 and no more")
    with pytest.raises(OutlineError, match=r"a\.parquet cannot be read as Parquet\. Fetch or export the file again"):
        parquet.read(tmp_path / "a.parquet")
