"""Figures that paddocks bear on the map where a way to colour the ground has one: nitrogen, stocking."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.drawing.layer import Label
from pigmap.drawing.tint import Tint
from pigmap.ground import GroundState
from pigmap.qt.stage import Stage
from pigmap.records import Paddock
from pigmap.text import Quantity, Text

PRIORITY = 40
"""Below names and plates, above the names of places."""
FROM_M = 3.5
"""Scale from which they are written [m for a pixel at most]."""


class _Spot(NamedTuple):
    paddock: Paddock
    x_m: float
    y_m: float
    room_m: float


class Figures:
    """Keeps where paddocks have their middles: only the figures change with the day."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._paddocks: Mapping[str, Paddock] | None = None
        self._spots: dict[str, list[_Spot]] = {}
        self.borne = False
        """Whether paddocks bear figures now."""

    @staticmethod
    def of(tint: Tint | None) -> str:
        """Return the name of the array of which paddocks bear the figure; nothing where they bear none."""
        return str(getattr(tint, "figure", ""))

    def labels(self, tint: Tint | None) -> tuple[Label, ...]:
        """Return the figures of a way to colour the ground; none where it has none, or nothing is computed yet."""
        name = self.of(tint)
        self.borne = bool(name)
        if tint is None or not name:
            return ()
        stage = self._stage
        farm = stage.session.farm
        if self._paddocks is not farm.paddocks:
            self._paddocks, self._spots = farm.paddocks, _spots(farm.paddocks)
        found: list[Label] = []
        for uid, spots in self._spots.items():
            state = stage.session.ground.state(uid, stage.day, stage.today) if uid in farm.fields else None
            if state is not None:
                found += _of_field(stage, state, spots, name, tint)
        return tuple(found)


def _of_field(stage: Stage, state: GroundState, spots: list[_Spot], name: str, tint: Tint) -> Iterator[Label]:
    frame, region_of = state.ground.frame, state.ground.region_of
    at = np.floor(frame.to_cells(np.array([(each.x_m, each.y_m) for each in spots]))).astype(np.int64)
    inside = ((at >= 0) & (at < (frame.columns, frame.rows))).all(axis=1)
    regions = np.where(inside, region_of[np.where(inside, at[:, 1], 0), np.where(inside, at[:, 0], 0)], -1)
    values = np.where(regions >= 0, state.layers[name][regions], 0.0)
    taken: set[tuple[int, int]] = set()
    for spot, value, (column, row) in zip(reversed(spots), values[::-1].tolist(), at[::-1].tolist(), strict=True):
        if value > 0 and (column, row) not in taken:  # of paddocks on the same ground the last one bears it
            taken.add((column, row))
            yield _label(stage, spot, Quantity(value, tint.unit))


def _label(stage: Stage, spot: _Spot, value: Quantity) -> Label:
    """Return the bare figure, as people read it: its unit stands in the key."""
    words = stage.words(Text("{figure}", {"figure": value})).split(" ", 1)[0]
    return Label(
        spot.x_m,
        spot.y_m,
        words,
        look="quiet",
        priority=PRIORITY,
        room_m=spot.room_m,
        smallest_scale=FROM_M,
    )


def _spots(paddocks: Mapping[str, Paddock]) -> dict[str, list[_Spot]]:
    """Return the middle of each paddock, by field, in the order in which they were placed."""
    found: dict[str, list[_Spot]] = {}
    for paddock in paddocks.values():
        spot = shapely.point_on_surface(paddock.outline)
        place = _Spot(paddock, spot.x, spot.y, math.sqrt(paddock.outline.area))
        found.setdefault(paddock.field_uid or "", []).append(place)
    return found
