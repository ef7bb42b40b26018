"""From regions of equal history to their cells; from one day to the next only regions that changed are looked up."""

from __future__ import annotations

import weakref
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Regions = NDArray[np.signedinteger]

MOST_SHARE = 0.25
"""Where more of the cells change than this share, looking up all of them is as fast."""


class _Spread(NamedTuple):
    """What regions were spread over their cells last."""

    ground: weakref.ref[Regions]
    outside: int
    of_region: NDArray[np.uint8]
    cells: NDArray[np.uint8]
    order: NDArray[np.int32] | None
    """Cells by region, and `starts` where those of each begin; None until the second time."""
    starts: NDArray[np.int64] | None


_spread: dict[int, _Spread] = {}


def by_cell(of_region: NDArray[np.uint8], region_of: Regions, outside: int) -> NDArray[np.uint8]:
    """Return the number of each cell's region.

    Parameters
    ----------
    of_region
        A number of each region, (regions,).
    region_of
        The region of each cell, (rows, columns); -1 for one outside the field. Never written to once it was given.
    outside
        The number of cells outside.
    """
    key = id(region_of)
    last = _spread.get(key)
    if last is None or last.ground() is not region_of:
        made = _all_cells(of_region, region_of, outside)
        gone = weakref.ref(region_of, lambda _: _spread.pop(key, None))
        _spread[key] = _Spread(gone, outside, of_region, made, None, None)
        return made
    if last.order is None:
        last = _sorted(last, region_of)
    cells = _changed(last, of_region) if last.outside == outside and len(last.of_region) == len(of_region) else None
    made = _all_cells(of_region, region_of, outside) if cells is None else cells
    _spread[key] = last._replace(outside=outside, of_region=of_region, cells=made)
    return made


def _all_cells(of_region: NDArray[np.uint8], region_of: Regions, outside: int) -> NDArray[np.uint8]:
    made: NDArray[np.uint8] = np.append(of_region, np.uint8(outside))[region_of]  # region -1 takes the last one
    return made


def _sorted(last: _Spread, region_of: Regions) -> _Spread:
    """Sort the cells by region, those outside first: a few milliseconds for 500,000 of them, once for a ground."""
    of_cell = region_of.ravel()
    counts = np.bincount(of_cell + 1, minlength=len(last.of_region) + 1)
    order = np.argsort(of_cell, kind="stable").astype(np.int32)
    return last._replace(order=order, starts=np.cumsum(counts))


def _changed(last: _Spread, of_region: NDArray[np.uint8]) -> NDArray[np.uint8] | None:
    """Return the cells with the regions that changed put in; None where there are too many."""
    regions = np.flatnonzero(last.of_region != of_region)
    assert last.order is not None
    assert last.starts is not None
    if not len(regions):
        return last.cells
    first, counts = last.starts[regions], last.starts[regions + 1] - last.starts[regions]
    ends = np.cumsum(counts)
    if ends[-1] > MOST_SHARE * last.cells.size:
        return None
    where = np.arange(ends[-1]) + np.repeat(first - ends + counts, counts)
    made = last.cells.copy()
    made.ravel()[last.order[where]] = np.repeat(of_region[regions], counts)
    return made
