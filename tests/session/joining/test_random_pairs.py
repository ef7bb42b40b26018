"""Copies of a farm that were edited apart at random end alike, whichever of them is joined with the other first."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path
from random import Random

import pytest

from pigmap.errors import EditError
from pigmap.records import TABLES, Edit, Farm, Projection, Record
from pigmap.session import Session
from pigmap.session.joining.copy import FarmCopy
from pigmap.store import FarmFile
from pigmap.store.health import findings
from pigmap.text import Text
from tests.session.random_edits import random_changes

PLANE = Projection(name="plane", authority="NONE", code=0, definition="", ground_per_grid=1.0)
PAIRS = 6
"""Pairs in the ordinary tests; `python -m tests.faults merged` takes a thousand."""


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


@pytest.mark.parametrize("seed", range(PAIRS))
def test_two_copies_end_alike_from_both_sides(seed: int, tmp_path: Path) -> None:
    one, other = made(tmp_path, Random(seed))
    back = tmp_path / "other as it was.gpkg"
    shutil.copy(other, back)
    mine = rows_of(one)
    joined(other, one)
    joined(one, back)
    assert rows_of(one) == rows_of(other)
    assert conflicts_of(one) == conflicts_of(other)
    assert findings(one) == findings(other) == []
    with Session.open(one) as session:  # one step back takes all of it back
        session.undo().result()
    assert rows_of(one) == mine


@pytest.mark.parametrize("seed", range(2))
def test_a_copy_that_is_joined_with_what_it_was_joined_into_is_the_same_then(seed: int, tmp_path: Path) -> None:
    one, other = made(tmp_path, Random(100 + seed))
    joined(one, other)
    joined(other, one)
    assert rows_of(one) == rows_of(other)
    for path, copy in ((one, other), (other, one)):
        with pytest.raises(EditError, match="is here already"):
            joined(path, copy)


@pytest.mark.parametrize("seed", range(2))
def test_work_goes_on_in_both_after_a_join_and_comes_together_again(seed: int, tmp_path: Path) -> None:
    chance = Random(200 + seed)
    one, other = made(tmp_path, chance)
    joined(one, other)
    edited(one, chance, 6)
    edited(other, chance, 6)
    back = tmp_path / "other as it was.gpkg"
    shutil.copy(other, back)
    joined(other, one)
    joined(one, back)
    assert rows_of(one) == rows_of(other)
    assert findings(one) == findings(other) == []


@pytest.mark.parametrize("seed", range(2))
def test_three_copies_end_alike(seed: int, tmp_path: Path) -> None:
    first, second, third = made(tmp_path, Random(300 + seed), ("a", "b", "c"))
    joined(first, second)
    joined(first, third)
    joined(second, first)
    joined(third, first)
    assert rows_of(first) == rows_of(second) == rows_of(third)
