"""Which nets close runs: of all there are, those with least left over, then the fewest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pigmap.fence.choosing.lacking import nets_lacking
from pigmap.fence.choosing.many_runs import PATIENCE_S, counts_for_runs
from pigmap.fence.choosing.supply import dealt, supply_of
from pigmap.fence.count import need_mm
from pigmap.fence.fitted import Spare
from pigmap.text import Text


class Choice(NamedTuple):
    """The nets of one run."""

    nets: tuple[Spare, ...]
    """The kinds that it takes, the longest first, and how many of each."""
    left_mm: int
    """What is left over of them [mm]; below 0 where the run is longer by no more than its play."""

    @property
    def taken(self) -> int:
        """How many nets it takes."""
        return sum(each.nets for each in self.nets)


class Choices(tuple[Choice, ...]):
    """The nets of each of some runs."""

    sure: bool = True
    """Whether it is sure that no other choice leaves less over; else the search was ended after some seconds."""


MAY_BE_BETTER = Text("The search was ended after some seconds: another choice may leave less over.")
"""What to say of choices that are not sure."""


def choose_nets(lengths_mm: Sequence[int], spare: Sequence[Spare], patience_s: float = PATIENCE_S) -> Choices | None:
    """Return the nets of each run, None where there are not enough.

    Of all choices the least length is left over in all runs together; of those, the fewest nets are taken. A net does
    not serve two runs. A run may be longer than its nets by its play, as where nets of one kind are counted
    (`pigmap.fence.count`). The order of the runs, and of kinds of different lengths, changes nothing.

    Parameters
    ----------
    lengths_mm
        Lengths of the runs on the ground, rounded [mm].
    spare
        The nets that are there for all of them; of kinds of one length the first is used up first.
    patience_s
        How long each step of the search goes on by the clock; long runs of scarce kinds may take longer.

    Examples
    --------
    >>> from pigmap.records import NetKind
    >>> fifty, half = NetKind(name="50 m", bays_mm=(50_000,)), NetKind(name="25 m", bays_mm=(25_000,))
    >>> (choice,) = choose_nets([180_000], [Spare(fifty, 4), Spare(half, 2)])
    >>> [(each.kind.name, each.nets) for each in choice.nets], choice.left_mm
    ([('50 m', 4)], 20000)
    >>> choose_nets([260_000], [Spare(fifty, 4), Spare(half, 2)]) is None
    True
    """
    counts = counts_for_runs([need_mm(each) for each in lengths_mm], supply_of(spare), patience_s)
    if counts is None:
        return None
    nets = dealt(counts, spare)
    found = Choices(
        Choice(own, sum(each.kind.length_mm * each.nets for each in own) - max(0, length))
        for own, length in zip(nets, lengths_mm, strict=True)
    )
    found.sure = counts.sure
    return found


def chosen_nets(lengths_mm: Sequence[int], spare: Sequence[Spare]) -> Choices:
    """Return the nets of each run as `choose_nets`.

    Raises
    ------
    PlanError
        If there are not enough: how much is to be closed, how far the nets reach, how many more would do.
    """
    choice = choose_nets(lengths_mm, spare)
    if choice is None:
        raise nets_lacking(lengths_mm, spare).as_error()
    return choice
