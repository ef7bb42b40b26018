"""How many nets runs take: whole nets, each run for itself."""

from __future__ import annotations

from collections.abc import Iterable

from pigmap.geometry.runs import Run
from pigmap.records import NetKind

POSTING_ALLOWANCE_MM = 0
"""What posting costs at the joints of a run [mm]: nothing, since the end posts of two joined nets stand together.
Common practice."""


def nets_for(runs: Iterable[Run], kind: NetKind) -> int:
    """Return the nets of one kind that close these runs.

    A net does not serve two runs, since something that stands lies between them: each run takes the whole nets
    that are at least as long as it.

    Examples
    --------
    >>> import numpy as np
    >>> fifty = NetKind(name="50 m", bays_mm=(3572,) * 13 + (3564,))
    >>> nets_for([Run(np.zeros((2, 2)), 240_000)], fifty)
    5
    """
    return sum(nets_along(run.length_mm, kind) for run in runs)


def nets_along(length_mm: int, kind: NetKind) -> int:
    """Return the whole nets of one kind that cover a length [mm]."""
    return -(-(length_mm + POSTING_ALLOWANCE_MM) // kind.length_mm) if length_mm > 0 else 0
