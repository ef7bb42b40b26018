"""What was before the sample farm's records begin: never used, but for a strip used hard and a corner unknown."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import shapely

from pigmap.geometry.brush import areas
from pigmap.records import Field, GroundJob, GroundJobKind
from pigmap.records.season import Season, about_season
from pigmap.session.sample.ids import uid
from pigmap.session.sample.layout import POND_CORNER, WOOD_CORNER
from pigmap.session.sample.site import Site
from pigmap.session.sample.timeline import HISTORY

STRIP = POND_CORNER.area([(352, -4), (402, -4), (402, 120), (352, 118)])
"""The far end of Pond Field, which no paddock reaches."""
CORNER = WOOD_CORNER.area([(212, 60), (290, 60), (290, 176), (212, 176)])
"""The side of Bank Wood beyond its rows."""
HARD = 3


def ground_jobs(site: Site, drawn: list[Field], today: date) -> Iterator[GroundJob]:
    """Yield what is told of each field, from below to above."""
    begin = today - HISTORY
    about = about_season(Season.AUTUMN, begin.year)
    if about.day >= begin:
        about = about_season(Season.AUTUMN, begin.year - 1)
    whole = shapely.union_all([field.outline for field in drawn])
    for position, field in enumerate(drawn):
        yield GroundJob(
            uid=uid("before", field.name), kind=GroundJobKind.NEVER_USED, shape=field.outline, position=position
        )
    yield GroundJob(
        uid=uid("before", "strip"),
        kind=GroundJobKind.USED_BEFORE,
        shape=areas(whole.intersection(site.grid(STRIP))),
        position=len(drawn),
        happened_on=about.day,
        within_days=about.within_days,
        rooting_score=HARD,
        note="A neighbour's pigs, as the last owner told it. Invented.",
    )
    yield GroundJob(
        uid=uid("before", "corner"),
        kind=GroundJobKind.UNKNOWN,
        shape=areas(whole.intersection(site.grid(CORNER))),
        position=len(drawn) + 1,
    )
