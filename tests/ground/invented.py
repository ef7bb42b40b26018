"""Small invented farms for tests of the ground."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from types import MappingProxyType

import shapely

from pigmap.records import (
    Check,
    Farm,
    Field,
    GroundCover,
    Group,
    GroupEvent,
    GroupEventKind,
    Paddock,
    PigClass,
    Projection,
    Record,
    Setting,
    Stay,
    StayState,
    WeatherDay,
)

START = date(2026, 4, 1)
WEST, SOUTH = 500_000.0, 5_200_000.0
WARM_C = 17.0
"""Mean of every day: 12 degree-days each."""


def on(day: int) -> date:
    return START + timedelta(days=day)


def square(west: float, south: float, wide: float = 50.0, high: float | None = None) -> shapely.Polygon:
    """Return a rectangle, in metres from the corner of the first field."""
    high = wide if high is None else high
    x, y = WEST + west, SOUTH + south
    return shapely.Polygon([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)])


def field(uid: str = "f", outline: shapely.Polygon | None = None, cover: GroundCover = GroundCover.PASTURE) -> Field:
    outline = square(0, 0, 100) if outline is None else outline
    return Field(
        uid=uid,
        name=f"Field {uid}",
        ground_cover=cover,
        outline=shapely.MultiPolygon([outline]),
        origin_x_m=WEST,
        origin_y_m=SOUTH,
        turned_deg=0.0,
    )


def stay(
    uid: str,
    first: int,
    last: int | None,
    ground: shapely.Polygon | None = None,
    *,
    group: str = "g",
    paddock: str = "p",
    state: StayState = StayState.PAST,
) -> Stay:
    return Stay(
        uid=uid,
        group_uid=group,
        paddock_uid=paddock,
        ground=square(0, 0) if ground is None else ground,
        state=state,
        in_on=on(first),
        out_on=None if last is None else on(last),
    )


def check(uid: str, day: int, score: int | None, paddock: str = "p") -> Check:
    return Check(uid=uid, checked_on=on(day), paddock_uid=paddock, rooting_score=score)


def paddock(uid: str = "p", outline: shapely.Polygon | None = None, field_uid: str | None = "f") -> Paddock:
    return Paddock(
        uid=uid, name=f"Paddock {uid}", field_uid=field_uid, outline=square(0, 0) if outline is None else outline
    )


def herd(uid: str = "g", pigs: int = 20, kg: float = 60.0, pig_class: PigClass = PigClass.GESTATING) -> list[Record]:
    """Return a group whose weight changes by weighings alone, as that of pigs that grow does not."""
    return [
        Group(uid=uid, name=f"Group {uid}", pig_class=pig_class),
        GroupEvent(
            uid=f"{uid}-bought",
            group_uid=uid,
            happened_on=on(-100),
            kind=GroupEventKind.BOUGHT,
            pigs=pigs,
            mean_kg=kg,
        ),
    ]


@cache
def weather(first: int = -400, last: int = 800, mean_c: float = WARM_C) -> tuple[WeatherDay, ...]:
    return tuple(
        WeatherDay(uid=f"w{day}", day=on(day), min_c=mean_c - 5, max_c=mean_c + 5) for day in range(first, last)
    )


def setting(key: str, value_json: str) -> Setting:
    return Setting(uid=f"set {key}", key=key, value_json=value_json)


def farm(*rows: Record, ground_per_grid: float = 1.0) -> Farm:
    """Return a farm with these rows and steady weather."""
    tables: dict[str, dict[str, Record]] = {}
    for row in [*rows, *weather()]:
        tables.setdefault(row.TABLE, {})[row.uid] = row
    return Farm(
        document_uid="invented",
        projection=Projection(
            name="UTM zone 32N", authority="EPSG", code=32632, definition="EPSG:32632", ground_per_grid=ground_per_grid
        ),
        **{table: MappingProxyType(kept) for table, kept in tables.items()},  # type: ignore[arg-type]
    )
