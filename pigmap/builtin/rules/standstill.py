"""The rule that tells of pigs that are to leave soon after others came on: many places ask for a standstill."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from pigmap.animals.health import STANDSTILL_DAYS
from pigmap.animals.sources import STANDSTILL
from pigmap.planning.arrivals import arrivals
from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text, Value

LASTS = timedelta(days=STANDSTILL_DAYS)
"""Of England; other places have other rules."""


class Standstill:
    """Looks for slaughter bookings within 20 days after pigs came on. It is told, and local rules come first."""

    api = 1
    name = "standstill"
    title = Text("Pigs that leave soon after others came on are told of")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield one for each booking that is to come, earliest first."""
        came = [each.day for each in arrivals(farm)]
        coming = [each for each in farm.slaughter_bookings.values() if each.gone is None and each.goes_on >= today]
        for booking in sorted(coming, key=lambda each: (each.goes_on, each.uid)):
            last = max((day for day in came if day <= booking.goes_on), default=None)
            if last is None or booking.goes_on >= last + LASTS:
                continue
            group = group_called(farm, booking.group_uid) if booking.group_uid else Text("Pigs")
            values: dict[str, Value] = {
                "group": group,
                "day": booking.goes_on,
                "came": last,
                "until": last + LASTS,
            }
            words = Text(
                "{group} are to leave on {day}; pigs came onto the farm on {came}. In England that keeps pigs from "
                "leaving until {until}, with exceptions.",
                values,
            )
            remedy = Text("Ask what holds where you are and for this journey: local rules come first.")
            yield Breach(booking.TABLE, booking.uid, words, remedy, "care", booking.goes_on, source=STANDSTILL)


rule = Standstill()
