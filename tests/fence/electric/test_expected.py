from __future__ import annotations

import pytest

from pigmap.fence.electric.case import Case, Level, LiveNet, volts
from pigmap.fence.electric.earth import EarthLevel, Stakes
from pigmap.fence.electric.expected import Between, expected, series_and_ring
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import Growth


def case(nets: int = 4, joules: float = 1.0, **more: object) -> Case:
    made = Case(from_output(joules), (LiveNet(50.0),) * nets, output_j=joules)
    return made._replace(**more)  # type: ignore[arg-type]


def test_what_is_expected_lies_between_the_growths_that_are_named() -> None:
    found = expected(case())
    assert found.mown == (volts(case(), Growth.LIGHT).far_kv, volts(case(), Growth.CLEAN).far_kv)
    assert found.grown == (volts(case(), Growth.HEAVY).far_kv, volts(case(), Growth.MEDIUM).far_kv)
    assert found.grown.high_kv < found.mown.low_kv
    assert found.far_m == pytest.approx(100.0, abs=1.0)


@pytest.mark.parametrize(
    ("nets", "joules", "level"),
    [(4, 1.0, Level.GOOD), (4, 0.25, Level.FAIR), (8, 0.25, Level.STOP), (12, 1.0, Level.FAIR)],
)
def test_whether_it_is_enough_goes_by_medium_growth(nets: int, joules: float, level: Level) -> None:
    assert expected(case(nets, joules)).level is level


def test_a_ring_reads_more_than_a_row_and_one_forgotten_clip_makes_it_one() -> None:
    row, ring = series_and_ring(case(8))
    assert ring.low_kv > row.low_kv
    found = expected(case(8))
    assert found.mown == ring
    assert found.opened == pytest.approx(row)
    assert expected(case(8, ring=False)).opened == (0.0, 0.0)


def test_one_thing_more_changes_as_much_as_it_does_when_it_is_there() -> None:
    now = case(8, 1.0, stakes=Stakes(1))
    found, medium = expected(now), volts(now, Growth.MEDIUM).far_kv
    joule = volts(now._replace(supply=from_output(2.0)), Growth.MEDIUM).far_kv
    stake = volts(now._replace(stakes=Stakes(2)), Growth.MEDIUM).far_kv
    assert found.joule_more_kv == pytest.approx(joule - medium)
    assert found.stake_more_kv == pytest.approx(stake - medium)
    assert found.net_more_kv == pytest.approx(volts(case(9, 1.0, stakes=Stakes(1)), Growth.MEDIUM).far_kv - medium)
    assert joule > medium < stake
    assert found.net_more_kv < 0


def test_where_nothing_is_told_of_stakes_or_output_no_more_of_it_is_reckoned() -> None:
    found = expected(case()._replace(output_j=None))
    assert found.joule_more_kv is None
    assert found.stake_more_kv is None
    assert expected(case(joules=4.5)).joule_more_kv is None  # there are none with more than 5 J


def test_the_test_of_the_stakes_is_expected_beside_it() -> None:
    found = expected(case(stakes=Stakes(1, 1.83, 16.0)))
    assert found.earth_test_kv == pytest.approx(0.91, abs=0.005)
    assert found.earth_level is EarthLevel.BAD


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (4.8, 6.1, "5 to 6 kV"),
        (4.7, 5.3, "4.5 to 5.5 kV"),
        (4.9, 5.1, "5 kV"),
        (0.1, 0.2, "next to nothing"),
        (0.1, 1.0, "0 to 1 kV"),
    ],
)
def test_a_voltage_is_told_in_halves_of_a_kilovolt(low: float, high: float, words: str) -> None:
    assert str(Between(low, high).words) == words
