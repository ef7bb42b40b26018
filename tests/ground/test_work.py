from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.ground import FieldGround, prepare
from pigmap.ground.ready import HeldOff, held_off
from pigmap.records import GroundJob, GroundJobKind, KeepOut, Reason, Record
from tests.ground.invented import WARM_C, check, farm, field, herd, on, paddock, square, stay

SEEDED, HAY, STOCK, MANURE = (
    GroundJobKind.SEEDED,
    GroundJobKind.HAY,
    GroundJobKind.OTHER_STOCK,
    GroundJobKind.MANURE,
)
TO_READY = 794.03 / (WARM_C - 5)
"""Days from bare ground until it is green enough."""


def work(
    kind: GroundJobKind,
    day: int | None,
    until: int | None = None,
    ground: shapely.Polygon | None = None,
    n_kg_ha: float | None = None,
) -> GroundJob:
    return GroundJob(
        uid=f"{kind} {day}",
        kind=kind,
        shape=shapely.MultiPolygon([square(0, 0) if ground is None else ground]),
        happened_on=None if day is None else on(day),
        until_on=None if until is None else on(until),
        n_kg_ha=n_kg_ha,
    )


def ground(*rows: Record) -> FieldGround:
    return prepare(farm(*herd(), field(), *rows), "f")


def at(found: FieldGround, day: int, name: str, row: int = 3, column: int = 3) -> float:
    return float(found.on(on(day)).cells(name)[row, column])


def test_sown_ground_starts_bare_and_grows_as_any_bare_ground() -> None:
    found = ground(work(SEEDED, 10))
    assert at(found, 9, "cover") == pytest.approx(0.95)
    assert at(found, 10, "cover") == pytest.approx(0.02)
    assert at(found, 10 + round(TO_READY), "cover") == pytest.approx(0.75, abs=0.01)
    assert at(found, 10, "cover", 40, 40) == pytest.approx(0.95)


def test_sown_ground_is_shut_for_twelve_weeks_or_through_the_day_that_was_told() -> None:
    assert at(ground(work(SEEDED, 10)), 10, "ready_in_days") == 84
    assert at(ground(work(SEEDED, 10, 109)), 10, "ready_in_days") == 100
    assert at(ground(work(SEEDED, 10, 20)), 10, "ready_in_days") == -(-794.03 // (WARM_C - 5))
    assert at(ground(work(SEEDED, 10)), 94, "ready_in_days") == 0
    assert at(ground(work(SEEDED, 10)), 10, "ready_in_days", 40, 40) == 0


def test_seed_takes_away_what_was_seen_before_and_keeps_the_rest() -> None:
    found = ground(paddock(), stay("s", 0, 5), check("c", 5, 1), work(SEEDED, 10))
    assert [bool(at(found, day, "seen")) for day in (5, 9, 10, 20)] == [True, True, False, False]
    assert at(found, 10, "rest_days") == 5


def test_a_check_after_sowing_counts_again() -> None:
    found = ground(paddock(), work(SEEDED, 10), check("c", 70, 0))
    assert at(found, 70, "cover") == pytest.approx(1.0)
    assert at(found, 70, "ready_in_days") == 24


def test_sowing_twice_shuts_until_the_later_of_the_two_days() -> None:
    found = ground(work(SEEDED, 10, 120), work(SEEDED, 20, 60))
    assert at(found, 20, "ready_in_days") == 101


@pytest.mark.parametrize("kind", [GroundJobKind.HARROWED, HAY, MANURE])
def test_work_of_some_days_keeps_pigs_off_until_it_is_done_and_leaves_the_cover(kind: GroundJobKind) -> None:
    found = ground(stay("s", -60, -55), work(kind, 0, 9))
    without = ground(stay("s", -60, -55))
    assert [at(found, day, "ready_in_days") for day in (0, 9, 10)] == [10, 1, 0]
    assert at(found, 20, "cover") == pytest.approx(at(without, 20, "cover"), abs=1e-5)
    assert at(found, 20, "rest_days") == 75
    assert not at(found, 5, "occupied")


def test_other_stock_counts_as_use_and_nothing_is_known_of_what_it_took() -> None:
    found = ground(work(STOCK, 0, 9))
    assert [at(found, day, "used") for day in (8, 9, 30)] == [0, 1, 1]
    assert at(found, 29, "rest_days") == 20
    assert at(found, 29, "cover") == pytest.approx(0.95)
    assert at(found, 29, "load_kg_d_m2") == 0
    assert at(found, 9, "ready_in_days") == 30
    assert found.first_day is None
    assert at(found, 29, "unknown", 40, 40)


def test_manure_from_elsewhere_is_laid_on_the_nitrogen_of_twelve_months() -> None:
    found = ground(work(MANURE, 0, n_kg_ha=60.0), work(MANURE, 100, 103, n_kg_ha=40.0))
    days = (0, 1, 100, 102, 104, 365, 366, 400, 500)
    expected = [0, 60, 60, 80, 100, 100, 40, 40, 0]
    assert [at(found, day, "n_kg_ha") for day in days] == pytest.approx(expected, abs=1e-3)
    assert at(found, 50, "n_kg_ha", 40, 40) == 0
    assert at(found, 50, "p_kg_ha") == 0


def test_manure_and_pigs_add_up() -> None:
    both = ground(stay("s", 0, 5), work(MANURE, 2, n_kg_ha=60.0))
    alone = ground(stay("s", 0, 5))
    assert at(both, 9, "n_kg_ha") == pytest.approx(at(alone, 9, "n_kg_ha") + 60, abs=1e-3)
    assert at(both, 9, "cover") == pytest.approx(at(alone, 9, "cover"), abs=1e-5)


@pytest.mark.parametrize("kind", [SEEDED, HAY, STOCK, MANURE])
def test_work_without_a_day_changes_nothing(kind: GroundJobKind) -> None:
    found = ground(work(kind, None))
    assert at(found, 0, "cover") == pytest.approx(0.95)
    assert at(found, 0, "unknown")


def test_a_cursor_over_work_shows_what_a_look_from_nothing_shows() -> None:
    found = ground(stay("s", 0, 5), work(SEEDED, 8), work(MANURE, 3, 4, square(20, 0), 60.0), work(STOCK, 100))
    cursor = found.cursor()
    for day in (-2, 4, 8, 9, 60, 101, 30, 3):
        state, fresh = cursor.move_to(on(day)), found.on(on(day))
        for name in fresh.layers:
            assert state.layers[name] == pytest.approx(fresh.layers[name], abs=1e-4), (name, day)


def test_what_keeps_pigs_off_is_told_apart() -> None:
    flood = KeepOut(uid="k", reason=Reason.FLOOD, shape=square(60, 60), from_month_day="04-01", to_month_day="05-31")
    found = ground(work(SEEDED, 10), flood)
    state = found.on(on(12))
    assert held_off(state, square(0, 0)) == HeldOff(on(94).toordinal(), None)
    assert held_off(state, square(70, 70, 10)) == HeldOff(None, date(2026, 6, 1).toordinal())
    assert held_off(state) == HeldOff(on(94).toordinal(), date(2026, 6, 1).toordinal())
    assert held_off(found.on(on(94)), square(0, 0)) == HeldOff(None, None)
    assert held_off(state, square(500, 0)) == HeldOff(None, None)
