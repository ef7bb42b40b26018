"""How much net a line on the map takes: slopes, waves in the ground and slack make it longer."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pigmap.fence.laid import LEAST_SLACK


def ground_mm(
    edges_mm: Sequence[float], slopes_deg: Sequence[float], *, waves: float = 0.0, slack: float = LEAST_SLACK
) -> int:
    """Return the net that edges take, rounded up [mm].

    Parameters
    ----------
    edges_mm
        Length of each edge on the map [mm].
    slopes_deg
        How steep the ground is along each, up or down [degrees].
    waves
        By which share waves in the ground make the way longer, see `wave_share`.
    slack
        Share of a net that cannot be pulled straight; 1 % is assumed.

    Examples
    --------
    >>> ground_mm([48_296.29], [15.0], slack=0.0)
    50000
    >>> ground_mm([10_000, 5_000], [0.0, 20.0])
    15476
    """
    along = (edge / math.cos(math.radians(slope)) for edge, slope in zip(edges_mm, slopes_deg, strict=True))
    # A thousandth of a millimetre is what numbers in a computer err by, no reason for another.
    return math.ceil(math.fsum(along) * (1.0 + waves) / (1.0 - slack) - 1e-3)


def map_mm(net_mm: float, slope_deg: float) -> float:
    """Return how long net that is pulled straight up or down a slope looks on the map [mm].

    Examples
    --------
    >>> round(map_mm(50_000, 15.0))
    48296
    """
    return net_mm * math.cos(math.radians(slope_deg))


def wave_share(height_m: float, length_m: float) -> float:
    """Return by which share waves make a way longer.

    Waves rise and fall by `height_m` from the middle and are `length_m` long from crest to crest.

    Derived for a sine wave that is long for its height, to the second order: (pi height / length)^2.

    Examples
    --------
    >>> round(wave_share(0.15, 5.0), 4)
    0.0089
    """
    return (math.pi * height_m / length_m) ** 2


def bow_share(bow_m: float, bay_m: float) -> float:
    """Return which share of a bay is lost where it bows aside by `bow_m` between its posts: 8 bow² / (3 bay²), derived.

    Examples
    --------
    >>> round(bow_share(0.2, 3.57), 4)
    0.0084
    """
    return 8.0 * bow_m**2 / (3.0 * bay_m**2)
