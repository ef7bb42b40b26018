from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import record_stay
from pigmap.fence.electric.of_check import EARTH_TEST_DAYS, cause_of, last_earth_kv
from pigmap.fence.electric.of_paddock import fence_of
from pigmap.records import Edit, Energizer, EnergizerReading, Farm, Record, add
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, PADDOCK, done, example

UNIT = Energizer(uid="unit", name="Shed", output_j=1.0)


def told(*rows: Record) -> Edit:
    return Edit(Text("Told."), lambda farm: [add(row) for row in rows])


def read(uid: str, ago: int, earth_kv: float | None) -> EnergizerReading:
    return EnergizerReading(uid=uid, energizer_uid="unit", read_on=DAY - timedelta(days=ago), earth_kv=earth_kv)


def farm_with(*readings: Record) -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY, uid="now"), told(UNIT, *readings))


def test_the_last_test_of_the_stakes_counts_while_it_is_not_too_old() -> None:
    farm = farm_with(read("a", 90, 0.9), read("b", 30, 0.2), read("c", 5, None))
    assert last_earth_kv(farm, "unit", DAY) == 0.2
    assert last_earth_kv(farm, "unit", DAY - timedelta(days=40)) == 0.9
    assert last_earth_kv(farm, "unit", DAY - timedelta(days=100)) is None
    assert last_earth_kv(farm, "unit", DAY + timedelta(days=EARTH_TEST_DAYS)) is None
    assert last_earth_kv(farm, "other", DAY) is None


def test_a_bad_test_of_the_stakes_is_the_likely_cause_of_a_low_reading() -> None:
    farm = farm_with(read("a", 3, 0.9))
    fence = fence_of(farm, PADDOCK, farm.paddocks[PADDOCK].outline, GROUP, DAY)
    assert fence is not None
    low = cause_of(farm, fence, fence.expected, 2.5, DAY)
    assert low is not None
    assert str(low.both).startswith("The earth stakes read 0.9 kV")
    soil = cause_of(farm, fence, fence.expected, 2.5, DAY, soil_on_net=True)
    assert soil is not None
    assert str(soil.both).startswith("Soil lies on the net")
    assert cause_of(farm, fence, fence.expected, 6.5, DAY) is None
