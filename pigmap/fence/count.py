"""How many nets runs take: whole nets, each run for itself."""

from __future__ import annotations

from collections.abc import Iterable

from pigmap.geometry.runs import Run
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import NetKind

PLAY_MM = round(FLUSH_M * 1000)
"""So much longer than its nets a run may be [mm]: what counts as flush elsewhere is no reason to carry another net,
since the nets give that much between two posts. The play is that of a run, however many nets it takes: it does not
grow with them. Joints cost nothing, since the end posts of two joined nets stand together (common practice)."""


def nets_for(runs: Iterable[Run], kind: NetKind) -> int:
    """Return the nets of one kind that close these runs.

    A net does not serve two runs, since something that stands lies between them: each run takes the whole nets
    that are at least as long as it, but for its play.

    Examples
    --------
    >>> import numpy as np
    >>> fifty = NetKind(name="50 m", bays_mm=(3572,) * 13 + (3564,))
    >>> nets_for([Run(np.zeros((2, 2)), 240_000)], fifty)
    5
    """
    return sum(nets_along(run.length_mm, kind) for run in runs)


def nets_along(length_mm: int, kind: NetKind) -> int:
    """Return the whole nets of one kind that cover a length [mm]; one at least where there is any."""
    return -(-need_mm(length_mm) // kind.length_mm)


def need_mm(length_mm: int) -> int:
    """Return what nets must reach along a length at least [mm]: the length but for its play."""
    return max(length_mm - PLAY_MM, 1) if length_mm > 0 else 0
