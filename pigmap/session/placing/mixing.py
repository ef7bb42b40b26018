"""Which nets of all lengths to carry where the chosen kind alone is short."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import zip_longest

from pigmap.errors import PlanError
from pigmap.fence.choice import Choices, choose_nets
from pigmap.fence.fitted import Spare
from pigmap.geometry.runs import Run
from pigmap.records import NetKind
from pigmap.session.placing.ground import PlacingGround
from pigmap.text import Quantity, Text, Value

PATIENCE_S = 0.3
"""So long each step of the search goes on while a ghost is moved [s]. Own choice."""


def mixed_nets(ground: PlacingGround, kind: NetKind, runs: Sequence[Run]) -> tuple[Spare, ...]:
    """Return the spare nets of all kinds that close some runs with the least left over; nothing where none do.

    Kinds of which no net is entered are left out: nobody knows how many there are.
    """
    lengths = tuple(run.length_mm for run in runs)
    if lengths not in ground.mixed:
        every = [kind, *(each for each in ground.farm.net_kinds.values() if each.uid != kind.uid)]
        spare = [Spare(each, max(ground.spare(each) or 0, 0)) for each in every]
        chosen = _chosen(lengths, [each for each in spare if each.nets])
        ground.unsure |= {lengths} if chosen is not None and not chosen.sure else set()
        counts: Counter[str] = Counter()
        for run in chosen or ():
            for each in run.nets:
                counts[each.kind.uid] += each.nets
        ground.mixed[lengths] = tuple(Spare(each, counts[each.uid]) for each in every if counts[each.uid])
    return ground.mixed[lengths]


def _chosen(lengths: tuple[int, ...], spare: Sequence[Spare]) -> Choices | None:
    try:
        return choose_nets(lengths, spare, PATIENCE_S)
    except PlanError:  # nothing was found in time
        return None


def mixed_words(nets: Sequence[Spare], spare: Sequence[int | None] = ()) -> Text:
    """Return nets as they are carried: '3 x 50 m, 1 x 25 m', and how many of each are spare where that is known."""
    parts = [_so_many(each, left) for each, left in zip_longest(nets, spare)]
    found = parts[0]
    for part in parts[1:]:
        values: dict[str, Value] = {"before": found, "next": part}
        found = Text("{before}, {next}", values)
    return found


def _so_many(nets: Spare, spare: int | None) -> Text:
    values: dict[str, Value] = {"count": nets.nets, "length": Quantity(nets.kind.length_m, "m", 0)}
    if spare is None:
        return Text("{count} \u00d7 {length}", values)
    return Text("{count} \u00d7 {length} ({spare} spare)", {**values, "spare": max(spare, 0)})
