"""The fence of a paddock that is only thought of: asked for many places, so all that stays alike is found once."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import cached_property
from typing import NamedTuple

from pigmap.fence.electric.case import Case, case_of, live_net
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.fed_by import feeds
from pigmap.fence.electric.of_paddock import PaddockFence, nets_beside, on_it_too
from pigmap.fence.fitted import Spare
from pigmap.fence.standing import StandingPaddock
from pigmap.records import Energizer, Farm, NetKind


class Ahead(NamedTuple):
    """A fence that is thought of, and what it should read."""

    fence: PaddockFence
    should: Expected


class FencesAhead:
    """The fences that a group's next paddock could have.

    Parameters
    ----------
    farm, day
        Whose, and the day on which it is to stand.
    group_uid
        The group it is for, empty where that is not known: its present paddock is taken down then.
    standing
        The paddocks that stand on that day.
    kind
        The nets it is set of.
    """

    def __init__(
        self, farm: Farm, day: date, group_uid: str, standing: Sequence[StandingPaddock], kind: NetKind
    ) -> None:
        self.farm, self.day, self.group_uid, self.kind = farm, day, group_uid, kind
        self.standing = standing
        self._known: dict[tuple[tuple[Spare, ...], bool], Ahead | None] = {}

    def fence(self, nets: int, *, ring: bool) -> Ahead | None:
        """Return the fence of so many nets, with their ends joined or not; None where nothing tells what feeds it."""
        return self.of_kinds((Spare(self.kind, nets),) if nets else (), ring=ring)

    def of_kinds(self, nets: tuple[Spare, ...], *, ring: bool) -> Ahead | None:
        """Return the fence of nets of several kinds, those of each one after the other."""
        if (nets, ring) not in self._known:
            fence = self._fence(nets, ring=ring)
            self._known[nets, ring] = Ahead(fence, fence.expected) if fence is not None else None
        return self._known[nets, ring]

    @cached_property
    def energizer(self) -> Energizer | None:
        """What would feed it."""
        return feeds(self.farm, "", self.group_uid)

    @cached_property
    def _alike(self) -> Case | None:
        """What all of them have in common."""
        bare = case_of(self.energizer) if self.energizer is not None else None
        if self.energizer is None or bare is None:
            return None
        others = on_it_too(self.farm, self.energizer, self.group_uid, self.standing)
        return bare._replace(beside=nets_beside(self.farm, others, self.day))

    def _fence(self, nets: tuple[Spare, ...], *, ring: bool) -> PaddockFence | None:
        if self.energizer is None or self._alike is None or not nets:
            return None
        live = tuple(live_net(each.kind) for each in nets for _ in range(each.nets))
        case = self._alike._replace(nets=live, ring=ring)
        counted = tuple((each.kind, each.nets) for each in nets)
        return PaddockFence(self.energizer, case, counted, sum(len(each) for each in case.beside))
