"""The disk is full in the middle of an edit, then there is room again."""

from __future__ import annotations

from pathlib import Path
from random import Random

from pigmap.errors import StoreError
from pigmap.records import Edit
from pigmap.session import Session
from pigmap.store.health import findings
from pigmap.text import Text
from tests.faults.counts import Counts
from tests.faults.recording_vfs import FullVfs
from tests.faults.through_apsw import session_through
from tests.session.plain_model import PlainModel
from tests.session.random_edits import random_changes
from tests.store.made import PROJECTION

SAID = "farm.gpkg could not be written: the disk is full. Make room on it, then do it again; nothing was lost."
A_FILE = 25
"""So often the disk is full in the life of one file."""
MOST_ROOM = 150_000


def full_disks(folder: Path, wanted: int, seed: int = 1) -> Counts:
    """Let the disk be full at random moments of writing; nothing is lost, it is said in words, and it goes on."""
    counts = Counts("full", wanted, "times")
    counts.bad.update({"lost": 0, "unclear": 0, "damaged": 0})
    chance = Random(seed)
    while counts.tried < wanted:
        path = folder / f"full {counts.tried}" / "farm.gpkg"
        path.parent.mkdir()
        Session.create(path, PROJECTION, "Made-up Farm").close()
        _one_file(path, counts, chance, min(A_FILE, wanted - counts.tried))
        if wrong := findings(path):
            counts.lose("damaged", str(wrong[0]))
    return counts


def _one_file(path: Path, counts: Counts, chance: Random, times: int) -> None:
    disk = FullVfs(f"full {path}")
    with session_through(path, disk.name_of) as session:
        model = PlainModel(session.farm)
        for _ in range(times):
            disk.room = chance.randrange(MOST_ROOM)
            why = _until_full(session, model, chance, counts)
            counts.tried += 1
            if not isinstance(why, StoreError) or str(why) != SAID:
                counts.lose("unclear", str(why))
            disk.room = float("inf")
            _hold(session, model, counts)
            _edit(session, model, chance)  # it goes on
            _hold(session, model, counts)
    with Session.open(path) as session:
        _hold(session, model, counts)
    disk.unregister()


def _until_full(session: Session, model: PlainModel, chance: Random, counts: Counts) -> BaseException:
    while (why := _edit(session, model, chance)) is None:
        counts.count("edits")
    return why


def _edit(session: Session, model: PlainModel, chance: Random) -> BaseException | None:
    if model.can_undo and chance.random() < 0.2:
        why = session.undo().exception()
        if why is None:
            model.undo()
        return why
    changes = random_changes(chance, session.farm)
    why = session.do(Edit(Text("Something"), lambda _: changes)).exception()
    if why is None:
        model.do(changes)
    return why


def _hold(session: Session, model: PlainModel, counts: Counts) -> None:
    for difference in model.differences(session.farm):
        counts.lose("lost", difference)
