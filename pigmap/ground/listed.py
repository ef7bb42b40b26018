"""The state of a farm's ground on a day as a list: by cell, by paddock or by field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from types import MappingProxyType
from typing import Any, Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.frame import CellFrame
from pigmap.ground.state import GroundState
from pigmap.ground.under import Under
from pigmap.records import Farm, Paddock
from pigmap.records.frozen import dataclass

By = Literal["cell", "paddock", "field"]

FIGURES = ("rest_days", "rooting", "cover", "load_kg_d_m2", "n_kg_ha", "p_kg_ha", "unknown", "ready_on")
"""The columns that every list has, after those that say where.

``unknown`` is the share of which nobody knows whether pigs were on it: ground without a rest of which nothing is
unknown was never used.
"""

UNITS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "rest_days": ("d", "days since pigs last left; empty where no use is known"),
        "rooting": ("1", "share of the ground that is rooted"),
        "cover": ("1", "share of the ground that is green"),
        "load_kg_d_m2": ("kg.d/m2", "live weight times days in the twelve months before"),
        "n_kg_ha": ("kg/ha", "nitrogen laid on in the twelve months before"),
        "p_kg_ha": ("kg/ha", "phosphorus laid on in the twelve months before"),
        "unknown": ("1", "share of which nobody knows whether pigs were on it"),
        "ready_on": ("date", "day on which all of it may be used again, if nobody comes before"),
        "ready_in_days": ("d", "days until it may be used again, if nobody comes before"),
        "x_m": ("m", "easting of its middle"),
        "y_m": ("m", "northing of its middle"),
    }
)
"""Unit of each column of a list and of each layer of a raster, and what it is, as files carry them.

Written plainly, as software reads them: ``1`` is a share, ``d`` a day.
"""

_DIGITS = {"rooting": 3, "cover": 3, "load_kg_d_m2": 3, "n_kg_ha": 1, "p_kg_ha": 1, "unknown": 3}

Column = NDArray[Any]


@dataclass(frozen=True, slots=True, eq=False)
class Listed:
    """Columns of one length by name, and the shape of each row in grid metres.

    A number that is not there is not a number, a day that is not there not a time (numpy's NaT).
    """

    columns: Mapping[str, Column]
    shapes: NDArray[np.object_]

    def __len__(self) -> int:
        return len(self.shapes)


def listed(farm: Farm, states: Sequence[GroundState], by: By) -> Listed:
    """Return the ground of some fields, a row for each cell, paddock or field."""
    if by == "cell":
        return _joined([_cells(farm, state) for state in states])
    if by == "field":
        found = [(state, state.by_field) for state in states]
        rows = [(state, under) for state, under in found if under is not None]
        names = {"field": [_field_name(farm, state) for state, _ in rows]}
        outlines = [farm.fields[state.ground.field_uid].outline for state, _ in rows]
        return _of_means(names, [under for _, under in rows], [state.day for state, _ in rows], outlines)
    best = _best(farm, states)
    names = {
        "field": [_field_name(farm, state) for _, state, _ in best],
        "paddock": [paddock.name for paddock, _, _ in best],
    }
    shapes = [paddock.outline for paddock, _, _ in best]
    return _of_means(names, [under for _, _, under in best], [state.day for _, state, _ in best], shapes)


def outside_all(farm: Farm, states: Sequence[GroundState]) -> list[Paddock]:
    """Return the paddocks that hold no cell of any of these fields, by name."""
    held = {paddock.uid for paddock, _, _ in _best(farm, states)}
    return sorted((row for uid, row in farm.paddocks.items() if uid not in held), key=lambda row: row.name)


def _best(farm: Farm, states: Sequence[GroundState]) -> list[tuple[Paddock, GroundState, Under]]:
    """Return each paddock with the field on which most of it lies, by the names of field and paddock."""
    found: dict[str, tuple[GroundState, Under]] = {}
    for state in states:
        for uid, under in state.by_paddock(farm.paddocks.values()).items():
            if uid not in found or found[uid][1].cells < under.cells:
                found[uid] = (state, under)
    rows = [(farm.paddocks[uid], state, under) for uid, (state, under) in found.items()]
    return sorted(rows, key=lambda row: (_field_name(farm, row[1]), row[0].name, row[0].uid))


def _field_name(farm: Farm, state: GroundState) -> str:
    return farm.fields[state.ground.field_uid].name


def _of_means(
    names: Mapping[str, Sequence[str]], means: Sequence[Under], days: Sequence[date], shapes: Sequence[object]
) -> Listed:
    columns: dict[str, Column] = {name: np.array(each, dtype=np.object_) for name, each in names.items()}
    rest = np.array([under.rest_days for under in means], dtype=np.float64)
    columns["rest_days"] = np.where(rest < 0, np.nan, rest)
    for name, digits in _DIGITS.items():
        columns[name] = np.round(np.array([getattr(under, name) for under in means], dtype=np.float64), digits)
    ahead = np.array([under.ready_in_days for under in means], dtype=np.int64)
    columns["ready_on"] = _days_on(np.array(days, dtype="datetime64[D]"), ahead)
    outlines = np.empty(len(means), dtype=np.object_)
    outlines[:] = shapes
    return Listed(columns, outlines)


def _cells(farm: Farm, state: GroundState) -> Listed:
    """Return a row for each cell of a field; row and column are counted from the corner of the field's frame."""
    row, column = np.nonzero(state.ground.region_of >= 0)
    region = state.ground.region_of[row, column]
    frame = state.ground.frame
    middles = frame.to_metres(np.column_stack((column + 0.5, row + 0.5)))
    rest = state.layers["rest_days"][region].astype(np.float64)
    columns: dict[str, Column] = {
        "field": np.full(len(row), _field_name(farm, state), dtype=np.object_),
        "row": row.astype(np.int32),
        "column": column.astype(np.int32),
        "x_m": np.round(middles[:, 0], 2),
        "y_m": np.round(middles[:, 1], 2),
        "rest_days": np.where(rest < 0, np.nan, rest),
    }
    for name, digits in _DIGITS.items():
        columns[name] = np.round(state.layers[name].astype(np.float64), digits)[region]
    columns["ready_on"] = _days_on(np.datetime64(state.day), state.layers["ready_in_days"][region].astype(np.int64))
    return Listed(columns, _squares(frame, row, column))


def _squares(frame: CellFrame, row: NDArray[np.int64], column: NDArray[np.int64]) -> NDArray[np.object_]:
    across = column[:, None] + np.array([0, 1, 1, 0, 0])
    along = row[:, None] + np.array([0, 0, 1, 1, 0])
    corners = frame.to_metres(np.stack((across, along), axis=2).reshape(-1, 2).astype(np.float64))
    squares: NDArray[np.object_] = np.asarray(shapely.polygons(corners.reshape(-1, 5, 2)), dtype=np.object_)
    return squares


def _days_on(day: Any, ahead: NDArray[np.int64]) -> NDArray[np.datetime64]:
    on: NDArray[np.datetime64] = day + ahead.astype("timedelta64[D]")
    return np.where(ahead < 0, np.datetime64("NaT", "D"), on)


def _joined(parts: Sequence[Listed]) -> Listed:
    columns = {name: np.concatenate([part.columns[name] for part in parts]) for name in parts[0].columns}
    return Listed(columns, np.concatenate([part.shapes for part in parts]))
