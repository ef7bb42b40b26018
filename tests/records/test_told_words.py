from __future__ import annotations

from datetime import date
from typing import Any

import pytest
import shapely

from pigmap.records import GroundJob, GroundJobKind
from pigmap.records.season import Season, about_season, about_year
from pigmap.records.told_words import told_words

USED = GroundJobKind.USED_BEFORE
AUTUMN = about_season(Season.AUTUMN, 2024)._asdict()


def said(kind: GroundJobKind = USED, *, south: bool = False, **columns: Any) -> str:
    shape = shapely.MultiPolygon([shapely.box(0, 0, 1, 1)])
    if "day" in columns:
        columns["happened_on"] = columns.pop("day")
    return str(told_words(GroundJob(kind=kind, shape=shape, **columns), south=south))


@pytest.mark.parametrize(
    ("score", "hard"),
    [
        (None, ""),
        (0, ", hardly rooted"),
        (1, ", lightly"),
        (2, ", half rooted"),
        (3, ", hard"),
        (4, ", all of it rooted"),
    ],
)
def test_a_use_is_said_in_the_words_it_was_told_in(score: int | None, hard: str) -> None:
    assert said(**AUTUMN, rooting_score=score) == f"pigs about autumn 2024{hard}"


def test_years_days_and_other_halves_of_the_world() -> None:
    assert said(**about_year(2023)._asdict()) == "pigs about 2023"
    assert said(day=date(2024, 10, 16)) == "pigs on 2024-10-16"
    assert said(day=date(2024, 10, 16), within_days=10) == "pigs about 2024-10-16"
    assert said(**AUTUMN, south=True) == "pigs about spring 2024"
    south = about_season(Season.AUTUMN, 2024, south=True)._asdict()
    assert said(**south, south=True) == "pigs about autumn 2024"


def test_never_used_and_not_known_are_two_things() -> None:
    assert said(GroundJobKind.NEVER_USED) == "never used"
    assert said(GroundJobKind.UNKNOWN) == "not known"
    assert said(USED) == "not known"
