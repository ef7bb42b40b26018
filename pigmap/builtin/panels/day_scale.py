"""The scale of days along the season strip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from pigmap.records.frozen import dataclass

LEAST_PX, MOST_PX = 2.0, 60.0
"""Breadth of a day, at least and at most [px]."""


@dataclass(frozen=True, slots=True)
class DayScale:
    """Which day lies where.

    Parameters
    ----------
    first
        Day at the left edge, as a fractional ordinal (`date.toordinal`).
    px_per_day
        Breadth of a day [px].
    left, right
        The strip's edges, from the left of the widget [px].
    """

    first: float
    px_per_day: float
    left: float
    right: float

    def x_of(self, day: date) -> float:
        """Return where a day begins [px]."""
        return self.left + (day.toordinal() - self.first) * self.px_per_day

    def middle_of(self, day: date) -> float:
        """Return the middle of a day [px]."""
        return self.x_of(day) + self.px_per_day / 2

    def day_at(self, x: float) -> date:
        """Return the day at a place; days that the calendar lacks give the nearest it has."""
        ordinal = int(self.first + (x - self.left) / self.px_per_day)
        return date.fromordinal(min(max(ordinal, 1), date.max.toordinal()))

    def days(self) -> Iterator[date]:
        """Yield the days in view."""
        day, last = self.day_at(self.left), self.day_at(self.right)
        while day <= last:
            yield day
            day += timedelta(days=1)

    def moved(self, px: float) -> DayScale:
        """Return the scale scrolled so that what lay at `px` lies at the left edge."""
        return replace(self, first=self.first + px / self.px_per_day)

    def zoomed(self, factor: float, x: float) -> DayScale:
        """Return the scale with broader or narrower days; the day at `x` stays there."""
        broad = min(max(self.px_per_day * factor, LEAST_PX), MOST_PX)
        under = self.first + (x - self.left) / self.px_per_day
        return replace(self, first=under - (x - self.left) / broad, px_per_day=broad)

    def showing(self, day: date, margin: float = 40.0) -> DayScale:
        """Return the scale, scrolled as little as it takes to have a day in view."""
        x = self.middle_of(day)
        if x < self.left + margin:
            return self.moved(x - self.left - margin)
        if x > self.right - margin:
            return self.moved(x - self.right + margin)
        return self

    def placed(self, day: date, share: float) -> DayScale:
        """Return the scale with a day at a share of its breadth."""
        return replace(self, first=day.toordinal() + 0.5 - share * (self.right - self.left) / self.px_per_day)
