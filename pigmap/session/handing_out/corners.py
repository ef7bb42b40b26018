"""Corners of paddocks or fields as points for a phone, shortly named, in the order in which they are walked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.records import Farm, Field, Paddock
from pigmap.session.handing_out.order import in_order
from pigmap.session.handing_out.table import Handed, column

LONGEST = 8
"""Letters of a name before the number of the corner: old devices show few. Own choice."""
STRAIGHT_M = 0.05
"""What lies nearer to the line between its neighbours is no corner [grid m]. Own choice."""

Ring = NDArray[np.float64]


def corners_of(farm: Farm, rows: Iterable[Paddock | Field]) -> Handed:
    """Return the corners of paddocks or fields.

    Each is walked against the clock from the corner nearest to where the one before ended; a field of several parts,
    or with holes, goes on with the next number.
    """
    names: list[str] = []
    of: list[str] = []
    numbers: list[int] = []
    points: list[shapely.Point] = []
    taken: set[str] = set()
    here: Ring | None = None
    for row in in_order(rows):
        short = short_name(row.name, taken)
        number = 0
        for ring in rings_of(row.outline):
            walked = _from(ring, here)
            here = walked[0]  # the walk comes back to where it began
            for east, north in walked.tolist():
                number += 1
                names.append(f"{short}-{number}")
                of.append(row.name)
                numbers.append(number)
                points.append(shapely.Point(east, north))
    columns = (
        column("name", "text", names),
        column("of", "text", of),
        column("corner", "whole", numbers),
        column("x_m", "number", [round(point.x, 3) for point in points]),
        column("y_m", "number", [round(point.y, 3) for point in points]),
    )
    return Handed("corners", columns, tuple(points), tuple(names))


def short_name(name: str, taken: set[str]) -> str:
    """Return a name that fits an old device and is like no other so far; it is taken then.

    Examples
    --------
    >>> taken = set()
    >>> [short_name(name, taken) for name in ("Ley 9", "North Meadow 12", "North Marsh 12")]
    ['Ley 9', 'NM12', 'NM12b']
    """
    plain = " ".join(name.split())
    short = plain if len(plain) <= LONGEST else _initials(plain)
    found = next(each for each in (f"{short}{more}" for more in _more()) if each.casefold() not in taken)
    taken.add(found.casefold())
    return found


def _initials(name: str) -> str:
    """Return the first letter of each word and whole numbers; of one long word its beginning."""
    words = name.split()
    if len(words) == 1:
        return name[:LONGEST]
    return "".join(word if word.isdecimal() else word[0] for word in words)[:LONGEST]


def _more() -> Iterator[str]:
    yield ""
    yield from "bcdefghijklmnopqrstuvwxyz"
    number = 2
    while True:
        yield f".{number}"
        number += 1


def rings_of(outline: shapely.Polygon | shapely.MultiPolygon) -> Iterator[Ring]:
    """Yield the rings of an outline, outer ones against the clock, each corner once and none on a straight line."""
    for part in shapely.get_parts(shapely.orient_polygons(outline)):
        for ring in (part.exterior, *part.interiors):
            yield _turns(shapely.get_coordinates(ring)[:-1])


def _turns(ring: Ring) -> Ring:
    before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
    base = after - before
    length = np.hypot(*base.T)
    away = ring - before
    across = np.abs(base[:, 0] * away[:, 1] - base[:, 1] * away[:, 0])
    off = np.where(length > 0, across / np.maximum(length, 1e-12), np.hypot(*away.T))
    kept = ring[off > STRAIGHT_M]
    return kept if len(kept) >= 3 else ring


def _from(ring: Ring, here: Ring | None) -> Ring:
    """Return a ring begun at its corner nearest to a spot; at its most westerly one without a spot."""
    first = int(np.argmin(ring[:, 0] if here is None else np.hypot(*(ring - here).T)))
    return np.roll(ring, -first, axis=0)
