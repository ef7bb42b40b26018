"""An invented farm of the size that the goals name: 200 ha in cells of 2 m, and 5,000 stays over five years."""

from __future__ import annotations

from datetime import date, timedelta
from types import MappingProxyType

import numpy as np
import shapely
from shapely import affinity

from pigmap.records import (
    Check,
    Farm,
    Field,
    Group,
    GroupEvent,
    GroupEventKind,
    Paddock,
    Projection,
    Stay,
    StayState,
    WeatherDay,
)

SIDE_M = 1416.0
"""Side of the field [m]: 708 by 708 cells of 2 m."""
PADDOCK_M = 50.0
STAYS = 5_000
GROUPS = 11
STAY_DAYS = 4
FIRST_DAY = date(2021, 1, 1)
FIELD_UID = "field"
WEST_M, SOUTH_M = 500_000.0, 5_200_000.0


def big_ground(seed: int, snapped: bool, stays: int | None = None, step_m: float = PADDOCK_M / 2) -> Farm:
    """Return the farm: paddocks of 50 by 50 m, snapped to half a net or other steps, or anywhere in any direction."""
    rng = np.random.default_rng(seed)
    grounds = [ground_at(rng, snapped, step_m) for _ in range(STAYS if stays is None else stays)]
    rows = {f"s{n}": stay_of(n, ground) for n, ground in enumerate(grounds)}
    paddocks = {
        f"p{n}": Paddock(uid=f"p{n}", name=f"Paddock {n}", field_uid=FIELD_UID, outline=ground)
        for n, ground in enumerate(grounds)
    }
    outline = shapely.MultiPolygon([shapely.box(WEST_M, SOUTH_M, WEST_M + SIDE_M, SOUTH_M + SIDE_M)])
    field = Field(
        uid=FIELD_UID, name="Great Field", outline=outline, origin_x_m=WEST_M, origin_y_m=SOUTH_M, turned_deg=0.0
    )
    groups = {f"g{n}": Group(uid=f"g{n}", name=f"Group {n}") for n in range(GROUPS)}
    bought = {
        f"e{n}": GroupEvent(
            uid=f"e{n}", group_uid=f"g{n}", happened_on=FIRST_DAY, kind=GroupEventKind.BOUGHT, pigs=20, mean_kg=60.0
        )
        for n in range(GROUPS)
    }
    return Farm(
        document_uid="big",
        projection=Projection(name="UTM zone 15N", authority="EPSG", code=32615, definition=""),
        fields=MappingProxyType({FIELD_UID: field}),
        paddocks=MappingProxyType(paddocks),
        groups=MappingProxyType(groups),
        group_events=MappingProxyType(bought),
        stays=MappingProxyType(rows),
        checks=MappingProxyType({check.uid: check for check in _checks(rng, rows)}),
        weather_days=MappingProxyType({day.uid: day for day in _weather(rng)}),
    )


def ground_at(rng: np.random.Generator, snapped: bool, step_m: float = PADDOCK_M / 2) -> shapely.Polygon:
    """Return the ground of one paddock somewhere in the field."""
    room = SIDE_M - PADDOCK_M
    if snapped:
        x, y = rng.integers(0, int(room // step_m) + 1, 2) * step_m
        return _square(WEST_M + float(x), SOUTH_M + float(y))
    x, y = rng.uniform(0, room, 2)
    return affinity.rotate(_square(WEST_M + float(x), SOUTH_M + float(y)), float(rng.uniform(0, 90)))


def _square(west: float, south: float) -> shapely.Polygon:
    east, north = west + PADDOCK_M, south + PADDOCK_M
    return shapely.Polygon([(west, south), (east, south), (east, north), (west, north)])


def stay_of(number: int, ground: shapely.Polygon) -> Stay:
    """Return a stay by its number: each group moves every few days."""
    begin = FIRST_DAY + timedelta(days=number // GROUPS * STAY_DAYS)
    return Stay(
        uid=f"s{number}",
        group_uid=f"g{number % GROUPS}",
        paddock_uid=f"p{number}",
        ground=ground,
        state=StayState.PAST,
        in_on=begin,
        out_on=begin + timedelta(days=STAY_DAYS),
    )


def _checks(rng: np.random.Generator, stays: dict[str, Stay]) -> list[Check]:
    chosen = list(stays.values())[::5]
    return [
        Check(
            uid=f"c{stay.uid}",
            checked_on=stay.in_on + timedelta(days=2),
            paddock_uid=stay.paddock_uid,
            rooting_score=int(rng.integers(0, 5)),
        )
        for stay in chosen
    ]


def _weather(rng: np.random.Generator) -> list[WeatherDay]:
    days = np.arange(5 * 365)
    mean = 10 - 9 * np.cos(2 * np.pi * (days - 20) / 365) + rng.normal(0, 2, len(days))
    return [
        WeatherDay(
            uid=f"w{n}", day=FIRST_DAY + timedelta(days=int(n)), min_c=float(mean[n] - 5), max_c=float(mean[n] + 5)
        )
        for n in days
    ]
