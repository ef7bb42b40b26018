"""A farm and copies of it that are edited apart at random, and what is in their files."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path
from random import Random

from pigmap.errors import EditError
from pigmap.records import TABLES, Edit, Farm, Projection, Record
from pigmap.session import Session
from pigmap.session.joining.copy import FarmCopy
from pigmap.store import FarmFile
from pigmap.text import Text
from tests.session.random_edits import random_changes

PLANE = Projection(name="plane", authority="NONE", code=0, definition="", ground_per_grid=1.0)


def edited(path: Path, chance: Random, edits: int) -> None:
    """Edit a farm at random, with steps back and forth in between."""
    with Session.open(path) as session:
        for _ in range(edits):
            kind = chance.random()
            if kind < 0.12 and session.undo_label is not None:
                session.undo().result()
            elif kind < 0.18 and session.redo_label is not None:
                session.redo().result()
            else:
                try:
                    session.do(Edit(Text("Something"), lambda farm: random_changes(chance, farm))).result()
                except EditError:
                    continue  # a row that others point at


def joined(path: Path, copy: Path) -> None:
    """Bring a copy into a farm file."""
    with Session.open(path) as session:
        session.join(FarmCopy(copy)).result()


def rows_of(path: Path) -> dict[str, dict[str, Record]]:
    """Return all rows of a farm file."""
    with Session.open(path) as session:
        farm: Farm = session.farm
        return {table: dict(farm.rows(table)) for table in TABLES}


def conflicts_of(path: Path) -> list[tuple[str, ...]]:
    """Return the conflicts that are listed in a farm file."""
    file = FarmFile.look(path)
    try:
        return sorted(tuple(map(str, each.conflict)) for each in file.open_conflicts())
    finally:
        file.close()


def made(folder: Path, chance: Random, copies: Sequence[str] = ("a", "b")) -> list[Path]:
    """Make a farm, copy it, and edit the copies apart."""
    base = folder / "base.gpkg"
    Session.create(base, PLANE, "Farm").close()
    edited(base, chance, 8)
    paths = [folder / f"{name}.gpkg" for name in copies]
    for path in paths:
        shutil.copy(base, path)
        edited(path, chance, 8)
    return paths
