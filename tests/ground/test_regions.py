from __future__ import annotations

import numpy as np

from pigmap.ground.regions import regions_of


def test_cells_share_a_region_only_if_the_same_events_happened_to_them() -> None:
    rng = np.random.default_rng(3)
    within = rng.random((40, 50)) < 0.8
    inside = np.flatnonzero(within)
    events = [np.sort(rng.choice(inside, size=200, replace=False)) for _ in range(12)]
    regions = regions_of(within, events)
    happened = np.zeros((within.size, len(events)), dtype=np.bool_)
    for number, cells in enumerate(events):
        happened[cells, number] = True
    of_cell = regions.region_of.ravel()
    assert (of_cell >= 0).tolist() == within.ravel().tolist()
    assert regions.count == len(np.unique(happened[inside], axis=0))
    told = np.zeros((regions.count, len(events)), dtype=np.bool_)
    told[regions.pair_region, regions.pair_event] = True
    assert (told[of_cell[inside]] == happened[inside]).all()


def test_a_field_to_which_nothing_happened_is_one_region() -> None:
    regions = regions_of(np.ones((3, 4), dtype=np.bool_), [])
    assert regions.count == 1
    assert (regions.region_of == 0).all()
    assert len(regions.pair_event) == 0


def test_no_two_of_many_events_cancel_each_other_out() -> None:
    within = np.ones((1, 20_001), dtype=np.bool_)
    regions = regions_of(within, [np.array([cell], dtype=np.int64) for cell in range(20_000)])
    assert regions.count == 20_001
