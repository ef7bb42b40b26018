"""Backups are whole, are made when there is something new, go by the rule, and come back as farms of their own."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from pigmap.document.edits import add_group
from pigmap.errors import StoreError
from pigmap.session import Session, backups
from pigmap.session.backups import (
    DAYS,
    MONTHS,
    NEWEST,
    WEEKS,
    backup_folder,
    backups_of,
    keep_backup,
    newest_good,
    newest_words,
    open_as_copy,
    wanted,
)
from pigmap.store.health import findings
from tests.store.made import whole_farm
from tests.store.test_health import behind_the_log

NOW = datetime(2026, 5, 1, 12, 30, 15)


@pytest.fixture
def farm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a farm file, with an own folder for a person's data."""
    monkeypatch.setenv("PIGMAP_DATA", str(tmp_path / "data"))
    path = tmp_path / "farms" / "hill.gpkg"
    path.parent.mkdir()
    whole_farm(path)
    return path


def add(path: Path, name: str) -> None:
    with Session.open(path) as session:
        session.do(add_group(name)).result()


def test_a_backup_is_a_whole_farm_away_from_the_file(farm: Path) -> None:
    made = keep_backup(farm, NOW)
    assert made is not None
    assert made.path.parent == backup_folder(farm)
    assert not made.path.is_relative_to(farm.parent)
    assert findings(made.path) == []
    with Session.open(farm) as one, Session.open(made.path) as other:
        assert {uid: group.name for uid, group in one.farm.groups.items()} == {
            uid: group.name for uid, group in other.farm.groups.items()
        }
    assert [each.made_at for each in backups_of(farm)] == [NOW]


def test_without_anything_new_there_is_no_other_backup(farm: Path) -> None:
    keep_backup(farm, NOW)
    assert keep_backup(farm, NOW + timedelta(hours=1)) is None
    add(farm, "Late pigs")
    assert keep_backup(farm, NOW + timedelta(hours=2)) is not None
    assert len(backups_of(farm)) == 2


def test_it_is_kept_while_the_farm_is_being_written(farm: Path) -> None:
    with Session.open(farm) as session:
        session.do(add_group("Before")).result()
        made = keep_backup(farm, NOW)
        session.do(add_group("After")).result()
    assert made is not None
    with Session.open(made.path) as backup:
        names = {group.name for group in backup.farm.groups.values()}
    assert "Before" in names
    assert "After" not in names


def test_the_rule_keeps_the_newest_and_the_last_of_days_weeks_and_months() -> None:
    hourly = [NOW - timedelta(hours=number) for number in range(24 * 500)]
    kept = wanted(hourly, NOW)
    assert sorted(hourly)[-NEWEST:] == sorted(kept)[-NEWEST:]
    for days in range(1, DAYS):
        day = (NOW - timedelta(days=days)).date()
        assert max(time for time in hourly if time.date() == day) in kept
    for weeks in range(1, WEEKS):
        week = (NOW - timedelta(weeks=weeks)).isocalendar()[:2]
        assert max(time for time in hourly if time.isocalendar()[:2] == week) in kept
    months = {(time.year, time.month) for time in kept}
    assert MONTHS <= len(months) <= MONTHS + 2
    assert len(kept) <= NEWEST + DAYS + WEEKS + MONTHS + 4
    assert min(kept) > NOW - timedelta(days=31 * MONTHS)


def test_what_the_rule_does_not_keep_goes(farm: Path) -> None:
    for number in range(14):
        add(farm, f"Group {number}")
        keep_backup(farm, NOW + timedelta(minutes=number))
    assert len(backups_of(farm)) == NEWEST
    assert backups_of(farm)[0].made_at == NOW + timedelta(minutes=13)


def test_all_together_take_no_more_than_the_limit_but_the_newest_stays(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_backup(farm, NOW)
    monkeypatch.setattr(backups, "MOST_BYTES", backups_of(farm)[0].bytes // 2)
    add(farm, "Late pigs")
    keep_backup(farm, NOW + timedelta(hours=1))
    assert [each.made_at for each in backups_of(farm)] == [NOW + timedelta(hours=1)]


def test_where_none_can_be_kept_it_is_said_and_those_that_are_there_stay(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_backup(farm, NOW)
    add(farm, "Late pigs")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backups, "copy_whole", full)
    with pytest.raises(StoreError) as caught:
        keep_backup(farm, NOW + timedelta(hours=1))
    assert str(caught.value.message) == (
        f"No backup of hill.gpkg could be kept in {backup_folder(farm)}: no space left on device."
    )
    assert str(caught.value.remedy) == (
        "Make room there. What you do is in the farm file all the same; copy it to a stick until then."
    )
    assert len(backups_of(farm)) == 1


def test_a_damaged_backup_does_not_keep_a_new_one_from_being_made(farm: Path) -> None:
    first = keep_backup(farm, NOW)
    assert first is not None
    first.path.write_bytes(b"SQLite format 3\0" + bytes(200))
    assert keep_backup(farm, NOW + timedelta(hours=1)) is not None


def test_a_backup_comes_back_as_a_farm_of_its_own(farm: Path) -> None:
    made = keep_backup(farm, NOW)
    assert made is not None
    add(farm, "Late pigs")
    before = farm.read_bytes()
    copies = [open_as_copy(made, farm) for _ in range(2)]
    assert [each.name for each in copies] == ["hill, 2026-05-01 12-30.gpkg", "hill, 2026-05-01 12-30 (2).gpkg"]
    assert farm.read_bytes() == before
    with Session.open(copies[0]) as copy:
        assert "Late pigs" not in {group.name for group in copy.farm.groups.values()}
        copy.do(add_group("New pigs")).result()
    assert findings(copies[0]) == []


def test_other_files_in_the_folder_are_left_alone(farm: Path) -> None:
    keep_backup(farm, NOW)
    other = backup_folder(farm) / "mine.gpkg"
    other.write_bytes(b"x")
    add(farm, "Late pigs")
    keep_backup(farm, NOW + timedelta(hours=1))
    assert other.exists()
    assert len(backups_of(farm)) == 2


def test_farms_of_one_name_in_two_folders_have_backups_of_their_own(farm: Path, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere" / "hill.gpkg"
    other.parent.mkdir()
    whole_farm(other)
    keep_backup(farm, NOW)
    assert backups_of(other) == ()
    assert newest_words(other) is None
    assert str(newest_words(farm)) == f"Its newest backup is {backups_of(farm)[0].path}."


def test_a_farm_that_cannot_be_opened_has_no_backup_made_of_it(farm: Path) -> None:
    keep_backup(farm, NOW)
    farm.write_bytes(farm.read_bytes()[:5000])
    with pytest.raises(StoreError):
        keep_backup(farm, NOW + timedelta(hours=1))
    assert [each.made_at for each in backups_of(farm)] == [NOW]
    with closing(sqlite3.connect(backups_of(farm)[0].path)) as db:
        assert db.execute("PRAGMA quick_check").fetchone() == ("ok",)


def test_where_a_farm_cannot_be_opened_its_newest_backup_is_named(farm: Path) -> None:
    made = keep_backup(farm, NOW)
    assert made is not None
    farm.write_bytes(farm.read_bytes()[:5000])
    with pytest.raises(StoreError) as caught:
        Session.open(farm)
    assert str(caught.value.message).startswith("hill.gpkg is cut short: it has 5000 of ")
    assert str(caught.value.remedy) == (
        f"Copy it again from where it came from, or go back to a backup. Its newest backup is {made.path}."
    )


def test_a_damaged_backup_is_not_the_one_that_is_named(farm: Path) -> None:
    good = keep_backup(farm, NOW)
    with Session.open(farm) as session:
        session.do(add_group("Boars")).result()
    bad = keep_backup(farm, NOW + timedelta(hours=1))
    assert good is not None
    assert bad is not None
    bad.path.write_bytes(bad.path.read_bytes()[:9000])
    assert newest_good(farm) == good
    good.path.unlink()
    assert newest_good(farm) is None


def test_older_ones_stay_where_the_new_one_is_not_sound(farm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backups, "MOST_BYTES", 1)  # only the newest is to stay
    keep_backup(farm, NOW)
    behind_the_log(farm, "UPDATE groups SET name = 'Strangers'")
    with Session.open(farm) as session:
        session.do(add_group("Boars")).result()
    keep_backup(farm, NOW + timedelta(hours=1))
    assert len(backups_of(farm)) == 2


def test_where_the_looking_is_stopped_all_stay(farm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backups, "MOST_BYTES", 1)
    keep_backup(farm, NOW)
    with Session.open(farm) as session:
        session.do(add_group("Boars")).result()
    keep_backup(farm, NOW + timedelta(hours=1), stop=lambda: True)
    assert len(backups_of(farm)) == 2
