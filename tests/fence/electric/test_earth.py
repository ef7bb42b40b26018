from __future__ import annotations

import pytest

from pigmap.fence.electric.earth import (
    EarthLevel,
    Stakes,
    earth_level,
    earth_test_kv,
    most_earth_ohm,
    stakes_by_rule,
    stakes_by_test,
    stakes_of,
    stakes_words,
)
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import SOIL_OHM_M
from pigmap.records import Energizer, Soil
from tests.conftest import published


@pytest.mark.parametrize("row", published("fence_stakes.csv"), ids=lambda row: row["id"])
def test_stakes_have_the_resistance_that_was_worked_out(row: dict[str, str]) -> None:
    stakes = Stakes(int(row["stakes"]), float(row["long_m"]), float(row["thick_mm"]), float(row["apart_m"]), 100.0)
    assert stakes.ohm == pytest.approx(float(row["ohm"]), abs=0.05)


@pytest.mark.parametrize("row", published("fence_earth_test.csv"), ids=lambda row: row["id"])
def test_the_test_of_the_stakes_reads_what_was_worked_out(row: dict[str, str]) -> None:
    supply, reading = from_output(float(row["output_j"])), float(row["reading_kv"])
    if row["most_ohm"]:
        assert most_earth_ohm(supply, reading) == pytest.approx(float(row["most_ohm"]), abs=0.05)
        return
    one = Stakes(1, 1.83, 16.0, 3.0, float(row["soil_ohm_m"]))
    digits = len(row["reading_kv"].split(".")[1])
    assert earth_test_kv(supply, one.ohm) == pytest.approx(reading, abs=0.55 * 10**-digits)


def test_two_stakes_that_touch_lead_like_one_and_far_apart_like_two() -> None:
    one = Stakes(1).ohm
    assert Stakes(2, apart_m=0.012).ohm == pytest.approx(one, rel=0.07)
    assert Stakes(2, apart_m=500.0).ohm == pytest.approx(one / 2, rel=0.01)


@pytest.mark.parametrize("stakes", [Stakes(3, apart_m=1e-4), Stakes(2, 0.01, 50.0), Stakes(12, 3.0, 12.0, 0.01)])
def test_stakes_that_nobody_would_set_still_lead_a_little(stakes: Stakes) -> None:
    assert 0 < stakes.ohm <= stakes._replace(number=1).ohm * (1 + 1e-9)


@pytest.mark.parametrize(
    ("kv", "level"),
    [
        (0.0, EarthLevel.GOOD),
        (0.3, EarthLevel.GOOD),
        (0.31, EarthLevel.WARN),
        (0.5, EarthLevel.WARN),
        (0.51, EarthLevel.BAD),
    ],
)
def test_a_reading_beside_the_stakes_is_much_above_three_hundred_volts(kv: float, level: EarthLevel) -> None:
    assert earth_level(kv) is level


def test_the_rule_asks_for_nine_tenths_of_a_metre_for_each_joule() -> None:
    assert [stakes_by_rule(joules, 1.8) for joules in (0.25, 2.0, 4.0, 4.1)] == [1, 1, 2, 3]
    assert stakes_by_rule(0.0) == 1


def test_where_rule_and_estimate_part_the_words_say_so_and_leave_it_to_the_meter() -> None:
    words = str(stakes_words(from_output(2.0), 2.0, Stakes(1)))
    assert words == (
        "By rule 2 earth stakes of 1.0 m. The estimate says that even 12 would read more than 0.3 kV in this soil. The "
        "two agree in wet clay alone: set what the rule asks, then let the test with the meter decide."
    )
    some = str(stakes_words(from_output(1.0), 1.0, Stakes(1)))
    assert some.startswith("By rule 1 earth stake of 1.0 m. The estimate says 7 for a reading of at most 0.3 kV.")


def test_in_wet_clay_rule_and_estimate_agree() -> None:
    stakes = Stakes(1, soil_ohm_m=SOIL_OHM_M[Soil.BOG])
    supply = from_output(0.5)
    assert stakes_by_test(supply, stakes) == 1
    assert str(stakes_words(supply, 0.5, stakes)).endswith("The estimate agrees; the test with the meter decides.")


def test_a_fence_that_no_test_can_short_to_two_kilovolts_passes() -> None:
    weak = from_output(1.0, open_v=2200.0)
    assert most_earth_ohm(weak) == float("inf")
    assert stakes_by_test(weak, Stakes(1)) == 1


def test_what_is_not_told_of_stakes_is_usual_and_without_a_number_nothing_is_known() -> None:
    assert stakes_of(Energizer(name="Shed", soil=Soil.CLAY)) is None
    assert stakes_of(Energizer(name="Shed", rods=0)) is None
    assert stakes_of(Energizer(name="Shed", rods=2)) == Stakes(2, 1.0, 12.0, 3.0, 100.0)
    told = Energizer(name="Shed", rods=3, rod_m=1.8, rod_mm=16.0, rods_apart_m=2.0, soil=Soil.STONY)
    assert stakes_of(told) == Stakes(3, 1.8, 16.0, 2.0, 2000.0)
