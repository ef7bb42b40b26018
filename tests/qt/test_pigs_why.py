from __future__ import annotations

from datetime import date

import pytest

from pigmap.animals.manure import ManureSource
from pigmap.animals.weight import Weight
from pigmap.qt.lasts_why import laid_nitrogen
from pigmap.qt.pigs_why import Laid, weight_words
from pigmap.records import GroupEvent, GroupEventKind, PigClass, Record, Stay, StayState
from tests.animals.invented import farm, pigs, setting
from tests.ground.invented import square

CAME, THEN, LATER = date(2026, 1, 1), date(2026, 2, 1), date(2026, 3, 1)


def weighed(uid: str, on: date, kg: float) -> GroupEvent:
    return GroupEvent(uid=uid, group_uid="g", happened_on=on, kind=GroupEventKind.WEIGHED, pigs=10, mean_kg=kg)


def words(day: date, *rows: Record, pig_class: PigClass = PigClass.GROWING, kg: float | None = None) -> str:
    group, came, *_ = pigs(count=10, kg=kg, pig_class=pig_class)
    return str(weight_words(farm(group, came, *rows), "g", day))


def test_the_weight_of_growing_pigs_says_how_they_grew_since_they_were_weighed() -> None:
    assert words(LATER, kg=30.0).startswith(
        "30 kg as told on 2026-01-01, and grown since as pigs outdoors do, now 0.7 kg a day. 10 pigs"
    )
    assert words(LATER, weighed("a", THEN, 50.0), kg=30.0).startswith(
        "50 kg as told on 2026-02-01, and grown since as 2 weighings tell, now 0.8 kg a day. 10 pigs"
    )


def test_between_two_weighings_and_before_the_first_growing_pigs_go_along_the_curve() -> None:
    rows = weighed("a", THEN, 50.0), weighed("b", LATER, 68.0)
    assert words(date(2026, 2, 15), *rows).startswith(
        "50 kg as told on 2026-02-01, 68 kg on 2026-03-01: along the curve of growth between them. 10 pigs"
    )
    assert words(CAME, *rows).startswith("50 kg as told for 2026-02-01, lighter before along the curve of growth. 10")


def test_pigs_that_nobody_weighed_for_long_have_come_to_the_end_of_the_curve() -> None:
    assert words(date(2027, 1, 1), kg=30.0).startswith(
        "30 kg as told on 2026-01-01, and grown since to 127 kg, where the curve ends: weigh them. 10 pigs"
    )


def test_sows_and_pigs_past_the_curve_weigh_what_was_told_last() -> None:
    assert words(LATER, kg=200.0, pig_class=PigClass.GESTATING).startswith(
        "200 kg as told on 2026-01-01, which counts until another is told. 10 pigs"
    )
    assert "counts until another is told" in words(LATER, kg=150.0)
    sows = words(CAME, weighed("a", THEN, 210.0), pig_class=PigClass.GESTATING)
    assert sows.startswith("210 kg as told for 2026-02-01, which counts before it too.")


@pytest.mark.parametrize(("source", "grams"), [(ManureSource.UK, 33.0), (ManureSource.ASABE, 39.2)])
def test_nitrogen_that_stays_laid_follows_the_farms_source(source: ManureSource, grams: float) -> None:
    made = farm(*pigs(count=10, kg=80.0), setting("manure source", f'"{source}"'))
    stay = Stay(
        uid="s",
        group_uid="g",
        paddock_uid="p",
        ground=square(0, 0),
        state=StayState.PAST,
        in_on=CAME,
        out_on=THEN,
    )
    laid = Laid(stay, Weight(10, 80.0, 800.0), 5, 2500.0, 0.5)
    assert laid_nitrogen(made, [laid, laid]) == pytest.approx(2 * 10 * grams * 5 / 2500 * 0.5 * 10)
