"""What comes back of a farm file that is damaged, cut short, or has lost its head."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from random import Random

import pytest
import shapely

from pigmap.errors import StoreError
from pigmap.records import TABLES, Farm, Group, add
from pigmap.session import Session
from pigmap.store import FarmFile, salvage
from pigmap.store.chosen import Chosen, drop, is_row
from pigmap.store.connection import connect
from pigmap.store.health import findings
from pigmap.store.raw_pages import PAGE
from pigmap.store.rescue import Rescued, rescue
from pigmap.store.shapes import to_blob
from tests.store.made import edit
from tests.store.test_health import behind_the_log


def farm_in(path: Path) -> Farm:
    file = FarmFile.look(path)
    try:
        return file.read()
    finally:
        file.close()


def rows_of(farm: Farm) -> int:
    return sum(len(farm.rows(table)) for table in TABLES)


def same(farm: Farm, other: Farm) -> bool:
    return all(farm.rows(table) == other.rows(table) for table in TABLES)


def root_of(path: Path, table: str) -> int:
    with closing(connect(path, read_only=True)) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    return int(page)


def zero(path: Path, page: int) -> None:
    data = bytearray(path.read_bytes())
    data[(page - 1) * PAGE : page * PAGE] = bytes(PAGE)
    path.write_bytes(data)


def test_a_sound_file_comes_back_with_all_its_rows_and_its_history(farm_path: Path, tmp_path: Path) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    before = farm_path.read_bytes()
    rescued = rescue(farm_path, out)
    assert rescued == Rescued(out, rows_of(farm))
    assert str(rescued.words) == f"{rows_of(farm)} rows were rescued into out.gpkg. None is known to be lost."
    assert same(farm_in(out), farm)
    assert findings(out) == []
    assert farm_path.read_bytes() == before
    assert sorted(each.name for each in tmp_path.iterdir()) == ["farm.gpkg", "out.gpkg"]
    with Session.open(out) as session, Session.open(farm_path) as old:
        assert session.undo_label == old.undo_label is not None
        session.undo().result()
        assert not session.farm.groups


def test_a_table_that_is_lost_is_rebuilt_from_the_log(farm_path: Path, tmp_path: Path) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    for table in ("groups", "fields", "checks"):
        zero(farm_path, root_of(farm_path, table))
    rescued = rescue(farm_path, out)
    assert (rescued.rows, rescued.from_log, rescued.lost, rescued.whole) == (rows_of(farm), 3, 0, True)
    assert "3 of them were made anew from the change log." in str(rescued.words)
    assert same(farm_in(out), farm)
    assert findings(out) == []


def test_a_file_that_lost_its_first_page_is_rebuilt_from_the_log(farm_path: Path, tmp_path: Path) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    zero(farm_path, 1)
    rescued = rescue(farm_path, out)
    assert (rescued.rows, rescued.from_log, rescued.whole, rescued.history) == (
        rows_of(farm),
        rows_of(farm),
        True,
        True,
    )
    assert same(farm_in(out), farm)


def test_without_the_log_the_tables_are_kept_and_it_says_what_is_gone(farm_path: Path, tmp_path: Path) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    with closing(connect(farm_path)) as db:
        db.execute("DROP TRIGGER pigmap_changes_no_delete")
        db.execute("PRAGMA secure_delete = ON")
        db.execute("DELETE FROM pigmap_changes")
    zero(farm_path, root_of(farm_path, "pigmap_changes"))
    rescued = rescue(farm_path, out)
    assert not rescued.history
    assert "What was done before can no longer be taken back." in str(rescued.words)
    assert same(farm_in(out), farm)
    assert findings(out) == []


def test_where_table_and_log_differ_the_log_is_taken_and_it_is_said(farm_path: Path, tmp_path: Path) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    behind_the_log(farm_path, "UPDATE group_events SET pigs = 25")
    rescued = rescue(farm_path, out)
    assert (rescued.from_log, rescued.doubtful) == (1, 1)
    assert "1 stood otherwise in its table: look at it." in str(rescued.words)
    assert same(farm_in(out), farm)


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9, 0.999])
def test_a_file_that_is_cut_short_gives_what_is_left(farm_path: Path, tmp_path: Path, share: float) -> None:
    farm, out = farm_in(farm_path), tmp_path / "out.gpkg"
    data = farm_path.read_bytes()
    farm_path.write_bytes(data[: int(len(data) * share)])
    rescued = rescue(farm_path, out)
    kept = farm_in(out)
    assert rescued.rows == rows_of(kept) > 0
    assert rescued.rows == rows_of(farm) or not rescued.whole
    assert all(uid in farm.rows(table) for table in TABLES for uid in kept.rows(table))
    assert findings(out) == []


@pytest.mark.parametrize("seed", range(3))
def test_however_it_is_damaged_the_copy_is_sound_or_refused_in_words(
    farm_path: Path, tmp_path: Path, seed: int
) -> None:
    chance, sound = Random(seed), farm_path.read_bytes()
    for number in range(3):
        hurt, out = bytearray(sound), tmp_path / f"out {number}.gpkg"
        for _ in range(chance.choice((1, 30, 400))):
            hurt[chance.randrange(len(hurt))] = chance.randrange(256)
        farm_path.write_bytes(hurt)
        rescued = rescue(farm_path, out)
        assert findings(out) == []
        assert rescued.rows == rows_of(farm_in(out))


def test_what_a_killed_program_left_half_done_is_not_taken_for_damage(farm_path: Path, tmp_path: Path) -> None:
    with Session.open(farm_path) as session:
        session.do(edit("Boars", *())).exception()
    out, copy = tmp_path / "out.gpkg", tmp_path / "copy.gpkg"
    with closing(connect(farm_path)) as db:
        db.execute("PRAGMA cache_spill = 1")
        db.execute("PRAGMA cache_size = 1")
        db.execute("BEGIN IMMEDIATE")
        db.execute("UPDATE groups SET name = hex(zeroblob(200000))")
        copy.write_bytes(farm_path.read_bytes())
        copy.with_name("copy.gpkg-journal").write_bytes(farm_path.with_name("farm.gpkg-journal").read_bytes())
        db.execute("ROLLBACK")
    rescued = rescue(copy, out)
    assert same(farm_in(out), farm_in(farm_path))
    assert rescued.doubtful == 0
    assert copy.with_name("copy.gpkg-journal").is_file()


def test_layers_of_other_software_are_named_as_left_out(farm_path: Path, tmp_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("CREATE TABLE my_trees (fid INTEGER PRIMARY KEY)")
        db.execute(
            "INSERT INTO gpkg_contents (table_name, data_type, identifier) VALUES ('my_trees', 'attributes', 'x')"
        )
    rescued = rescue(farm_path, tmp_path / "out.gpkg")
    assert rescued.others == ("my_trees",)
    assert str(rescued.words).endswith("Layers of other software were left out: my_trees.")


def test_all_that_can_be_said_of_a_rescue(tmp_path: Path) -> None:
    assert str(Rescued(tmp_path / "a.gpkg", 1, 1, 1, 1, 1, whole=False, history=False).words) == (
        "1 row was rescued into a.gpkg. 1 of them was made anew from the change log. 1 stood otherwise in its table: "
        "look at it. 1 row could not be read. There may have been more: not all of the file could be read. 1 pointed "
        "at a row that is lost. What was done before can no longer be taken back."
    )
    assert "2 rows could not be read." in str(Rescued(tmp_path / "a.gpkg", 5, lost=2).words)


def test_a_file_with_nothing_of_a_farm_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "other.gpkg"
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE a (b)")
    with pytest.raises(StoreError, match=r"Nothing of a farm can be read from other\.gpkg\.") as caught:
        rescue(path, tmp_path / "out.gpkg")
    assert str(caught.value.remedy) == "Go back to a backup or another copy."
    assert [each.name for each in tmp_path.iterdir()] == ["other.gpkg"]


def test_a_farm_whose_coordinates_are_lost_says_how_many_rows_could_be_read(farm_path: Path, tmp_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("PRAGMA foreign_keys = OFF")
        db.execute("DELETE FROM gpkg_spatial_ref_sys")
        db.execute("DELETE FROM pigmap_document")
        db.execute("VACUUM")
    with pytest.raises(StoreError, match=r"\d+ rows of farm\.gpkg can be read, but no longer in which coord") as caught:
        rescue(farm_path, tmp_path / "out.gpkg")
    assert str(caught.value.remedy) == (
        "Go back to a backup or another copy; whoever knows the coordinates can mend the file."
    )


def test_a_copy_is_not_written_over_a_file_that_is_there(farm_path: Path, tmp_path: Path) -> None:
    (tmp_path / "out.gpkg").write_text("mine")
    with pytest.raises(StoreError, match=r"There is already a file out\.gpkg in ") as caught:
        rescue(farm_path, tmp_path / "out.gpkg")
    assert str(caught.value.remedy) == "Choose another name."
    assert (tmp_path / "out.gpkg").read_text() == "mine"


def test_a_rescued_farm_can_be_worked_on(farm_path: Path, tmp_path: Path) -> None:
    zero(farm_path, root_of(farm_path, "groups"))
    rescue(farm_path, tmp_path / "out.gpkg")
    with Session.open(tmp_path / "out.gpkg") as session:
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        session.undo().result()
    assert findings(tmp_path / "out.gpkg") == []


def test_a_torn_page_that_tells_wrong_numbers_does_not_hold_the_reading_up(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []

    def torn(_: object, query: str, low: int, high: int) -> tuple[list[tuple[int]], bool]:
        calls.append((low, high))
        return ([] if query.endswith("DESC") else [(0,), (9,)]), True

    monkeypatch.setattr(salvage, "_is_there", lambda *_: True)
    monkeypatch.setattr(salvage, "_sound", lambda *_: False)
    monkeypatch.setattr(salvage, "_as_far", torn)
    monkeypatch.setattr(salvage, "_end", lambda _, __, high: min(high, 40))
    with closing(sqlite3.connect(":memory:")) as db:
        list(salvage._readable(db, "SELECT fid", "fields", "fid", set()))
    assert len(calls) < 300


def test_a_shape_whose_edges_cross_is_no_row_that_was_read(farm_path: Path, tmp_path: Path) -> None:
    uid, row = next(iter(salvage.salvage(farm_path, tmp_path / "work").tables["fields"].items()))
    assert is_row("fields", uid, row)
    bow = shapely.MultiPolygon([shapely.Polygon([(0, 0), (100, 100), (100, 0), (0, 100)])])
    assert not is_row("fields", uid, {**row, "geom": to_blob(bow, 0).hex().upper()})
    far = shapely.MultiPolygon([shapely.Polygon([(0, 0), (0, 100), (3e9, 100)])])
    assert not is_row("fields", uid, {**row, "geom": to_blob(far, 0).hex().upper()})


def test_rows_that_the_file_does_not_take_are_no_longer_counted_as_made_anew() -> None:
    both = {("groups", "a"), ("groups", "b")}
    chosen = Chosen({**{table: {} for table in TABLES}, "groups": {"a": {}, "b": {}}}, logged={*both}, doubted={*both})
    drop(chosen, [("groups", "a")])
    assert (chosen.logged, chosen.doubted, chosen.lost) == ({("groups", "b")}, {("groups", "b")}, 1)
