"""The rule that a slaughter booking fits its group: as many pigs, heavy enough, near where they are loaded."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import shapely

from pigmap.animals.weight import Weight, live_weight
from pigmap.planning.names import group_called, paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import (
    Farm,
    GroupEvent,
    GroupEventKind,
    Lasting,
    Place,
    PlaceKind,
    SlaughterBooking,
    WeighedBy,
    lasting_on,
)
from pigmap.text import Quantity, Text, Value

NEAR_M = 300.0
"""So near to the loading place a group stands before it is loaded [ground m]. Assumed; a setting of the farm."""
NEAR_SETTING = "loading distance"
DAYS_BEFORE = 2
"""So many days before loading it stands there. Assumed."""
SPREAD = 0.1
"""By how much the pigs of a group differ in weight: a standard deviation as a share of the mean. Assumed."""


class SlaughterBookings:
    """Looks at bookings that are to come, and for those whose day has passed without a word."""

    api = 1
    name = "slaughter-bookings"
    title = Text("Slaughter bookings fit the groups they are for")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        coming = [each for each in farm.slaughter_bookings.values() if each.gone is None]
        for booking in sorted(coming, key=lambda each: (each.goes_on, each.uid)):
            if booking.goes_on < today:
                yield _not_told(farm, booking)
            elif booking.group_uid in farm.groups:
                yield from _too_many(farm, booking, today)
                yield from _too_light(farm, booking)
                yield from _too_far(farm, booking, today)


def _values(farm: Farm, booking: SlaughterBooking) -> dict[str, Value]:
    group = group_called(farm, booking.group_uid) if booking.group_uid else Text("Pigs")
    return {"group": group, "day": booking.goes_on}


def _not_told(farm: Farm, booking: SlaughterBooking) -> Breach:
    words = Text("{group} were booked for slaughter on {day}; how many went is not told.", _values(farm, booking))
    remedy = Text("Tell how many went; 0 where none did.")
    return Breach(booking.TABLE, booking.uid, words, remedy, "care", booking.goes_on)


def _too_many(farm: Farm, booking: SlaughterBooking, today: date) -> Iterator[Breach]:
    there = live_weight(farm, booking.group_uid or "", booking.goes_on).pigs - _gone_before(farm, booking, today)
    if booking.pigs is None or booking.pigs <= there:
        return
    words = Text(
        "{booked} of {group} are booked for {day}; 1 pig will be there.",
        {**_values(farm, booking), "booked": booking.pigs},
        plural="{booked} of {group} are booked for {day}; {count} pigs will be there.",
        count=max(there, 0),
    )
    remedy = Text("Book fewer, or take the others from another group.")
    yield Breach(booking.TABLE, booking.uid, words, remedy, "plan", booking.goes_on)


def _gone_before(farm: Farm, booking: SlaughterBooking, today: date) -> int:
    """Return how many pigs of the group other bookings take before."""
    return sum(
        each.pigs or 0
        for each in farm.slaughter_bookings.values()
        if each.group_uid == booking.group_uid
        and each.gone is None
        and (today, "") <= (each.goes_on, each.uid) < (booking.goes_on, booking.uid)
    )


def _too_light(farm: Farm, booking: SlaughterBooking) -> Iterator[Breach]:
    weight = live_weight(farm, booking.group_uid or "", booking.goes_on)
    wanted, least = booking.pigs or 1, booking.least_kg
    if least is None or wanted > weight.pigs:
        return
    heavy = heavy_enough(weight, least)
    if wanted <= heavy:
        return
    values = {
        **_values(farm, booking),
        "wanted": wanted,
        "least": Quantity(least, "kg", 0),
        "mean": Quantity(weight.mean_kg, "kg", 0),
        "how": weighed_how(farm, booking.group_uid or "", booking.goes_on),
    }
    words = Text(
        "{wanted} of {group} from {least} are booked for {day}; about 1 will be as heavy (mean {mean}, {how}).",
        values,
        plural="{wanted} of {group} from {least} are booked for {day}; about {count} will be as heavy (mean {mean}, "
        "{how}).",
        count=heavy,
    )
    remedy = Text(
        "Weigh some of them, and book later or fewer if it is so. "
        "That they differ by {spread} of their weight is assumed.",
        {"spread": Quantity(SPREAD, "1")},
    )
    yield Breach(booking.TABLE, booking.uid, words, remedy, "care", booking.goes_on)


def heavy_enough(weight: Weight, least_kg: float) -> int:
    """Return about how many pigs of a group weigh a weight or more, where they differ by `SPREAD`.

    Examples
    --------
    >>> heavy_enough(Weight(20, 100.0, 2000.0), 100.0), heavy_enough(Weight(20, 100.0, 2000.0), 90.0)
    (10, 17)
    """
    off = (least_kg - weight.mean_kg) / (SPREAD * weight.mean_kg)
    return round(weight.pigs * 0.5 * math.erfc(off / math.sqrt(2.0)))


_HOW = {
    WeighedBy.SCALE: Text("by the scale"),
    WeighedBy.TAPE: Text("by the tape"),
    WeighedBy.EYE: Text("by eye"),
}


def weighed_how(farm: Farm, group_uid: str, until: date) -> Text:
    """Return how the last weight of a group was found: by scale, tape or eye, or that nobody weighed it."""
    told = [
        each
        for each in farm.group_events.values()
        if each.group_uid == group_uid and each.mean_kg is not None and each.happened_on <= until and _weighs(each)
    ]
    if not told:
        return Text("as such pigs usually weigh")
    last = max(told, key=lambda each: (each.happened_on, each.uid))
    if last.kind is not GroupEventKind.WEIGHED:
        return Text("as they were when they came on {came}", {"came": last.happened_on})
    return Text("{how} of {came}", {"how": _HOW[last.weighed_by], "came": last.happened_on})


def _weighs(event: GroupEvent) -> bool:
    return event.kind in (
        GroupEventKind.WEIGHED,
        GroupEventKind.BOUGHT,
        GroupEventKind.BORN,
        GroupEventKind.JOINED,
    )


def _too_far(farm: Farm, booking: SlaughterBooking, today: date) -> Iterator[Breach]:
    place = _place(farm, booking)
    told = farm.setting(NEAR_SETTING, NEAR_M)
    near_m = float(told) if isinstance(told, int | float) and not isinstance(told, bool) else NEAR_M
    if place is None:
        return
    for each in _before(farm, booking, today):
        away_m = float(shapely.distance(each.stay.ground, place.point)) * farm.projection.ground_per_grid
        if away_m > near_m:
            values = {
                **_values(farm, booking),
                "paddock": paddock_called(farm, each.stay.paddock_uid),
                "away": Quantity(round(away_m, -1), "m"),
                "place": place.name or Text("the loading place"),
            }
            words = Text("{group} go on {day} and are in {paddock} before, {away} from {place}.", values)
            words_for = "Plan a paddock within {near} of it for the {days} before, or walk them in good time."
            assumed = " The {days} are assumed." if farm.setting(NEAR_SETTING) is not None else " Both are assumed."
            far: dict[str, Value] = {"near": Quantity(near_m, "m"), "days": Quantity(DAYS_BEFORE, "d")}
            remedy = Text(words_for + assumed, far)
            yield Breach(booking.TABLE, booking.uid, words, remedy, "care", booking.goes_on)
            return


def _before(farm: Farm, booking: SlaughterBooking, today: date) -> list[Lasting]:
    """Return where the group is in the days before, the last place first."""
    days = [booking.goes_on - timedelta(days=count) for count in range(1, DAYS_BEFORE + 1)]
    stays = [each for each in lasting_on(farm, today).values() if each.stay.group_uid == booking.group_uid]
    found = [each for day in days if day >= today for each in stays if each.covers(day)]
    return list({each.stay.uid: each for each in found}.values())


def _place(farm: Farm, booking: SlaughterBooking) -> Place | None:
    """Return where they are loaded: as told, or the only place of that kind."""
    if booking.place_uid in farm.places:
        return farm.places[booking.place_uid or ""]
    places = [each for each in farm.places.values() if each.kind is PlaceKind.LOADING_PLACE]
    return places[0] if len(places) == 1 else None


rule = SlaughterBookings()
