"""The program is killed at random moments of writing, again and again, on one file."""

from __future__ import annotations

import subprocess
import sys
from multiprocessing.connection import Listener
from pathlib import Path
from random import Random

from pigmap.session import Session
from pigmap.store.health import findings
from tests.faults.counts import Counts
from tests.session.plain_model import PlainModel
from tests.session.test_kills import LONGEST_LIFE_S, after_kill, said_until_killed
from tests.store.made import PROJECTION

ROOT = Path(__file__).parents[2]
LOOKED = 50
"""After so many kills the file is looked through."""
A_FILE = 400
"""So many kills one file lives through: its log grows, and with it the time each look takes."""
EDITS_A_KILL = 5


def kills(folder: Path, wanted: int, seed: int = 1) -> Counts:
    """Kill a process that edits at random, until that was done often enough and enough edits were acknowledged."""
    counts = Counts("kill", wanted, "kills")
    counts.bad.update({"lost or half done": 0, "damaged": 0})
    chance = Random(seed)
    while counts.tried < wanted or counts.told.get("acknowledged", 0) < EDITS_A_KILL * wanted:
        _one_file(folder / f"killed {counts.tried}.gpkg", wanted, counts, chance)
    return counts


def _one_file(path: Path, wanted: int, counts: Counts, chance: Random) -> None:
    with Session.create(path, PROJECTION, "Made-up Farm") as session:
        model = PlainModel(session.farm)
    address, here = str(path.with_suffix("")), 0
    program = [sys.executable, "-m", "tests.session.killed_child", address, str(path)]
    with (
        Listener(address, family="AF_UNIX") as listener,
        subprocess.Popen(program, cwd=ROOT, stdin=subprocess.PIPE, text=True) as forking,
    ):
        assert forking.stdin is not None
        while here < A_FILE and (counts.tried < wanted or counts.told.get("acknowledged", 0) < EDITS_A_KILL * wanted):
            forking.stdin.write(f"{chance.randrange(10**9)}\n")
            forking.stdin.flush()
            said = said_until_killed(listener, chance.uniform(0, 2 * LONGEST_LIFE_S))
            counts.tried += 1
            here += 1
            try:
                model, acknowledged = after_kill(model, said, path)
                counts.count("acknowledged", acknowledged)
            except AssertionError as why:
                counts.lose("lost or half done", str(why)[:200])
                return
            if counts.tried % LOOKED == 0 and (found := findings(path)):
                counts.lose("damaged", str(found[0]))
