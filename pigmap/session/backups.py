"""Backups of a farm file on this computer, away from the file itself: kept as it is worked on, thinned by a rule."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from pigmap.errors import StoreError
from pigmap.paths import data_folder
from pigmap.records.frozen import dataclass
from pigmap.store.health import Stop, look_through
from pigmap.store.kept_copy import copy_whole, last_change_in
from pigmap.store.opening import opens_well
from pigmap.text import Text

NEWEST, DAYS, WEEKS, MONTHS = 10, 7, 8, 12
"""So many of the newest are kept, and the last of so many days, weeks and months. Own choice."""
MOST_BYTES = 2_000_000_000
"""All backups of one farm take no more than this; the newest stays whatever it takes. Own choice."""
_FORM = "%Y-%m-%d %H%M%S"


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup: a whole farm file."""

    path: Path
    made_at: datetime
    """Local time."""
    bytes: int


def backup_folder(path: Path) -> Path:
    """Return the folder of the backups of a farm file; it may not exist yet."""
    whole = str(path.resolve())
    return data_folder() / "backups" / f"{path.stem} {hashlib.sha256(whole.encode()).hexdigest()[:8]}"


def backups_of(path: Path) -> tuple[Backup, ...]:
    """Return the backups of a farm file, the newest first."""
    found = []
    with suppress(OSError):
        for each in backup_folder(path).glob("*.gpkg"):
            with suppress(ValueError, OSError):
                found.append(Backup(each, datetime.strptime(each.stem, _FORM), each.stat().st_size))
    return tuple(sorted(found, key=lambda each: each.made_at, reverse=True))


def keep_backup(path: Path, now: datetime, stop: Stop = lambda: False) -> Backup | None:
    """Keep a backup of a farm file unless the newest one holds all that it does; return it.

    Older ones go only once it was looked through and is sound: else they may be what is needed.

    Parameters
    ----------
    path
        The farm file.
    now
        Local time.
    stop
        Is asked now and then whether to leave the looking for the next time.

    Raises
    ------
    StoreError
        If it cannot be kept; those that are there stay.
    """
    folder = backup_folder(path)
    to = folder / f"{now.strftime(_FORM)}.gpkg"
    try:
        if _holds_all(path):
            return None
        folder.mkdir(parents=True, exist_ok=True)
        copy_whole(path, to)
    except (OSError, sqlite3.Error, StoreError) as why:
        raise StoreError(
            "No backup of {farm} could be kept in {folder}: {why}.",
            remedy="Make room there. What you do is in the farm file all the same; copy it to a stick until then.",
            farm=path.name,
            folder=str(folder),
            why=(getattr(why, "strerror", None) or str(why)).lower().rstrip("."),
        ) from why
    looked = look_through(to, stop=stop)
    if looked.whole and not looked.found:
        thin(path, now)
    return Backup(to, now.replace(microsecond=0), to.stat().st_size)


def _holds_all(path: Path) -> bool:
    newest = next(iter(backups_of(path)), None)
    if newest is None:
        return False
    try:
        return last_change_in(newest.path) == last_change_in(path)
    except sqlite3.Error:
        return False


def thin(path: Path, now: datetime) -> None:
    """Let those backups go that the rule does not keep."""
    there = backups_of(path)
    kept = wanted([each.made_at for each in there], now)
    taken = 0
    for number, each in enumerate(there):
        taken += each.bytes
        if number and (each.made_at not in kept or taken > MOST_BYTES):
            with suppress(OSError):
                each.path.unlink()


def wanted(made_at: Sequence[datetime], now: datetime) -> set[datetime]:
    """Return the times whose backups are kept: the newest, and the last of each day, week and month.

    Examples
    --------
    >>> now = datetime(2026, 5, 1, 12)
    >>> yearly = [now - timedelta(days=365 * years) for years in range(12)]
    >>> min(wanted(yearly, now)).year
    2017
    """
    newest_first = sorted(made_at, reverse=True)
    kept = set(newest_first[:NEWEST])
    for span, period in (
        (timedelta(days=DAYS), lambda time: time.date().toordinal()),
        (timedelta(weeks=WEEKS), lambda time: time.isocalendar()[:2]),
        (timedelta(days=31 * MONTHS), lambda time: (time.year, time.month)),
    ):
        kept |= _last_of_each(newest_first, now - span, period)
    return kept


def _last_of_each(
    newest_first: Sequence[datetime], since: datetime, period: Callable[[datetime], object]
) -> set[datetime]:
    last: dict[object, datetime] = {}
    for time in newest_first:
        if time > since:
            last.setdefault(period(time), time)
    return set(last.values())


def open_as_copy(backup: Backup, path: Path) -> Path:
    """Write a backup beside the farm file as a farm of its own, never over a file that is there; return where.

    Raises
    ------
    StoreError
        If it cannot be written.
    """
    named = f"{path.stem}, {backup.made_at.strftime('%Y-%m-%d %H-%M')}"
    to, number = path.with_name(f"{named}.gpkg"), 1
    while to.exists():
        number += 1
        to = path.with_name(f"{named} ({number}).gpkg")
    try:
        copy_whole(backup.path, to)
    except (OSError, sqlite3.Error, StoreError) as why:
        raise StoreError(
            "{file} could not be written: {why}.",
            remedy="Make room in the folder of the farm, or copy {backup} by hand.",
            file=to.name,
            why=(getattr(why, "strerror", None) or str(why)).lower().rstrip("."),
            backup=str(backup.path),
        ) from why
    return to


def newest_good(path: Path) -> Backup | None:
    """Return the newest backup of a farm file that opens well; None where there is none."""
    return next((each for each in backups_of(path) if opens_well(each.path)), None)


def newest_words(path: Path) -> Text | None:
    """Return where the newest good backup of a farm file is, for whoever cannot open the file; None without one."""
    newest = newest_good(path)
    if newest is None:
        return None
    return Text("Its newest backup is {file}.", {"file": str(newest.path)})
