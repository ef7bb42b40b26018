"""What figures about pigs rest on, in words: how many they are, how heavy, how long they stay, on how much ground."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.animals.batches import Batch, Weighing
from pigmap.animals.growth import gain_kg
from pigmap.animals.weight import Weight, growth_in, live_weight
from pigmap.ground.tables import TRAILING_DAYS
from pigmap.records import Farm, GroupEventKind, Stay, lasting_on
from pigmap.text import Quantity, Text, Value

CAME = frozenset((GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED))
WENT = frozenset((GroupEventKind.SOLD, GroupEventKind.DIED, GroupEventKind.SPLIT))
M2_PER_HA = 10_000.0
SHARE_WORTH_SAYING = 0.01
WHOLE = 0.985


class Laid(NamedTuple):
    """What one stay laid on some ground within twelve months."""

    stay: Stay
    weight: Weight
    """On the middle one of these days."""
    days: int
    ground_m2: float
    share: float
    """Share of the asked ground that it lay on, 0 to 1."""

    @property
    def load_kg_d_m2(self) -> float:
        """Weight times days, over the asked ground [kg·d/m²]."""
        return self.weight.total_kg * self.days / self.ground_m2 * self.share


def pigs_words(farm: Farm, group_uid: str, day: date) -> Text:
    """Return from what the pigs of a group are counted: those that came, less those that went."""
    events = [each for each in farm.group_events.values() if each.group_uid == group_uid and each.happened_on <= day]
    came, went = (sum(each.pigs or 0 for each in events if each.kind in kinds) for kinds in (CAME, WENT))
    pigs = live_weight(farm, group_uid, day).pigs
    if came - went != pigs:  # weighed alone, or more told to have gone than ever came
        return Text("{pigs}, from what was told of pigs that came, went and were weighed.", {"pigs": pigs})
    values: dict[str, Value] = {"came": came, "went": went, "day": day}
    if not went:
        return Text("{came} came and none went, as told up to {day}.", values)
    return Text("{came} came, less {went} that went, as told up to {day}.", values)


def weight_words(farm: Farm, group_uid: str, day: date) -> Text:
    """Return from what the weight of a group follows: what was weighed before the day and after it."""
    group, weight = farm.groups[group_uid], live_weight(farm, group_uid, day)
    total = total_words(weight)
    if not weight.weighed:
        return Text(
            "Nobody told a weight: {each} is usual for such pigs ({sort}) and counts until you type one under "
            "Weigh or count. {total}.",
            {"each": Quantity(weight.mean_kg, "kg"), "sort": Text(str(group.pig_class)), "total": total},
        )
    batch = growth_in(farm, group_uid).batch_on(day.toordinal())
    assert batch is not None  # somebody weighed it
    before = [each for each in batch.weighed if each.day <= day.toordinal()]
    after = [each for each in batch.weighed if each.day > day.toordinal()]
    if not before:
        words = "{each} as told for {day}, lighter before along the curve of growth. {total}."
        if not batch.grows:
            words = "{each} as told for {day}, which counts before it too. {total}."
        return Text(words, _told(after[0], total))
    values = _told(before[-1], total)
    if not after:
        if batch.grows and day.toordinal() >= batch.knot_days[-1] > before[-1].day:
            values["now"] = Quantity(weight.mean_kg, "kg", 0)
            words = "{each} as told on {day}, and grown since to {now}, where the curve ends: weigh them. {total}."
            return Text(words, values)
        return _since(values, batch, len(batch.weighed), weight.mean_kg, grown=weight.mean_kg > before[-1].kg)
    values |= {"later": Quantity(after[0].kg, "kg"), "then": date.fromordinal(after[0].day)}
    words = "{each} as told on {day}, {later} on {then}: along the curve of growth between them. {total}."
    if not batch.grows:
        words = "{each} as told on {day}, {later} on {then}: even steps between them. {total}."
    return Text(words, values)


def _since(values: dict[str, Value], batch: Batch, weighings: int, kg: float, *, grown: bool) -> Text:
    """Return what is said of a weight after the last one that was told."""
    if not grown:
        return Text("{each} as told on {day}, which counts until another is told. {total}.", values)
    gain = float(gain_kg(kg, batch.pace.rate_per_d, batch.mature_kg))
    values = values | {"gain": Quantity(gain, "kg", 1), "count": str(weighings)}
    if weighings > 1:
        return Text(
            "{each} as told on {day}, and grown since as {count} weighings tell, now {gain} a day. {total}.", values
        )
    return Text("{each} as told on {day}, and grown since as pigs outdoors do, now {gain} a day. {total}.", values)


def _told(told: Weighing, total: Text) -> dict[str, Value]:
    return {"day": date.fromordinal(told.day), "each": Quantity(told.kg, "kg"), "total": total}


def total_words(weight: Weight) -> Text:
    """Return a sum of weights: '12 pigs x 60 kg = 720 kg'."""
    each, total = Quantity(weight.mean_kg, "kg"), Quantity(weight.total_kg, "kg")
    return Text(
        "{count} pig \u00d7 {each} = {total}",
        {"each": each, "total": total},
        plural="{count} pigs \u00d7 {each} = {total}",
        count=weight.pigs,
    )


def over_words(weight: Weight, ground_m2: float) -> Text:
    """Return the weight over some ground: '12 pigs x 60 kg over 0.24 ha: 3000 kg/ha.'."""
    return Text(
        "{count} pig \u00d7 {each} over {ground}: {much}.",
        {
            "each": Quantity(weight.mean_kg, "kg"),
            "ground": Quantity(ground_m2, "m²"),
            "much": Quantity(weight.total_kg / max(ground_m2, 1e-3) * M2_PER_HA, "kg/ha"),
        },
        plural="{count} pigs \u00d7 {each} over {ground}: {much}.",
        count=weight.pigs,
    )


def laid_on(farm: Farm, ground: BaseGeometry, day: date, today: date) -> list[Laid]:
    """Return what each stay laid on some ground in the twelve months before a day, the last first.

    Parameters
    ----------
    farm
        Whose stays.
    ground
        An area [grid m].
    day, today
        The day up to whose start all counts, and that up to which only what is recorded does.
    """
    since = day - timedelta(days=TRAILING_DAYS)
    within = [each for each in lasting_on(farm, today).values() if each.meets(since, day)]
    grounds = np.array([each.stay.ground for each in within], dtype=np.object_)
    shares = shapely.area(shapely.intersection(grounds, ground)) / max(ground.area, 1e-9)
    there = [within[at] for at in np.flatnonzero(shares > SHARE_WORTH_SAYING)]
    found = []
    for each, share in zip(there, shares[shares > SHARE_WORTH_SAYING].tolist(), strict=True):
        begin, end = max(each.first, since), min(each.end or day, day)
        if each.stay.group_uid in farm.groups:
            weight = live_weight(farm, each.stay.group_uid, begin + (end - begin) // 2)
            ground_m2 = max(each.stay.ground.area * farm.projection.ground_per_grid**2, 1e-3)
            found.append(Laid(each.stay, weight, (end - begin).days, ground_m2, share))
    return sorted((each for each in found if each.weight.pigs), key=lambda each: each.stay.in_on, reverse=True)


def laid_words(laid: Sequence[Laid]) -> list[Text]:
    """Return each stay as a sum: '12 pigs x 60 kg x 5 days over 0.24 ha', and how much of the ground it lay on."""
    return [_partly(one) if one.share < WHOLE else _sum(one) for one in laid]


def _partly(one: Laid) -> Text:
    return Text("{sum}, on {share} of this", {"sum": _sum(one), "share": Quantity(one.share, "1")})


def _sum(one: Laid) -> Text:
    return Text(
        "{count} pig \u00d7 {each} \u00d7 {days} over {ground}",
        {
            "each": Quantity(one.weight.mean_kg, "kg"),
            "days": Quantity(one.days, "d"),
            "ground": Quantity(one.ground_m2, "m²"),
        },
        plural="{count} pigs \u00d7 {each} \u00d7 {days} over {ground}",
        count=one.weight.pigs,
    )
