"""The ground that a group uses in a winter at its days, and when that ground is ready again."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from pigmap.animals.weight import live_weight
from pigmap.ground.cover import growth_wanted, step
from pigmap.ground.model import Model, model_of
from pigmap.ground.tables import SIGHT_DAYS
from pigmap.ground.wear import wear_times
from pigmap.records import Farm, Field
from pigmap.records.keepers_days import USUAL_DAYS, keepers_days
from pigmap.text import Quantity, Text, Value
from pigmap.weather.climate import Warmth, warmth

NORTH_FROM, NORTH_TO = (11, 1), (4, 30)
SOUTH_FROM, SOUTH_TO = (5, 1), (10, 31)
"""First and last day of the months in which little grows. Common practice: November to April; half a year later south
of the equator."""


class Winter(NamedTuple):
    """What a group uses from the first to the last day of a winter."""

    first: date
    last: date
    paddocks: int
    area_m2: float
    """All of them together, on the ground."""
    first_left: date
    """The day on which they leave the first paddock."""
    first_ready: date | None
    """When that one is ready again; None where it is not within sight."""
    last_ready: date | None
    """When the last one is."""


def winter_of(farm: Farm, today: date) -> tuple[date, date]:
    """Return first and last day of the winter that is, or that comes next."""
    begin, end = (SOUTH_FROM, SOUTH_TO) if farm.projection.lies_south else (NORTH_FROM, NORTH_TO)
    over_new_year = end < begin
    for year in (today.year - 1, today.year, today.year + 1):
        last = date(year + over_new_year, *end)
        if last >= today:
            return date(year, *begin), last
    raise AssertionError("a winter lies ahead of every day")  # pragma: no cover


def winter_use(farm: Farm, group_uid: str, field: Field, area_m2: float, today: date) -> Winter:
    """Return how much ground a group uses in a winter at its days, on paddocks of one size in one field.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    first, last = winter_of(farm, today)
    days, stays = first, list[tuple[date, int]]()
    while days <= last:
        known = keepers_days(farm, group_uid, days, field.uid)
        each = max(round(known.days if known is not None else USUAL_DAYS), 1)
        stays.append((days, each))
        days += timedelta(days=each)
    model, begin = model_of(farm, field), first.toordinal()
    warm = warmth(farm.weather_days.values(), begin, begin + 400 + SIGHT_DAYS, south=farm.projection.lies_south)
    ready = [_ready(farm, group_uid, model, warm, on, each, area_m2) for on, each in (stays[0], stays[-1])]
    left = stays[0][0] + timedelta(days=stays[0][1])
    return Winter(first, last, len(stays), len(stays) * area_m2, left, ready[0], ready[1])


def _ready(farm: Farm, group_uid: str, model: Model, warm: Warmth, on: date, days: int, area_m2: float) -> date | None:
    """Return when ground is ready again on which a group was from a day on, untouched before."""
    begin, left = on.toordinal(), on.toordinal() + days
    weight = live_weight(farm, group_uid, on).total_kg * wear_times(farm.groups[group_uid])
    grown = float(np.diff(warm.at(np.array([begin, left])))[0]) * model.regrowth
    loss = model.loss * weight * days / max(area_m2, 1.0)
    y = step(1.0 / model.most, grown, loss, most=model.most, least=model.least)
    wanted = float(growth_wanted(y, target=model.ready_cover, most=model.most)) / model.regrowth
    until = float(warm.at(np.array([left]))[0]) + wanted
    green = int(np.searchsorted(warm.since, until - 1e-6)) + warm.first
    if green >= warm.first + len(warm.since) - 1:
        return None
    rested = model.rest.first_rested(np.array([left]), np.array([max(green, left)]))
    return date.fromordinal(int(rested[0]))


def winter_words(found: Winter) -> list[Text]:
    """Return it as a keeper says it; what does not come back in time is said and not hidden."""
    values: dict[str, Value] = {
        "first": found.first,
        "last": found.last,
        "area": Quantity(found.area_m2, "m²"),
        "left": found.first_left,
    }
    said = [
        Text(
            "From {first} to {last} they use 1 paddock of this size: {area}.",
            values,
            plural="From {first} to {last} they use {count} paddocks of this size: {area} in all.",
            count=found.paddocks,
        )
    ]
    if found.first_ready is None:
        said.append(Text("What they leave on {left} is not ready again within two years, by a rough figure.", values))
        return said
    values["ready"] = found.first_ready
    if found.first_ready > found.last:
        words = "What they leave on {left} is ready again about {ready}: no ground comes twice in that winter."
    else:
        words = "What they leave on {left} is ready again about {ready}, by a rough figure."
    said.append(Text(words, values))
    if found.last_ready is not None:
        said.append(Text("What they leave last is ready about {day}.", {"day": found.last_ready}))
    return said
