"""Paddocks of the sample farm: squares of one 50 m net a side in rows, and the order in which they are used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

import shapely

from pigmap.session.sample.layout import BARN_CORNER, LONG_CORNER, POND_CORNER, WOOD_CORNER
from pigmap.session.sample.site import Corner

NET_M = 50.0
HALF_NET_M = 25.0

Spot = tuple[float, float]


class Square(NamedTuple):
    """One paddock as it is laid out: its lower left corner and size in ground metres along and across the field."""

    field: str
    number: int
    corner: Corner
    along: float
    across: float
    long_m: float = NET_M
    wide_m: float = NET_M
    net_m: float = NET_M

    @property
    def name(self) -> str:
        """What the paddock is called."""
        return f"{self.field} {self.number}"

    @property
    def outline(self) -> shapely.Polygon:
        """The ground it closes, in ground metres."""
        east, north = self.along + self.long_m, self.across + self.wide_m
        return self.corner.area([(self.along, self.across), (east, self.across), (east, north), (self.along, north)])

    def nets(self) -> Iterator[tuple[Spot, Spot]]:
        """Yield the two ends of each net around it, along and across; a net that two squares share is the same."""
        east, north = self.along + self.long_m, self.across + self.wide_m
        for along in _steps(self.along, east, self.net_m):
            yield (along, self.across), (along + self.net_m, self.across)
            yield (along, north), (along + self.net_m, north)
        for across in _steps(self.across, north, self.net_m):
            yield (self.along, across), (self.along, across + self.net_m)
            yield (east, across), (east, across + self.net_m)


def _steps(first: float, last: float, step: float) -> list[float]:
    return [first + step * count for count in range(round((last - first) / step))]


def _row_by_row(columns: int, rows: Iterable[int]) -> list[tuple[int, int]]:
    """Return cells row by row, every second row backwards, so that each shares a side with the one before."""
    cells = []
    for count, row in enumerate(rows):
        there = [(column, row) for column in range(columns)]
        cells += there if count % 2 == 0 else there[::-1]
    return cells


def _squares(field: str, corner: Corner, first: Spot, cells: Iterable[tuple[int, int]]) -> tuple[Square, ...]:
    return tuple(
        Square(field, count, corner, first[0] + NET_M * column, first[1] + NET_M * row)
        for count, (column, row) in enumerate(cells, start=1)
    )


LONG_ROWS = _squares("Long Field", LONG_CORNER, (18.0, 4.0), _row_by_row(9, range(5))[:42])
"""Nine by five without the last three: that corner was never used."""

BARN_ROWS = _squares(
    "Barn Field", BARN_CORNER, (10.0, 8.0), [cell for cell in _row_by_row(7, range(4)) if cell != (6, 0)]
)
"""Seven by four, without the wet corner."""

WOOD_ROWS = _squares("Bank Wood", WOOD_CORNER, (10.0, 6.0), _row_by_row(4, range(4)))

_EAST_ARM = [(2, 1), (2, 2), (3, 2), (3, 1), (3, 0), (4, 0), (4, 1), (4, 2), (5, 2), (5, 1), (5, 0)]

POND_ROWS = _squares(
    "Pond Field",
    POND_CORNER,
    (6.0, 8.0),
    [(0, 5), (1, 5), (1, 4), (0, 4), (0, 3), (1, 3), (1, 2), (0, 2), (0, 1), (0, 0), (1, 0), (1, 1), *_EAST_ARM],
)
"""Down one arm of the L and along the other, clear of the pond and the footpath."""

TRAINING = Square("Barn Field", 31, BARN_CORNER, 10.0, 212.0, 2 * HALF_NET_M, HALF_NET_M, HALF_NET_M)
"""By the yard, of 25 m nets: where new weaners learn what a net is."""

ALL_SQUARES = (*LONG_ROWS, *BARN_ROWS, TRAINING, *WOOD_ROWS, *POND_ROWS)
