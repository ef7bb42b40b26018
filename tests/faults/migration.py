"""A file of an earlier step is being brought up to date when the program is killed."""

from __future__ import annotations

import gzip
import os
import signal
import sqlite3
import time
from contextlib import closing
from pathlib import Path
from random import Random

from pigmap.store import FarmFile, migrations
from pigmap.store.health import findings
from pigmap.store.kept_copy import copy_of
from tests.faults.counts import Counts

OLD = Path(__file__).parents[1] / "store"


def broken_migrations(folder: Path, wanted: int, seed: int = 1) -> Counts:
    """Kill the program while it brings a file up to date; the old file is whole then, or the new one is."""
    counts = Counts("migration", wanted, "kills")
    counts.bad.update({"half done": 0, "no second try": 0, "copy": 0})
    chance, steps = Random(seed), len(migrations.STEPS)
    lasts = _lasts(folder)
    while counts.tried < wanted:
        step = chance.randrange(1, steps)
        path = folder / f"{counts.tried}" / "farm.gpkg"
        path.parent.mkdir()
        path.write_bytes(_of(step))
        before = _rows(path)
        _killed(path, chance.uniform(0, 1.2 * lasts))
        counts.tried += 1
        version = _version(path)
        counts.count("old" if version == step else "new" if version == steps else "neither")
        if version not in (step, steps) or (version == step and _rows(path) != before):
            counts.lose("half done", f"step {version}")
        copy = copy_of(path)
        if (version == steps or copy.exists()) and _rows(copy) != before:
            counts.lose("copy", f"step {version}")
        _second_try(path, counts)
    return counts


def _of(step: int) -> bytes:
    return gzip.decompress((OLD / f"farm_of_step_{step}.gpkg.gz").read_bytes())


def _lasts(folder: Path) -> float:
    """Return how long it takes here [s]: first as a warming up, then as it is measured."""
    for name in ("warm", "whole"):
        path = folder / name / "farm.gpkg"
        path.parent.mkdir()
        path.write_bytes(_of(1))
        began = time.monotonic()
        FarmFile.open(path).close()
    return time.monotonic() - began


def _killed(path: Path, after_s: float) -> None:
    child = os.fork()
    if child == 0:
        try:
            FarmFile.open(path).close()
        finally:
            os._exit(0)
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def _rows(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as db:
        return list(db.iterdump())


def _version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as db:
        (version,) = db.execute("SELECT schema_version FROM pigmap_document").fetchone()
        return int(version)


def _second_try(path: Path, counts: Counts) -> None:
    FarmFile.open(path).close()
    found = findings(path)
    if found or _version(path) != len(migrations.STEPS):
        counts.lose("no second try", str(found[:1]))
