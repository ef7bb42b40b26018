"""The ground of a large farm: prepared, changed by one stay, and shown on other days."""

from __future__ import annotations

from tests.benchmarks.loop import child
from tests.benchmarks.sticks import Measured, child_environment


def measure_ground(*, quick: bool) -> dict[str, Measured]:
    """Measure every goal of the ground, each in a process of its own."""
    repeats = "30" if quick else "400"
    with child_environment() as environment:
        found = child("ground_prepared", environment, "3" if quick else "12")
        found |= child("ground_shown", environment, "half-nets", repeats)
        found |= child("ground_shown", environment, "clods", repeats)
        return found | child("ground_shown", environment, "clods-turned", repeats)
