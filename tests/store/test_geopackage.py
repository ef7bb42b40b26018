"""Every kind of farm file that the program writes keeps to the standard, and other software reads it."""

from __future__ import annotations

import gzip
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from pigmap.records import TABLES
from pigmap.records.projection import NO_PLACE
from pigmap.session import Session
from pigmap.store import FarmFile, migrations
from pigmap.store.kept_copy import copy_of
from pigmap.store.pictures import Picture, keep
from pigmap.store.rescue import rescue
from tests.store.geopackage_rules import RULES, broken_rules
from tests.store.made import PROJECTION, whole_farm

HERE = Path(__file__).parent


def _new(path: Path) -> Path:
    FarmFile.create(path, PROJECTION).close()
    return path


def _nowhere(path: Path) -> Path:
    Session.create(path, NO_PLACE, "Lower farm").close()
    return path


def _whole(path: Path) -> Path:
    whole_farm(path)
    keep(path, [Picture("ab" * 32, "image/jpeg", b"large", b"small")])
    return path


def _undone(path: Path) -> Path:
    whole_farm(path)
    with Session.open(path) as session:
        session.undo().result()
        session.redo().result()
    return path


def _rescued(path: Path) -> Path:
    damaged = _whole(path.with_name("damaged.gpkg"))
    with damaged.open("r+b") as file:
        file.truncate(damaged.stat().st_size * 3 // 4)
    rescue(damaged, path)
    return path


def _by_another(path: Path) -> Path:
    pyogrio = pytest.importorskip("pyogrio")
    whole_farm(path)
    frame = pyogrio.read_dataframe(path, layer="places").drop(columns=["uid"])
    pyogrio.write_dataframe(frame, path, layer="places", append=True)
    return path


def _of_step(step: int) -> Callable[[Path], Path]:
    def migrated(path: Path) -> Path:
        path.write_bytes(gzip.decompress((HERE / f"farm_of_step_{step}.gpkg.gz").read_bytes()))
        FarmFile.open(path).close()
        return path

    return migrated


def _kept(path: Path) -> Path:
    return copy_of(_of_step(1)(path)).rename(path.with_name("kept.gpkg"))


WRITTEN: dict[str, Callable[[Path], Path]] = {
    "new": _new,
    "of a farm that lies nowhere": _nowhere,
    "with a row of every table and a photo": _whole,
    "with an edit undone and done again": _undone,
    "rescued": _rescued,
    "to which another program added rows": _by_another,
    "kept before it was brought up to date": _kept,
    **{f"of step {step}, brought up to date": _of_step(step) for step in range(1, len(migrations.STEPS))},
}


@pytest.mark.parametrize("written", WRITTEN)
def test_every_file_that_is_written_keeps_to_the_standard_and_is_read_by_other_software(
    tmp_path: Path, written: str
) -> None:
    path = WRITTEN[written](tmp_path / "farm.gpkg")
    assert broken_rules(path) == []
    pyogrio = pytest.importorskip("pyogrio")
    layers = [str(name) for name, _ in pyogrio.list_layers(path)]
    assert set(layers) <= set(TABLES)
    for layer in layers:
        read, told = pyogrio.read_dataframe(path, layer=layer), pyogrio.read_info(path, layer=layer)
        assert len(read) == told["features"]


@pytest.mark.parametrize("written", WRITTEN)
def test_the_newest_validator_of_a_widely_used_library_finds_nothing(tmp_path: Path, written: str) -> None:
    validator = pytest.importorskip("osgeo_utils.samples.validate_gpkg")
    path = WRITTEN[written](tmp_path / "farm.gpkg")
    checked = path.with_suffix(".check.gpkg")
    checked.write_bytes(path.read_bytes())
    assert validator.main(["", "-k", "--extra", "--warning-as-error", str(checked)]) == 0


BREAKS = {
    "2": "PRAGMA user_version = 7",
    "5": "ALTER TABLE fields ADD COLUMN odd VARCHAR",
    "5: dates": "UPDATE weather_days SET day = 20260531",
    "7": "UPDATE stays SET group_uid = 'nobody'",
    "10": "ALTER TABLE gpkg_spatial_ref_sys RENAME COLUMN description TO words",
    "11": "DELETE FROM gpkg_spatial_ref_sys WHERE srs_id = 0",
    "12": "UPDATE gpkg_geometry_columns SET srs_id = 31467 WHERE table_name = 'ways'",
    "13": "ALTER TABLE gpkg_contents RENAME COLUMN description TO words",
    "13: the extent": "UPDATE gpkg_contents SET max_x = min_x WHERE table_name = 'fields'",
    "14": "UPDATE gpkg_contents SET last_change = 'today' WHERE table_name = 'nets'",
    "19": "UPDATE fields SET geom = substr(geom, 1, 2) || x'01' || substr(geom, 4)",
    "21": "ALTER TABLE gpkg_geometry_columns ADD COLUMN z2 TEXT; ALTER TABLE gpkg_geometry_columns DROP COLUMN m",
    "22": "DELETE FROM gpkg_geometry_columns WHERE table_name = 'ways'",
    "29": "CREATE TABLE odd (a TEXT); INSERT INTO gpkg_contents (table_name, data_type) VALUES ('odd', 'attributes')",
    "58": "ALTER TABLE gpkg_extensions RENAME COLUMN definition TO words",
    "59": "CREATE TABLE pigmap_odd (name TEXT)",
    "60": "INSERT INTO gpkg_extensions VALUES ('nowhere', NULL, 'odd', 'words', 'read-write')",
    "75": "DROP TRIGGER rtree_fields_geom_update6",
}


@pytest.mark.parametrize("rule", BREAKS)
def test_a_file_that_breaks_a_rule_is_found_out(farm_path: Path, rule: str) -> None:
    with closing(sqlite3.connect(farm_path)) as db:
        db.execute("PRAGMA ignore_check_constraints = ON")
        for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            if rule != "75":
                db.execute(f'DROP TRIGGER "{name}"')
        db.executescript(BREAKS[rule])
    assert any(each.startswith(rule) for each in broken_rules(farm_path))


def test_every_rule_but_that_of_the_pages_is_known_to_be_able_to_fail() -> None:
    held = {name for name in RULES if not any(name.startswith(rule) for rule in BREAKS)}
    assert held == {"6: the pages are sound"}
