"""Prepare the ground of 500,000 cells and 5,000 stays, then add one stay after the other."""

from __future__ import annotations

import json
import resource
import sys
from collections.abc import Callable
from dataclasses import replace
from time import perf_counter, process_time

import numpy as np

from pigmap.ground import FieldGround, Known, prepare
from pigmap.records import Farm, add
from tests.benchmarks.ground_case import FIELD_UID, FIRST_DAY, GROUPS, STAYS, big_ground, ground_at, stay_of
from tests.benchmarks.sticks import Spent, Watch, quantile, walls

LAYERS = ("cover", "rest_days", "occupied", "load_kg_d_m2", "n_kg_ha", "ready_in_days")
"""The six layers that the goals name."""


def peak_mb() -> float:
    """Return the most memory that this process ever held [MB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def copy_ms(repeats: int = 50) -> float:
    """Return the time of copying one array of an integer for each cell [ms]: the stick of a preparation."""
    source = np.arange(501_264)
    times = []
    for _ in range(repeats):
        began = perf_counter()
        source.copy()
        times.append((perf_counter() - began) * 1000)
    return quantile(times, 0.5)


def timed(make: Callable[[], FieldGround]) -> tuple[FieldGround, Spent]:
    """Return what was made, and how long it took, on all threads."""
    wall, cpu = perf_counter(), process_time()
    ground = make()
    return ground, Spent((perf_counter() - wall) * 1000, (process_time() - cpu) * 1000)


def prepared(farm: Farm, known: Known) -> tuple[FieldGround, Spent, float]:
    """Return the ground made from nothing, how long it took, and the memory that it and six layers took."""
    before = peak_mb()
    ground, spent = timed(lambda: prepare(farm, FIELD_UID, known=known))
    state = ground.cursor().move_to(FIRST_DAY)
    for name in LAYERS:
        state.layers[name]
    return ground, spent, peak_mb() - before


def added(farm: Farm, known: Known, repeats: int) -> list[Spent]:
    """Return how long the ground takes after each of some stays that are added, one after the other."""
    rng, spent = np.random.default_rng(2), []
    for each in range(repeats + 1):
        row = stay_of(STAYS - GROUPS * (each + 2), ground_at(rng, snapped=True))
        farm = farm.after([add(replace(row, uid=f"new{each}"))])
        spent.append(timed(lambda farm=farm: prepare(farm, FIELD_UID, known=known))[1])  # type: ignore[misc]
    return spent[1:]  # the first one loads what is loaded once


def main(repeats: str) -> None:
    """Measure and print."""
    farm, known = big_ground(1, snapped=True), Known()
    watch = Watch()
    ground, spent, memory = prepared(farm, known)
    first = watch.spent()
    more = added(farm, known, int(repeats))
    stick, of = copy_ms(), "a copy of one number for each of the cells"
    figures = {
        "prepare": {
            "value": spent.wall / 1000,
            "ratio": spent.wall / stick,
            "stick": of,
            "note": f"{ground.regions} regions; six layers of a day with it {first.wall / 1000:.2f} s",
        },
        "prepare-processor": {"value": spent.cpu / 1000},
        "add": {"value": quantile(walls(more), 0.5), "note": f"the slowest {max(walls(more)):.0f} ms"},
        "add-processor": {"value": quantile([each.cpu for each in more], 0.5)},
        "memory": {"value": memory, "note": "the most while it is prepared and six layers of a day are made"},
    }
    sys.stdout.write(f"{json.dumps(figures)}\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
