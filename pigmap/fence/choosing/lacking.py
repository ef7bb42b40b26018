"""Where nets do not close runs: how much is lacking, how many more would do, and the words for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pigmap.errors import PlanError
from pigmap.fence.choosing.covers import covers_of
from pigmap.fence.choosing.programme import Programme
from pigmap.fence.choosing.supply import Supply
from pigmap.fence.count import need_mm
from pigmap.fence.fitted import Spare
from pigmap.text import Quantity, Text, Value


class Lacking(NamedTuple):
    """What runs want, and what there is."""

    runs: int
    want_mm: int
    """How long the runs are together [mm]."""
    reach_mm: int
    """How long the nets are together [mm]."""
    more: tuple[Spare, ...]
    """How many more nets of one kind would do, for each kind alone, the longest first."""

    @property
    def short_mm(self) -> int:
        """How much longer the runs are than all nets together [mm]; 0 where the nets cannot be shared out only."""
        return max(0, self.want_mm - self.reach_mm)

    def as_error(self) -> PlanError:
        """Return what to say about it."""
        values: dict[str, Value] = {
            "want": Quantity(self.want_mm / 1000, "m", 1),
            "reach": Quantity(self.reach_mm / 1000, "m", 1),
            "short": Quantity(self.short_mm / 1000, "m", 1),
            "runs": self.runs,
        }
        if not self.more:
            remedy = "Say how many nets you own, and how long they are."
            return PlanError("Nets are to close {want}, and none are entered.", remedy=remedy, **values)
        remedy = "Add {more}, or make it smaller."
        return PlanError(self._message(), remedy=remedy, more=_alternatives(self.more), **values)

    def _message(self) -> str:
        if not self.reach_mm:
            return "Nets are to close {want}, and none is free."
        if self.short_mm:
            return "Nets are to close {want}. Those that are free reach {reach}: {short} short."
        if self.runs == 1:
            return "Nets are to close {want}. Those that are free reach {reach}."
        return (
            "Nets are to close {runs} stretches, {want} together. Those that are free reach {reach}, "
            "but no net serves two stretches."
        )


def nets_lacking(lengths_mm: Sequence[int], spare: Sequence[Spare]) -> Lacking:
    """Return what is lacking where nets do not close runs; parameters as for `pigmap.fence.choice.choose_nets`.

    Examples
    --------
    >>> from pigmap.records import NetKind
    >>> fifty, half = NetKind(name="50 m", bays_mm=(50_000,)), NetKind(name="25 m", bays_mm=(25_000,))
    >>> lacking = nets_lacking([240_000], [Spare(fifty, 3), Spare(half, 1)])
    >>> lacking.short_mm, [(each.kind.name, each.nets) for each in lacking.more]
    (65000, [('50 m', 2), ('25 m', 3)])
    """
    needs = sorted(need_mm(each) for each in lengths_mm if each > 0)
    kinds = {each.kind.length_mm: each.kind for each in reversed(spare)}
    lengths = tuple(sorted(kinds, reverse=True))
    nets = tuple(sum(max(0, each.nets) for each in spare if each.kind.length_mm == length) for length in lengths)
    supply = Supply(lengths, nets)
    more = tuple(Spare(kinds[length], _more(needs, supply, number)) for number, length in enumerate(lengths))
    return Lacking(len(needs), sum(max(0, each) for each in lengths_mm), supply.reach_mm, more)


def _more(needs_mm: Sequence[int], supply: Supply, kind: int) -> int:
    """Return how many more nets of one length close the runs."""
    length = supply.lengths_mm[kind]
    if len(needs_mm) == 1:
        return max(0, -(-(needs_mm[0] - supply.reach_mm) // length))
    enough = sum(-(-need // length) for need in needs_mm)
    allowed = (*supply.nets[:kind], max(enough, supply.nets[kind]), *supply.nets[kind + 1 :])
    covers = [covers_of(need, supply.lengths_mm, allowed) for need in needs_mm]
    return Programme(Supply(supply.lengths_mm, allowed), covers).fewest_more(kind, supply.nets[kind])


def _alternatives(more: Sequence[Spare]) -> Text:
    found: Text | None = None
    for each in more:
        length = Quantity(each.kind.length_m, "m", 0)
        own = Text("{count} net of {length}", {"length": length}, plural="{count} nets of {length}", count=each.nets)
        found = own if found is None else Text("{nets} or {others}", {"nets": found, "others": own})
    assert found is not None
    return found
