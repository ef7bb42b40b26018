"""Copies of a farm that were edited apart at random end alike, whichever of them is joined with the other first."""

from __future__ import annotations

import shutil
from pathlib import Path
from random import Random

import pytest

from pigmap.errors import EditError
from pigmap.session import Session
from pigmap.store.health import findings
from tests.session.joining.pairs import conflicts_of, edited, joined, made, rows_of

PAIRS = 6
"""Pairs in the ordinary tests; `python -m tests.faults --full merged` takes a thousand."""


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
