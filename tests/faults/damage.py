"""Bytes of the file are flipped, pages are lost, its end is cut off: nothing of that is accepted without a word."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random

from pigmap.errors import PigmapError
from pigmap.records import TABLES, Edit, Farm
from pigmap.session import Session
from pigmap.store import FarmFile, HistoryEntry
from pigmap.store.health import findings
from pigmap.store.rescue import rescue
from pigmap.text import Text
from tests.faults.counts import Counts
from tests.session.random_edits import random_changes
from tests.store.made import whole_farm

EDITS = 60
A_PAGE = 4096
KINDS = ("one bit", "one byte", "16 bytes", "a page", "cut short")


def damaged_files(folder: Path, wanted: int, seed: int = 1, rescue_every: int = 1) -> Counts:
    """Damage a farm file at random; it is found or has no effect, and what a rescue gives is sound and counted.

    Parameters
    ----------
    folder
        Where the files may lie.
    wanted
        How many.
    seed
        Of what is damaged.
    rescue_every
        One found in so many is rescued.
    """
    counts = Counts("damage", wanted, "files")
    counts.bad.update({"silent": 0, "traceback": 0, "bad copy": 0})
    path, chance = folder / "farm.gpkg", Random(seed)
    _make(path, Random(seed))
    sound, farm, done = path.read_bytes(), *_read(path)
    for number in range(wanted):
        kind = KINDS[number % len(KINDS)]
        path.write_bytes(_hurt(sound, kind, chance))
        counts.tried += 1
        try:
            found = findings(path)
            if not found:
                _hold(path, farm, done, counts, kind)
            elif number // len(KINDS) % rescue_every == 0:
                _rescue(path, farm, counts)
            counts.count("found" if found else "without effect")
        except PigmapError as why:
            counts.lose("silent", f"{kind}: {why}")
        except Exception as why:  # noqa: BLE001  (that is what is counted)
            counts.lose("traceback", f"{kind}: {type(why).__name__}: {why}")
    return counts


def _make(path: Path, chance: Random) -> None:
    whole_farm(path)
    with Session.open(path) as session:
        for _ in range(EDITS):
            changes = random_changes(chance, session.farm)
            session.do(Edit(Text("Something"), lambda _, changes=changes: changes)).result()  # type: ignore[misc]


def _read(path: Path) -> tuple[Farm, list[HistoryEntry]]:
    file = FarmFile.look(path)
    try:
        return file.read(), file.history()
    finally:
        file.close()


def _hurt(sound: bytes, kind: str, chance: Random) -> bytes:
    at = chance.randrange(len(sound))
    match kind:
        case "one bit":
            return sound[:at] + bytes([sound[at] ^ 1 << chance.randrange(8)]) + sound[at + 1 :]
        case "one byte":
            return sound[:at] + bytes([sound[at] ^ chance.randrange(1, 256)]) + sound[at + 1 :]
        case "16 bytes":
            return sound[:at] + chance.randbytes(16) + sound[at + 16 :]
        case "a page":
            at -= at % A_PAGE
            return sound[:at] + bytes(A_PAGE) + sound[at + A_PAGE :]
    return sound[:at]


def _hold(path: Path, farm: Farm, done: list[HistoryEntry], counts: Counts, kind: str) -> None:
    """Hold a file in which nothing was found against what it was."""
    again, history = _read(path)
    for table in _not_alike(farm, again):
        counts.lose("silent", f"{kind}: {table}")
    if [(each.edit_uid, each.undoes) for each in history] != [(each.edit_uid, each.undoes) for each in done]:
        counts.lose("silent", f"{kind}: history")


def _not_alike(farm: Farm, other: Farm) -> Iterator[str]:
    return (table for table in TABLES if farm.rows(table) != other.rows(table))


def _rescue(path: Path, farm: Farm, counts: Counts) -> None:
    out = path.with_name("out.gpkg")
    out.unlink(missing_ok=True)
    before = path.read_bytes()
    try:
        rescued = rescue(path, out)
    except PigmapError:
        counts.count("not to be rescued")
        return
    finally:
        assert path.read_bytes() == before
    if wrong := findings(out):
        counts.lose("bad copy", str(wrong[0]))
    kept, _ = _read(out)
    counts.count("rescued files")
    counts.count("rows before", sum(len(farm.rows(table)) for table in TABLES))
    counts.count("rows rescued", rescued.rows)
    counts.count(
        "rows as before", sum(kept.rows(t).get(uid) == row for t in TABLES for uid, row in farm.rows(t).items())
    )
