"""Weighings of one lot of pigs: a group that was emptied and filled again has lots after each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.growth import FITTED_SHARE, MATURE_KG, Pace, kg_of, pace_of, place_of
from pigmap.records import GroupEvent, GroupEventKind, WeighedBy
from pigmap.records.frozen import dataclass

CAME = frozenset((GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED))
WENT = frozenset((GroupEventKind.SOLD, GroupEventKind.DIED, GroupEventKind.SPLIT))

WEIGHED_SD: Mapping[WeighedBy, float] = MappingProxyType(
    {WeighedBy.SCALE: 0.03, WeighedBy.TAPE: 0.07, WeighedBy.EYE: 0.15}
)
"""Standard deviation of a group's mean weight by how it was found, as a share of it. Assumed."""
UNWEIGHED_SD = 0.2
"""The same of pigs that nobody weighed, who count as such pigs usually weigh. Assumed."""
LEVEL_SD_PER_D = 0.0003
"""By how much of its weight a sow or boar may have drifted for each day since a weighing. Assumed."""
LIKELY = 1.645
"""Standard deviations to either side within which nine of ten weights lie."""
LEAST_KG = 1.0
_MOST_SHARE = 0.9
"""Where pigs weigh more of the mature weight than this, the curve is drawn out for them. Own choice."""


class Weighing(NamedTuple):
    """What the pigs of one day weighed."""

    day: int
    """Ordinal (`date.toordinal`)."""
    kg: float
    sd: float
    """Standard deviation, as a share of the weight."""


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """One lot of pigs from the day it came to the day the last one left; its weights are on one curve."""

    first: int | None
    """Day on which it came; None where nobody told."""
    end: int | None
    """Day on which the last one left."""
    weighed: tuple[Weighing, ...]
    """At least one, rising by day."""
    grows: bool
    pace: Pace
    mature_kg: float
    knot_days: NDArray[np.float64]
    """Days between which it goes straight along the curve, (k,)."""
    knots: NDArray[np.float64]
    """Place along the curve on each of them, or the weight [kg] where it does not grow, (k,)."""

    def at(self, days: NDArray[np.float64] | NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the mean weight on each day [kg]: through every weighing, before and after by the pace."""
        place = np.interp(days, self.knot_days, self.knots)
        if not self.grows:
            return place
        mean = kg_of(place, self.mature_kg)
        for weighing in self.weighed:  # to the last digit as it was told
            mean[days == weighing.day] = weighing.kg
        return mean

    def within(self, day: int) -> tuple[float, float]:
        """Return the least and the most that one may weigh on a day, in nine of ten cases [kg]."""
        mean = float(self.at(np.array([day]))[0])
        ago = min(self.weighed, key=lambda each: self._sd(each, day))
        if not self.grows:
            off = LIKELY * self._sd(ago, day)
            return mean * max(1.0 - off, 0.0), mean * (1.0 + off)
        place, off = place_of(mean, self.mature_kg), LIKELY * self._sd(ago, day)
        least, most = kg_of(np.array([place - off, place + off]), self.mature_kg)
        return float(least), float(most)

    def _sd(self, weighing: Weighing, day: int) -> float:
        """Return how far off the weight of a day may be as a weighing tells it, along the curve or as a share."""
        days = abs(day - weighing.day)
        if not self.grows:
            return float(np.hypot(weighing.sd, LEVEL_SD_PER_D * days))
        return float(np.hypot(place_sd(weighing, self.mature_kg), self.pace.sd_per_d * days))


def batch_of(first: int | None, end: int | None, weighed: Sequence[Weighing], *, grows: bool) -> Batch:
    """Return the curve of one lot through its weighings, at least one."""
    days = np.array([each.day for each in weighed], dtype=np.int64)
    weights = np.array([each.kg for each in weighed], dtype=np.float64)
    if not grows:
        kept = days.astype(np.float64)
        return Batch(first, end, tuple(weighed), False, Pace(0.0, 0.0), MATURE_KG, kept, weights)
    mature = max(MATURE_KG, float(weights.max()) / _MOST_SHARE)
    places = place_of(weights, mature)
    pace = pace_of(days, places, np.array([place_sd(each, mature) for each in weighed]))
    knot_days, knots = _drawn_out(first, days, places, pace, mature)
    return Batch(first, end, tuple(weighed), True, pace, mature, knot_days, knots)


def _drawn_out(
    first: int | None, days: NDArray[np.int64], places: NDArray[np.float64], pace: Pace, mature_kg: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return weighings with what lies before and after them: back to the first day, on to the end of the curve."""
    knot_days, knots = [float(day) for day in days], [float(place) for place in places]
    if first is not None and first < days[0]:
        least = min(float(place_of(LEAST_KG, mature_kg)), knots[0])
        knots.insert(0, max(knots[0] - pace.rate_per_d * float(days[0] - first), least))
        knot_days.insert(0, float(first))
    ahead = float(place_of(FITTED_SHARE * mature_kg, mature_kg)) - knots[-1]
    if ahead > 0 and pace.rate_per_d > 0:
        knot_days.append(knot_days[-1] + ahead / pace.rate_per_d)
        knots.append(knots[-1] + ahead)
    return np.array(knot_days), np.array(knots)


def place_sd(weighing: Weighing, mature_kg: float) -> float:
    """Return the standard deviation of a weighing along the curve."""
    return weighing.sd / float(np.log(mature_kg / weighing.kg))


class Lot(NamedTuple):
    """What was told of one lot of pigs."""

    first: int | None
    end: int | None
    weighed: tuple[Weighing, ...]


def lots_of(events: Sequence[GroupEvent]) -> list[Lot]:
    """Return the lots of a group from what happened to it, in the order of the days; lots that nobody weighed too.

    Pigs that come into an empty group begin a lot, and count as weighed where their weight is given.
    """
    found: list[Lot] = []
    for part in _parts(events):
        came = [each.happened_on.toordinal() for each in part if each.kind in CAME]
        pigs = sum(_change(each) for each in part)
        end = part[-1].happened_on.toordinal() if came and pigs <= 0 else None
        found.append(Lot(came[0] if came else None, end, _weighed(part)))
    return found


def _parts(events: Sequence[GroupEvent]) -> Iterator[list[GroupEvent]]:
    """Yield the events of each lot; one begins when pigs come though all of the one before are gone."""
    part: list[GroupEvent] = []
    pigs, had_pigs = 0, False
    for event in events:
        if had_pigs and pigs == 0 and event.kind in CAME and event.pigs:
            yield part
            part, had_pigs = [], False
        part.append(event)
        pigs = max(pigs + _change(event), 0)
        had_pigs = had_pigs or pigs > 0
    yield part


def _change(event: GroupEvent) -> int:
    return (event.pigs or 0) * ((event.kind in CAME) - (event.kind in WENT))


def _weighed(events: Sequence[GroupEvent]) -> tuple[Weighing, ...]:
    """Return the weighing of each day of one lot; several on one day by the pigs on the scale and by how they were."""
    scales: dict[int, list[tuple[float, float, float]]] = {}
    pigs = 0
    for event in events:
        is_first = event.kind in CAME and pigs == 0
        if event.mean_kg is not None and (event.kind is GroupEventKind.WEIGHED or is_first):
            sd = WEIGHED_SD[event.weighed_by]
            scales.setdefault(event.happened_on.toordinal(), []).append((event.mean_kg, event.pigs or 1, sd))
        pigs = max(pigs + _change(event), 0)
    return tuple(_of_day(day, each) for day, each in sorted(scales.items()))


def _of_day(day: int, scales: Sequence[tuple[float, float, float]]) -> Weighing:
    if len(scales) == 1:
        return Weighing(day, scales[0][0], scales[0][2])
    trust = [pigs / sd**2 for _, pigs, sd in scales]
    kg = sum(each * scale[0] for each, scale in zip(trust, scales, strict=True)) / sum(trust)
    return Weighing(day, kg, min(sd for _, _, sd in scales))
