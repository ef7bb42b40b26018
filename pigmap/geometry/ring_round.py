"""An outline from corners as a person clicked them, one after the other or crosswise."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from pigmap.errors import OutlineError
from pigmap.records.frozen import dataclass
from pigmap.text import Text


@dataclass(frozen=True, slots=True, eq=False)
class RingRound:
    """Ground that some corners enclose."""

    outline: shapely.Polygon
    put_in_order: bool
    """Whether sides would have crossed in the order that was given."""


def ring_round(corners: Sequence[tuple[float, float]]) -> RingRound:
    """Return the ground inside some corners, in the order given or, where its sides would cross, in that round it.

    Parameters
    ----------
    corners
        Three or more places [m].

    Raises
    ------
    OutlineError
        If they enclose no ground.

    Examples
    --------
    >>> crosswise = ring_round([(0, 0), (50, 50), (50, 0), (0, 50)])
    >>> crosswise.outline.area, crosswise.put_in_order
    (2500.0, True)
    """
    points = np.array(corners, dtype=np.float64).reshape(-1, 2)
    there = len(np.unique(points, axis=0))
    if there < 3:
        words = "A paddock has three corners or more; {count} is there."
        many = Text(words, plural="A paddock has three corners or more; {count} are there.", count=there)
        raise OutlineError(many, remedy="Click each corner of it once.")
    given = shapely.Polygon(points)
    if given.is_valid and given.area > 0.0:
        return RingRound(given, put_in_order=False)
    off = points - points.mean(axis=0)
    turned = shapely.Polygon(points[np.argsort(np.arctan2(off[:, 1], off[:, 0]), kind="stable")])
    if turned.is_valid and turned.area > 0.0:
        return RingRound(turned, put_in_order=True)
    raise OutlineError(
        "The corners lie on one line, so they close no ground.", remedy="Click the corners on the other side too."
    )
