"""Where days lie across a small plot of a field, which days it spans, and the signs that time has on it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

import shapely

from pigmap.records import Farm, Field, Lasting, lasting_on

PAST_DAYS = 730
LEAST_PAST_DAYS = 90
AHEAD_DAYS, LEAST_AHEAD_DAYS, MOST_AHEAD_DAYS = 28, 42, 365
"""Days that the plot goes on after the last plan, after today at least, and after today at most."""
SHARE_WORTH_DRAWING = 0.01
MOST_LANES = 4
"""Groups whose stays have a lane of their own."""


class Scale(NamedTuple):
    """Days from the left to the right."""

    left: float
    right: float
    first: date
    last: date

    def x_of(self, day: float) -> float:
        """Return where the ordinal of a day lies [px]."""
        begin, end = self.first.toordinal(), self.last.toordinal()
        return self.left + (day - begin) / max(end - begin, 1) * (self.right - self.left)

    def day_at(self, x: float) -> date:
        """Return the day at a spot, the first or the last one beyond them."""
        share = min(max((x - self.left) / max(self.right - self.left, 1.0), 0.0), 1.0)
        return self.first + timedelta(days=round(share * (self.last - self.first).days))

    def quarters(self) -> Iterator[date]:
        """Yield the first days of the quarters of the years in it."""
        for year in range(self.first.year, self.last.year + 1):
            for month in (1, 4, 7, 10):
                if self.first <= date(year, month, 1) <= self.last:
                    yield date(year, month, 1)


def span_of(first_day: date | None, stays: list[Lasting], today: date) -> tuple[date, date]:
    """Return the first and the last day of a plot: two years back at most, and as far ahead as anything is planned."""
    first = max(first_day or today, today - timedelta(days=PAST_DAYS))
    last = max((each.end for each in stays if each.end is not None), default=today) + timedelta(days=AHEAD_DAYS)
    last = max(last, today + timedelta(days=LEAST_AHEAD_DAYS))
    return min(first, today - timedelta(days=LEAST_PAST_DAYS)), min(last, today + timedelta(days=MOST_AHEAD_DAYS))


def stays_on(farm: Farm, field: Field, today: date) -> list[Lasting]:
    """Return the stays that lie on a field, in order of their first day."""
    found = []
    for each in lasting_on(farm, today).values():
        ground = each.stay.ground
        if not ground.intersects(field.outline):
            continue
        if shapely.intersection(ground, field.outline).area > SHARE_WORTH_DRAWING * ground.area:
            found.append(each)
    return sorted(found, key=lambda each: (each.first, each.stay.uid))
