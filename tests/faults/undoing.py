"""Edits, undo and redo at random, with the file closed in between, beside a farm of plain dictionaries."""

from __future__ import annotations

from pathlib import Path
from random import Random

from pigmap.records import Edit
from pigmap.session import Session
from pigmap.store.health import findings
from pigmap.text import Text
from tests.faults.counts import Counts
from tests.session.plain_model import PlainModel
from tests.session.random_edits import random_changes
from tests.store.made import PROJECTION

CLOSED = 0.02
"""Share of the steps that close the file and open it again."""


def random_steps(folder: Path, wanted: int, seed: int = 1) -> Counts:
    """Do, undo, redo and close at random; after each step the rows by uid are those of the model."""
    counts = Counts("undo", wanted, "steps")
    counts.bad.update({"not alike": 0, "not sound": 0})
    path, chance = folder / "undone.gpkg", Random(seed)
    session = Session.create(path, PROJECTION, "Made-up Farm")
    model = PlainModel(session.farm)
    while counts.tried < wanted:
        if chance.random() < CLOSED:
            session.close()
            session = Session.open(path)
            counts.count("closings")
        _step(session, model, chance, counts)
        counts.tried += 1
        for difference in model.differences(session.farm):
            counts.lose("not alike", difference)
        if (session.undo_label is None, session.redo_label is None) != (not model.can_undo, not model.can_redo):
            counts.lose("not alike", f"step {counts.tried}: what can be undone")
    session.close()
    if found := findings(path):
        counts.lose("not sound", str(found[0]))
    return counts


def _step(session: Session, model: PlainModel, chance: Random, counts: Counts) -> None:
    kind = chance.random()
    if kind < 0.35 and model.can_undo:
        session.undo().result()
        model.undo()
        counts.count("undone")
    elif kind < 0.6 and model.can_redo:
        session.redo().result()
        model.redo()
        counts.count("done again")
    else:
        changes = random_changes(chance, session.farm)
        session.do(Edit(Text("Something"), lambda _: changes)).result()
        model.do(changes)
        counts.count("done")
