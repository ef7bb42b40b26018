"""The rule that fences of two energizers stand apart, and their earth stakes too."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import combinations

import shapely

from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.earths import TooNear, earths_too_near
from pigmap.fence.cautions.energizers import beside_live_fences, two_energizers
from pigmap.planning.cautions import live_ground, of_stay, on_each_ground, stand_together, weight_of
from pigmap.planning.rule import Breach
from pigmap.planning.uses import Use
from pigmap.records import Farm, StayState, lasting_on
from pigmap.text import Text


class TwoEnergizers:
    """Looks for live fences of two energizers that touch or stand too near to each other. No reason helps.

    What fed a fence in the past is not recorded, so only those that stand and those that are planned count.
    """

    api = 1
    name = "two-energizers"
    title = Text("Fences of two energizers stand apart")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first; those about earth stakes have no day."""
        yield from (_of_places(each) for each in earths_too_near(farm))
        stays = [*_pairs(farm, today), *on_each_ground(farm, beside_live_fences, past=False, fed=True)]
        yield from sorted(stays, key=lambda breach: (breach.day or date.min, breach.uid))


def _pairs(farm: Farm, today: date) -> Iterator[Breach]:
    if len(farm.energizers) < 2:
        return
    apart = distances_of(farm).energizers_apart_m / farm.projection.ground_per_grid
    coming = [each for each in lasting_on(farm, today).values() if each.stay.state is not StayState.PAST]
    coming.sort(key=lambda each: (each.first, each.stay.uid))
    told: set[tuple[str, str]] = set()
    for one, other in combinations(coming, 2):
        pair = one.stay.paddock_uid, other.stay.paddock_uid
        if (
            pair not in told
            and stand_together(one, other)
            and shapely.dwithin(one.stay.ground, other.stay.ground, apart)
        ):
            caution = two_energizers(farm, live_ground(farm, one.stay), live_ground(farm, other.stay))
            if caution is not None:
                told.add(pair)
                yield of_stay(Use(other.stay, (one.stay.uid,)), caution)


def _of_places(each: TooNear) -> Breach:
    one, other = each.places
    caution = each.caution
    return Breach(
        "places",
        one.uid,
        caution.words,
        caution.remedy,
        weight_of(caution, planned=False),
        also=(other.uid,),
        caution=caution.id,
        source=caution.source,
    )


rule = TwoEnergizers()
