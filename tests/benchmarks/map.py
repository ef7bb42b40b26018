"""The map with 0.9 gigapixels, 500,000 cells and 5,000 polygons, each part beside its stick."""

from __future__ import annotations

from tests.benchmarks.loop import child
from tests.benchmarks.map_rasters import large_jpeg, small_jpeg
from tests.benchmarks.map_start import large_farm, measure_large_start
from tests.benchmarks.sticks import Measured, child_environment


def measure_map(*, quick: bool) -> dict[str, Measured]:
    """Measure every goal of the map; what other libraries take is left out where they are not installed."""
    large_jpeg()
    small_jpeg()
    with child_environment() as environment:
        found = child("map_drag", environment, "2" if quick else "10")
        found |= child("map_view", environment, "fills", "5" if quick else "30")
        found |= child("map_view", environment, "polygons", "1")
        found |= child("map_view", environment, "recolours", "20" if quick else "200")
        found |= child("map_sidecar", environment, "3" if quick else "7")
        found |= child("map_others", environment, "3" if quick else "10")
    with large_farm() as (farm, environment):
        ghost = child("loop_ghost", environment, str(farm), "100" if quick else "1000")
    found |= {"ghost": ghost["ghost-outline"], "ghost-figures": ghost["ghost-figures"]}
    return found | measure_large_start(repeats=3 if quick else 10)
