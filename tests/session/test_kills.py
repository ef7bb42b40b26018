"""Random edits, undone and redone, by a process that is killed again and again."""

from __future__ import annotations

import copy
import os
import signal
import subprocess
import sys
import time
from multiprocessing.connection import Connection, Listener
from pathlib import Path
from random import Random

import pytest

from pigmap.records import TABLES
from pigmap.session import Session
from pigmap.store.health import findings
from tests.session.killed_child import Said
from tests.session.plain_model import PlainModel
from tests.store.made import PROJECTION

KILLS = int(os.environ.get("PIGMAP_KILLS", "50"))
EDITS = 4 * KILLS
LONGEST_LIFE_S = 0.12

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="forks and kills processes")


def said_until_killed(listener: Listener, life_s: float) -> list[Said]:
    """Return everything a child said until it was killed."""
    said: list[Said] = []
    with listener.accept() as from_child:
        child = from_child.recv()
        try:
            said.append(from_child.recv())  # its life begins with its first edit
            _listen(from_child, said, life_s)
            os.kill(child, signal.SIGKILL)
            while True:
                said.append(from_child.recv())
        except (EOFError, ConnectionResetError):
            return said


def _listen(from_child: Connection, said: list[Said], life_s: float) -> None:
    end = time.monotonic() + life_s
    while (left := end - time.monotonic()) > 0:
        if from_child.poll(left):
            said.append(from_child.recv())


def follow(model: PlainModel, said: Said) -> None:
    """Make an edit on the model."""
    kind, changes = said
    if kind == "do":
        model.do(changes)
    elif kind == "undo":
        model.undo()
    else:
        model.redo()


def after_kill(model: PlainModel, said: list[Said], path: Path) -> tuple[PlainModel, int]:
    """Hold the farm that a killed process left against the model; one edit may be there without its acknowledgement.

    Returns
    -------
    model, count
        The model as the farm is, and how many edits were acknowledged.
    """
    asked = [each for each in said if each[0] != "done"]
    acknowledged = len(said) - len(asked)
    for each in asked[:acknowledged]:
        follow(model, each)
    with Session.open(path) as session:
        farm = session.farm
        counts = (session.undo_label is not None, session.redo_label is not None)
    differences = list(model.differences(farm))
    if differences and len(asked) > acknowledged:
        model = copy.copy(model)
        follow(model, asked[acknowledged])
        differences = list(model.differences(farm))
    assert differences == []
    assert counts == (model.can_undo > 0, model.can_redo > 0)
    return model, acknowledged


def assert_same(session: Session, model: PlainModel, path: Path) -> None:
    """Hold memory, disk and model against each other."""
    assert list(model.differences(session.farm)) == []
    with Session.open(path) as again:
        for table in TABLES:
            assert again.farm.rows(table) == session.farm.rows(table)


def test_nothing_acknowledged_is_lost_and_nothing_is_half_done(tmp_path: Path) -> None:
    path, chance = tmp_path / "farm.gpkg", Random(20261125)
    with Session.create(path, PROJECTION, "Made-up Farm") as session:
        model = PlainModel(session.farm)
    acknowledged = kills = 0
    address = str(tmp_path / "child")
    program = [sys.executable, "-m", "tests.session.killed_child", address, str(path)]
    root = Path(__file__).parents[2]
    with (
        Listener(address, family="AF_UNIX") as listener,
        subprocess.Popen(program, cwd=root, stdin=subprocess.PIPE, text=True) as forking,
    ):
        assert forking.stdin is not None
        while kills < KILLS or acknowledged < EDITS:
            forking.stdin.write(f"{chance.randrange(10**9)}\n")
            forking.stdin.flush()
            said = said_until_killed(listener, chance.uniform(0, LONGEST_LIFE_S))
            model, count = after_kill(model, said, path)
            acknowledged += count
            kills += 1
    assert findings(path) == []
    assert acknowledged >= EDITS
    with Session.open(path) as session:
        assert_same(session, model, path)
        back = 0
        while model.can_undo:
            session.undo().result()
            model.undo()
            back += 1
            if back % 20 == 0:
                assert list(model.differences(session.farm)) == []
        assert session.undo_label is None
        assert_same(session, model, path)
        while model.can_redo:
            session.redo().result()
            model.redo()
        assert session.redo_label is None
        assert_same(session, model, path)
    assert findings(path) == []
