from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from pigmap.document.edits import change_setting
from pigmap.errors import StoreError
from pigmap.records import TABLES, Check, Farm, Group, add, change
from pigmap.records.later_rows import LaterRows, refusal
from pigmap.session import Session
from pigmap.store import FarmFile, reading
from pigmap.store.connection import connect
from pigmap.text import Text

TODAY = date(2026, 5, 30)
AFTER = TODAY - timedelta(days=3)


@pytest.fixture
def path(farm_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a farm with ten daily checks more, which are very many here."""
    monkeypatch.setattr(reading, "MANY_CHECKS", 10)
    with Session.open(farm_path) as session:
        paddock = next(iter(session.farm.paddocks))
        days = (TODAY - timedelta(days=number) for number in range(10))
        checks = [add(Check(checked_on=day, paddock_uid=paddock)) for day in days]
        session._writer.file.write(Text("Checked"), checks)
    return farm_path


def _checks(farm: Farm) -> LaterRows[Check]:
    assert isinstance(farm.checks, LaterRows)
    return farm.checks


def _same(one: Farm, other: Farm) -> bool:
    return all(dict(one.rows(table)) == dict(other.rows(table)) for table in TABLES)


def _whole(path: Path) -> Farm:
    with closing(FarmFile.look(path)) as file:
        return file.read()


def test_of_very_many_checks_the_newest_are_there_at_once_and_the_others_when_asked_for(path: Path) -> None:
    whole = _whole(path)
    with closing(FarmFile.open(path)) as file:
        checks = _checks(file.read(AFTER))
        newest, since = checks.from_day(AFTER)
        assert (sorted(each.checked_on for each in newest), since) == (
            [AFTER + timedelta(days=n) for n in range(4)],
            AFTER,
        )
        assert not checks.are_read
        assert list(checks.items()) == list(whole.checks.items())


def test_the_newest_checks_are_found_without_going_through_the_table(path: Path) -> None:
    asked: list[str] = []
    with closing(FarmFile.open(path)) as file:
        file._db.set_trace_callback(asked.append)
        file.read(AFTER)
        (newest,) = [sql for sql in asked if "checked_on >=" in sql]
        plan = file._db.execute(f"EXPLAIN QUERY PLAN {newest}").fetchall()
    assert any("USING INDEX pigmap_checks_checked_on" in row[-1] for row in plan)
    assert not any(row[-1].startswith("SCAN") for row in plan)


def test_of_few_checks_all_are_there_at_once(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "MANY_CHECKS", 1000)
    with closing(FarmFile.open(path)) as file:
        assert not isinstance(file.read(AFTER).checks, LaterRows)


def test_an_edit_is_made_on_the_whole_farm(path: Path) -> None:
    with Session.open(path, later_than=AFTER) as session:
        before = _checks(session.farm)
        session.do(change_setting("farm name", "Upper farm")).result()
        assert before.are_read
        assert session.farm.name == "Upper farm"
        session.undo().result()
        assert _same(session.farm, _whole(path))


def test_a_look_for_others_edits_reads_what_is_left(path: Path) -> None:
    with Session.open(path, later_than=AFTER) as session:
        session.look().result()
        assert _checks(session.farm).are_read


def test_what_another_program_does_meanwhile_comes_after_what_was_read(path: Path) -> None:
    with Session.open(path, later_than=AFTER) as session:
        other = sqlite3.connect(path, timeout=0, isolation_level=None)
        with closing(other), pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("UPDATE settings SET value_json = '1'")
        assert len(session.farm.checks) == len(_whole(path).checks)
        with Session.open(path) as other_window:
            group = next(iter(other_window.farm.groups.values()))
            assert isinstance(group, Group)
            named = replace(group, name="Named elsewhere")
            other_window._writer.file.write(Text("Named"), [change(group, named)])
        assert session.poll()
        assert session.farm.groups[group.uid].name == "Named elsewhere"


def test_a_file_that_is_closed_before_the_rest_was_read_says_so(path: Path) -> None:
    with Session.open(path, later_than=AFTER) as session:
        farm = session.farm
    with pytest.raises(StoreError, match="is closed") as refused:
        len(farm.checks)
    assert "Open it again" in str(refused.value.remedy)
    assert not path.with_name(f"{path.name}-journal").exists()


def test_a_rest_that_cannot_be_read_is_told_by_every_look_and_nothing_is_written(path: Path) -> None:
    with Session.open(path, later_than=AFTER) as session:
        db = session._writer.file._db
        db.execute("ROLLBACK")  # as when the disk is gone: the moment that was read is lost
        for job in (session.look, lambda: session.do(change_setting("farm name", "Upper farm"))):
            why = job().exception()
            assert isinstance(why, StoreError)
            assert str(why.message) == "farm.gpkg was changed while it was read."
            assert str(why.remedy) == "Open it again."
            assert refusal(session.farm.checks) is why
        with pytest.raises(StoreError, match="was changed while it was read"):
            list(session.farm.checks)
    assert _whole(path).name != "Upper farm"


def test_rows_that_no_record_can_hold_are_told_once(path: Path) -> None:
    with closing(connect(path)) as db:
        db.execute("PRAGMA ignore_check_constraints = ON")
        db.execute("UPDATE checks SET fence_kv = 99 WHERE checked_on = ?", (TODAY.isoformat(),))
    with closing(FarmFile.open(path)) as file:
        checks = _checks(file.read(AFTER))
        assert file.notes == []
        checks.all()
        assert len(file.notes) == 1
