"""The state of the ground under outlines: means over their cells."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside

if TYPE_CHECKING:
    from pigmap.ground.state import GroundState


class Under(NamedTuple):
    """The ground under one outline on one day."""

    cells: int
    """How many cells of the field lie under it."""
    rest_days: int
    """Least rest of the ground that was used [d]; 0 where pigs are on some of it, -1 where no use of it is known."""
    never_used: float
    """Share that pigs never were on, as someone said, 0 to 1."""
    unknown: float
    """Share of which nobody knows whether pigs were on it, 0 to 1."""
    occupied: float
    """Share that pigs are on, 0 to 1."""
    cover: float
    rooting: float
    load_kg_d_m2: float
    n_kg_ha: float
    p_kg_ha: float
    ready_in_days: int
    """Days until all of it is ready; -1 where that is not within sight."""
    seen_on: date | None
    """Day of the last daily check that still counts for some of it."""


_MEANS = ("cover", "rooting", "load_kg_d_m2", "n_kg_ha", "p_kg_ha")


def under(state: GroundState, outlines: Mapping[str, BaseGeometry]) -> dict[str, Under]:
    """Return the ground under each outline, by its name; one that holds no cell of the field is left out."""
    regions = state.ground.region_of.ravel()
    cells, starts = cells_inside(state.ground.frame, list(outlines.values()))
    found = {}
    for name, first, last in zip(outlines, starts[:-1], starts[1:], strict=True):
        here = _over(state, regions[cells[first:last]])
        if here is not None:
            found[name] = here
    return found


def over_field(state: GroundState) -> Under | None:
    """Return the ground of the whole field; None where it holds no cell."""
    return _over(state, state.ground.region_of.ravel())


def _over(state: GroundState, region_of: NDArray[np.intp]) -> Under | None:
    """Return the means over cells, given by their regions; -1 lies outside the field."""
    region, counts = np.unique(region_of[region_of >= 0], return_counts=True)
    return _summed(state, region, counts) if len(region) else None


def _summed(state: GroundState, here: NDArray[np.intp], weight: NDArray[np.int64]) -> Under:
    """Return the means over regions, each weighed by its cells."""
    layer = {
        name: state.layers[name][here]
        for name in (*_MEANS, "rest_days", "used", "unknown", "occupied", "seen", "seen_on")
    }
    ready = state.layers["ready_in_days"][here]
    used = layer["used"]
    seen_on = layer["seen_on"][layer["seen"]]
    means = {name: _mean(layer[name], weight) for name in _MEANS}
    return Under(
        cells=int(weight.sum()),
        rest_days=int(layer["rest_days"][used].min()) if used.any() else -1,
        never_used=_mean(~(used | layer["unknown"]), weight),
        unknown=_mean(layer["unknown"], weight),
        occupied=_mean(layer["occupied"], weight),
        ready_in_days=-1 if (ready < 0).any() else int(ready.max()),
        seen_on=date.fromordinal(int(seen_on.max())) if len(seen_on) else None,
        **means,
    )


def _mean(values: NDArray[Any], weight: NDArray[np.int64]) -> float:
    return float(np.average(values.astype(np.float64), weights=weight))
