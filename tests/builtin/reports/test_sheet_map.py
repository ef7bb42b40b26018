from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from pigmap.builtin.reports.field_map import report
from pigmap.drawing.layer import Labels
from pigmap.drawing.page import MapFrame, SheetRequest
from pigmap.units import System
from tests.drawing.small_farm import NET, PER_GRID, TODAY, RestAndRooting, SmallState, small_farm


def _lengths(ground_per_grid: float, system: System = "metric") -> set[str]:
    """Return what stands along the sides of the paddocks in use and of the next one."""
    farm = small_farm()
    farm = replace(farm, projection=replace(farm.projection, ground_per_grid=ground_per_grid))
    request = SheetRequest(
        day=TODAY,
        field_uid="long",
        paper="A3",
        scale=None,
        printed_at=datetime(2025, 10, 14, 7, 41),
        today=TODAY,
        tint=RestAndRooting(),
        system=system,
    )
    page = report.make(farm, {"long": SmallState()}, request)
    frames = [item for item in page.items if isinstance(item, MapFrame)]
    layers = max(frames, key=lambda item: item.view.width).layers
    return {
        label.words for layer in layers if isinstance(layer, Labels) for label in layer.labels if label.look == "length"
    }


@pytest.mark.parametrize(
    ("ground_per_grid", "words"), [(PER_GRID, "50 m"), (1.25, "62.5 m"), (0.8, "40 m"), (1.004, "50.2 m")]
)
def test_sides_carry_their_length_on_the_ground(ground_per_grid: float, words: str) -> None:
    # Sides are 50.02 grid metres long.
    assert round(NET, 2) == 50.02
    assert _lengths(ground_per_grid) == {words}


def test_feet_are_feet_of_ground_too() -> None:
    assert _lengths(1.25, "us") == {"205 ft"}  # 62.525 m
