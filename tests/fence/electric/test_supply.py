from __future__ import annotations

import pytest

from pigmap.fence.electric.supply import from_output, from_sheet, supply_of
from pigmap.records import Energizer
from tests.conftest import published


@pytest.mark.parametrize("row", published("fence_sources.csv"), ids=lambda row: row["id"])
def test_a_source_has_the_resistance_and_capacity_that_were_worked_out(row: dict[str, str]) -> None:
    output_j, on_500_kv = float(row["output_j"]), float(row["on_500_kv"])
    supply = from_sheet(9000, on_500_kv * 1000) if row["id"] == "F12" else from_output(output_j)
    assert supply.inner_ohm == pytest.approx(float(row["inner_ohm"]), abs=float(row["tol_ohm"]))
    assert supply.on_500_v / 1000 == pytest.approx(on_500_kv, abs=float(row["tol_kv"]))
    assert supply.capacity_f(output_j) * 1e9 == pytest.approx(float(row["capacity_nf"]), abs=float(row["tol_nf"]))


def test_the_capacity_holds_the_energy_that_the_load_and_the_inner_resistance_take() -> None:
    supply = from_sheet(8000, 4000)
    # Half the voltage on 500 Ω: the inner resistance is as large and takes as much as the load.
    assert supply.capacity_f(1.5) * 8000**2 / 2 == pytest.approx(3.0)


def test_what_the_data_sheet_tells_goes_before_what_is_usual() -> None:
    both = supply_of(Energizer(name="Shed", output_j=1.0, open_kv=8.0, kv_500=4.0))
    assert both is not None
    assert both.open_v == 8000.0
    assert both.inner_ohm == pytest.approx(500.0)
    alone = supply_of(Energizer(name="Shed", output_j=2.0))
    assert alone is not None
    assert (alone.open_v, alone.inner_ohm) == (9000.0, 170.0)
    loaded = supply_of(Energizer(name="Shed", kv_500=4.5))
    assert loaded is not None
    assert loaded.inner_ohm == pytest.approx(500.0)


def test_of_an_energizer_of_which_nothing_is_told_nothing_is_made_up() -> None:
    assert supply_of(Energizer(name="Shed")) is None
    assert supply_of(Energizer(name="Shed", open_kv=8.0)) is None
    assert supply_of(Energizer(name="Shed", output_j=0.0)) is None


def test_a_joule_more_lowers_the_inner_resistance() -> None:
    assert from_output(1.0).at_output(1.0, 2.0) == from_output(2.0)
