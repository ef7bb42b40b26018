"""The power fails: whatever was written and not synced may be on the disk, or not, or in part."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from typing import NamedTuple

from pigmap.errors import PigmapError
from pigmap.records import Edit
from pigmap.session import Session
from pigmap.store import FarmFile
from pigmap.store.connection import WRITING
from pigmap.store.health import findings
from pigmap.text import Text
from tests.faults.counts import Counts
from tests.faults.recording_vfs import Op, RecordingVfs
from tests.faults.through_apsw import session_through
from tests.session.plain_model import PlainModel, Tables
from tests.session.random_edits import random_changes
from tests.store.made import PROJECTION

SECTOR = 512
EDITS = 120
LOOKED = 10
"""One image in so many is looked through wholly."""
WEAK = {
    "no syncs": ("journal_mode = DELETE", "synchronous = OFF"),
    "SQLite's usual": ("journal_mode = DELETE", "synchronous = FULL"),
}
"""Settings with which edits are lost, so that the test is known to be able to fail."""


class Recorded(NamedTuple):
    """What was done below SQLite, and what the farm was after each edit."""

    path: Path
    begin: bytes
    ops: Sequence[Op]
    done: Sequence[tuple[int, Tables]]
    """How many ops there were when an edit was acknowledged, and the rows of the farm then."""


def record(folder: Path, seed: int, writing: Sequence[str] = WRITING, edits: int = EDITS) -> Recorded:
    """Edit a farm through the store's own code and note everything that reaches the disk."""
    path, chance = Path(tempfile.mkdtemp(dir=folder)) / "farm.gpkg", Random(seed)
    Session.create(path, PROJECTION, "Made-up Farm").close()
    begin = path.read_bytes()
    vfs = RecordingVfs(f"recording {path}")
    with session_through(path, vfs.name_of, writing) as session:
        model = PlainModel(session.farm)
        done = [(0, _rows(model))]
        for _ in range(edits):
            _one(session, model, chance)
            done.append((len(vfs.ops), _rows(model)))
        ops = list(vfs.ops)
    vfs.unregister()
    return Recorded(path, begin, ops, done)


def _rows(model: PlainModel) -> Tables:
    return {table: dict(rows) for table, rows in model.tables.items()}


def _one(session: Session, model: PlainModel, chance: Random) -> None:
    if model.can_undo and chance.random() < 0.2:
        session.undo().result()
        model.undo()
        return
    changes = random_changes(chance, session.farm)
    session.do(Edit(Text("Something"), lambda _: changes)).result()
    model.do(changes)


class Disk:
    """Files as they are for certain, and what was done to each since its last sync."""

    def __init__(self, recorded: Recorded) -> None:
        self.sure: dict[str, bytearray | None] = {str(recorded.path): bytearray(recorded.begin)}
        self.open: dict[str, list[Op]] = {}

    def do(self, op: Op) -> None:
        """Follow one op."""
        waiting = self.open.setdefault(op.path, [])
        if op.kind == "sync":
            self.sure[op.path] = _after(self.sure.get(op.path), waiting)
            waiting.clear()
        elif op.kind == "unlink" and op.at:
            self.sure[op.path] = None
            waiting.clear()
        else:
            waiting.append(op)

    def image(self, chance: Random) -> Iterator[tuple[str, bytes]]:
        """Yield the files as they might be found after the power failed now."""
        keeps = chance.choice((0.0, 0.5, 1.0))  # all that waits is lost, some of it, or nothing
        for path in {*self.sure, *self.open}:
            kept = [part for op in self.open.get(path, ()) for part in _torn(op, keeps, chance)]
            found = _after(self.sure.get(path), kept)
            if found is not None:
                yield path, bytes(found)


def _torn(op: Op, keeps: float, chance: Random) -> Iterator[Op]:
    if op.kind != "write":
        if chance.random() < keeps:
            yield op
        return
    for at in range(0, len(op.data), SECTOR):
        if chance.random() < keeps:
            yield Op("write", op.path, op.at + at, op.data[at : at + SECTOR])


def _after(content: bytearray | None, ops: Sequence[Op]) -> bytearray | None:
    found = None if content is None else bytearray(content)
    for op in ops:
        if op.kind == "unlink":
            found = None
            continue
        found = bytearray() if found is None else found
        if op.kind == "truncate":
            del found[op.at :]
        elif op.kind == "write":
            found.extend(bytes(max(op.at - len(found), 0)))
            found[op.at : op.at + len(op.data)] = op.data
    return found


def power_cuts(
    folder: Path, images: int, seed: int = 1, writing: Sequence[str] = WRITING, name: str = "power"
) -> Counts:
    """Let the power fail at random moments, and hold what is found against the last acknowledged edit."""
    counts = Counts(name, images, "images")
    counts.bad.update({"lost": 0, "half done": 0, "damaged": 0})
    chance = Random(seed)
    while counts.tried < images:
        recorded = record(folder, seed + counts.tried, writing)
        several = min(images - counts.tried, 20 * EDITS)
        cuts = sorted(chance.randrange(len(recorded.ops) + 1) for _ in range(several))
        disk, at = Disk(recorded), 0
        for cut in cuts:
            while at < cut:
                disk.do(recorded.ops[at])
                at += 1
            _hold(counts, recorded, disk, cut, chance)
    return counts


def _hold(counts: Counts, recorded: Recorded, disk: Disk, cut: int, chance: Random) -> None:
    counts.tried += 1
    with tempfile.TemporaryDirectory(dir=recorded.path.parent) as named:
        folder = Path(named)
        for name, content in disk.image(chance):
            (folder / Path(name).name).write_bytes(content)
        path = folder / recorded.path.name
        last = max(number for number, (ops, _) in enumerate(recorded.done) if ops <= cut)
        try:
            found = _found(path)
        except (PigmapError, ValueError) as error:
            counts.lose("damaged", str(error))
            return
        states = [rows for _, rows in recorded.done]
        if found == states[last]:
            counts.count("as acknowledged")
        elif last + 1 < len(states) and found == states[last + 1]:
            counts.count("with the edit under way")
        elif found in states:
            counts.lose("lost", f"edit {last} of {len(states)}")
        else:
            counts.lose("half done", f"edit {last}")
        if counts.tried % LOOKED == 0 and (wrong := findings(path)):
            counts.lose("damaged", str(wrong[0]))


def _found(path: Path) -> Tables:
    file = FarmFile.open(path)
    try:
        return PlainModel(file.read()).tables
    finally:
        file.close()
