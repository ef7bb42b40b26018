"""What is found in a farm file that is not as its change log says."""

from __future__ import annotations

import random
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pigmap.errors import StoreError
from pigmap.records import TABLES
from pigmap.store import FarmFile, connection, health
from pigmap.store.connection import connect
from pigmap.store.health import MOST_SHOWN, findings, look_through, replay, table_rows
from pigmap.text import Text

ELSEWHERE = "It was changed elsewhere without the log, or the disk lost something."


def behind_the_log(path: Path, statement: str) -> None:
    """Change a farm table with its log triggers taken away for the moment."""
    with closing(connect(path)) as db:
        triggers = db.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'pigmap_log_%'"
        ).fetchall()
        db.execute("BEGIN")
        for name, _ in triggers:
            db.execute(f'DROP TRIGGER "{name}"')
        db.execute(statement)
        for _, sql in triggers:
            db.execute(sql)
        db.execute("COMMIT")


def said(path: Path) -> list[str]:
    return [str(text) for text in findings(path)]


def test_a_sound_farm_has_no_findings_and_its_log_tells_all_of_it(farm_path: Path) -> None:
    assert findings(farm_path) == []
    with closing(connect(farm_path)) as db:
        replayed = replay(db)
        for table in TABLES:
            assert replayed.get(table, {}) == table_rows(db, table)
            assert replayed[table]


def test_looking_changes_nothing(farm_path: Path) -> None:
    before = farm_path.read_bytes()
    findings(farm_path)
    assert farm_path.read_bytes() == before
    assert [each.name for each in farm_path.parent.iterdir()] == ["farm.gpkg"]


def test_a_value_changed_past_the_log_is_named(farm_path: Path) -> None:
    behind_the_log(farm_path, "UPDATE group_events SET mean_kg = 31.700000000000003, pigs = 25")
    (found,) = said(farm_path)
    assert found.startswith("pigs, mean kg of a row of group events differs from the change log: ")
    assert found.endswith(ELSEWHERE)


def test_a_shape_changed_past_the_log_is_named(farm_path: Path) -> None:
    behind_the_log(farm_path, "UPDATE checks SET geom = (SELECT geom FROM places)")
    (found,) = said(farm_path)
    assert found.startswith("shape of a row of daily checks differs from the change log: ")


def test_a_row_taken_out_past_the_log_is_named(farm_path: Path) -> None:
    behind_the_log(farm_path, "DELETE FROM weather_days")
    (found,) = said(farm_path)
    assert found.startswith("A row of weather days is in the change log but not in its table: ")


def test_a_row_added_past_the_log_is_named(farm_path: Path) -> None:
    behind_the_log(farm_path, "INSERT INTO groups (uid, name) VALUES ('strange', 'Boars')")
    assert said(farm_path) == [f"A row of groups is not in the change log: strange. {ELSEWHERE}"]


def test_many_differences_are_counted(farm_path: Path) -> None:
    rows = ", ".join(f"('strange {number}', 'Boars')" for number in range(MOST_SHOWN + 3))
    behind_the_log(farm_path, f"INSERT INTO groups (uid, name) VALUES {rows}")
    found = said(farm_path)
    assert len(found) == MOST_SHOWN + 1
    assert found[-1] == "3 more like that."


def test_a_row_that_points_at_nothing_is_named(farm_path: Path) -> None:
    with closing(sqlite3.connect(farm_path, isolation_level=None)) as db:  # no foreign keys, as other software has it
        db.execute("UPDATE nets SET net_kind_uid = 'nobody'")
    assert said(farm_path) == ["Row 1 of nets points at something in net kinds that is not there."]


def test_an_index_without_its_boxes_is_named(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("DELETE FROM rtree_fields_geom")
    assert said(farm_path) == ["The spatial index of fields is wrong for 1 row."]


@pytest.mark.parametrize("seed", range(4))
def test_whatever_byte_is_damaged_it_is_found_or_has_no_effect(farm_path: Path, seed: int) -> None:
    file = FarmFile.open(farm_path, read_only=True)
    farm = file.read()
    file.close()
    sound = farm_path.read_bytes()
    chance = random.Random(seed)
    for _ in range(10):
        at = chance.randrange(len(sound))
        farm_path.write_bytes(sound[:at] + bytes([sound[at] ^ 1 << chance.randrange(8)]) + sound[at + 1 :])
        if not findings(farm_path):
            file = FarmFile.open(farm_path, read_only=True)
            again = file.read()
            file.close()
            for table in TABLES:
                assert again.rows(table) == farm.rows(table), f"byte {at} was changed and nobody noticed"


def test_damage_whose_own_report_is_no_text_is_said_to_be_damage(farm_path: Path) -> None:
    sound = farm_path.read_bytes()
    farm_path.write_bytes(sound.replace(b'CREATE TABLE "fields"', b'CREATE \xc3ABLE "fields"'))
    assert farm_path.read_bytes() != sound
    (found,) = said(farm_path)
    assert found.startswith("farm.gpkg is damaged: ")
    assert found.endswith(". Do not work on in it; copy it aside and go back to a backup.")
    with pytest.raises(StoreError, match=r"farm\.gpkg is damaged: ") as caught:
        FarmFile.open(farm_path)
    assert str(caught.value.remedy) == "Do not work on in it; copy it aside and go back to a backup."


def test_an_entry_of_the_log_that_is_garbled_is_said_to_be_damage(farm_path: Path) -> None:
    sound = farm_path.read_bytes()
    at = sound.index(b'{"name":', sound.index(b"groups"))
    farm_path.write_bytes(sound[: at + 7] + b"," + sound[at + 8 :])
    (found,) = said(farm_path)
    assert found.startswith("farm.gpkg is damaged: ")
    assert found.endswith(". Do not work on in it; copy it aside and go back to a backup.")


def test_a_text_that_is_garbled_is_said_to_be_damage_when_the_farm_is_read(farm_path: Path) -> None:
    sound = farm_path.read_bytes()
    with closing(connect(farm_path, read_only=True)) as db:
        (uid,) = db.execute("SELECT uid FROM groups").fetchone()
    farm_path.write_bytes(sound.replace(uid.encode(), b"\xc3\xc3" + uid.encode()[2:]))
    with (
        closing(FarmFile.open(farm_path, read_only=True)) as file,
        pytest.raises(StoreError, match=r"farm\.gpkg is damaged: ") as caught,
    ):
        file.read()
    assert str(caught.value.remedy) == "Do not work on in it; copy it aside and go back to a backup."


def test_a_log_that_contradicts_itself_is_named(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        (sql,) = db.execute("SELECT sql FROM sqlite_master WHERE name = 'pigmap_changes_no_update'").fetchone()
        db.execute("UPDATE groups SET name = 'Sows'")
        db.execute("UPDATE groups SET name = 'Boars'")
        db.execute("DROP TRIGGER pigmap_changes_no_update")
        db.execute(
            """UPDATE pigmap_changes SET before_json = '{"name":"Sown"}' WHERE after_json = '{"name":"Boars"}'"""
        )
        db.execute(sql)
    (found,) = said(farm_path)
    assert found.startswith("What the change log tells of a row of groups contradicts itself: ")
    assert found.endswith(ELSEWHERE)


def test_what_a_removed_row_was_is_held_against_how_it_was_added(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("DELETE FROM weather_days")
    sound = farm_path.read_bytes()
    at = sound.rindex(b'"rain_mm":') + len(b'"rain_mm":')
    farm_path.write_bytes(sound[:at] + b"9" + sound[at + 1 :])
    (found,) = said(farm_path)
    assert found.startswith("What the change log tells of a row of weather days contradicts itself: ")


@pytest.mark.parametrize(
    ("hurt", "words"),
    [
        ("DROP TRIGGER pigmap_log_groups_add", "pigmap_log_groups_add is missing among what belongs to the file's"),
        (
            "DELETE FROM gpkg_contents WHERE table_name = 'weather_days'",
            "The list gpkg_contents of the GeoPackage does not have weather days: other programs would not see them.",
        ),
        (
            "DELETE FROM gpkg_extensions WHERE table_name = 'checks'",
            "The list gpkg_extensions of the GeoPackage does not have daily checks: other programs would not see them.",
        ),
        ("PRAGMA user_version = 7", "The head of the file no longer says that it is a GeoPackage 1.4."),
    ],
)
def test_what_is_missing_of_the_frame_is_named(farm_path: Path, hurt: str, words: str) -> None:
    with closing(connect(farm_path)) as db:
        db.execute(hurt)
    (found,) = said(farm_path)
    assert found.startswith(words)


def test_a_trigger_that_other_software_rewrote_is_named(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("DROP TRIGGER pigmap_log_groups_add")
        db.execute("CREATE TRIGGER pigmap_log_groups_add AFTER INSERT ON groups BEGIN SELECT 1; END")
    assert said(farm_path) == ["The trigger pigmap_log_groups_add is not the one that keeps the file in order."]


def test_things_of_other_software_beside_the_farm_are_no_finding(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("CREATE TABLE my_own (note TEXT)")
    assert said(farm_path) == []


def test_a_look_tells_how_far_it_is_and_can_be_stopped(farm_path: Path) -> None:
    told: list[float] = []
    looked = look_through(farm_path, told.append)
    assert looked.whole
    assert looked.found == ()
    assert told == sorted(told)
    assert told[-1] == 1.0
    stopped = look_through(farm_path, stop=lambda: True)
    assert not stopped.whole
    assert stopped.found == ()


def test_a_file_that_another_program_holds_is_not_taken_for_damaged(
    farm_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connection, "BUSY_SECONDS", 0.01)
    with closing(connect(farm_path)) as other:
        other.execute("BEGIN EXCLUSIVE")
        looked = look_through(farm_path)
        other.execute("ROLLBACK")
    assert not looked.damaged
    (why,) = looked.found
    assert str(why).endswith(
        "another program holds it. Close that program or wait until it is done, then do it again; nothing was lost."
    )
    gone = look_through(farm_path.with_name("none.gpkg"))
    assert not gone.damaged
    assert str(gone.found[0]).startswith("There is no file none.gpkg")


@pytest.mark.parametrize(("column", "value"), [("label", "'{}'"), ("made_at_utc", "'2026-13-45'"), ("label", "'[1]'")])
def test_a_line_of_the_history_that_is_garbled_is_said_to_be_damage(farm_path: Path, column: str, value: str) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("DROP TRIGGER pigmap_edits_no_update")
        db.execute(f"UPDATE pigmap_edits SET {column} = {value}")
    assert "farm.gpkg is damaged: an entry of its change log cannot be read." in said(farm_path)[0]


def test_a_look_gives_way_to_an_edit_and_begins_again(farm_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    journal = farm_path.with_name("farm.gpkg-journal")
    began: list[bool] = []

    def edit_comes(db: sqlite3.Connection) -> Iterator[Text]:
        began.append(True)
        if len(began) == 1:
            journal.write_bytes(b"as while an edit is written")
            threading.Timer(0.5, journal.unlink).start()
            db.execute("WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT count(*) FROM n")
        yield from ()

    monkeypatch.setattr(health, "frame_faults", edit_comes)
    looked = look_through(farm_path)
    assert (looked.found, looked.whole, len(began)) == ((), True, 2)
