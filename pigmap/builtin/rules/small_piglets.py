"""The rule that tells of small piglets behind nets: they slip through, or are caught in them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from pigmap.animals.weight import live_weight
from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Lasting, Litter, PigClass, StayState, lasting_on
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE

SMALL_KG = 8.0
"""Piglets lighter than that are small for a net [kg]. Assumed: 4 to 8 kg are told, by mesh and by how they learned."""
SMALL_DAYS = timedelta(days=35)
"""A piglet is as light as that for about so long. Assumed."""


class SmallPiglets:
    """Looks for litters and light weaned pigs on paddocks of nets. It wants care, and no more."""

    api = 1
    name = "small-piglets"
    title = Text("Small piglets behind nets are watched")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield one for each group, earliest first."""
        found: dict[str, Breach] = {}
        for each in sorted(lasting_on(farm, today).values(), key=lambda each: (each.first, each.stay.uid)):
            if each.stay.group_uid not in found and _in_nets(farm, each):
                for breach in _of_stay(farm, each, today):
                    found.setdefault(each.stay.group_uid, breach)
        return found.values()


def _in_nets(farm: Farm, each: Lasting) -> bool:
    paddock = farm.paddocks.get(each.stay.paddock_uid)
    there = each.stay.state is not StayState.PAST and each.stay.group_uid in farm.groups
    return there and paddock is not None and paddock.net_kind_uid is not None


def _of_stay(farm: Farm, each: Lasting, today: date) -> Iterator[Breach]:
    values: dict[str, Value] = {"group": group_called(farm, each.stay.group_uid)}
    day = max(each.first, today)
    for litter in farm.litters.values():
        if litter.group_uid == each.stay.group_uid and _is_small(litter, each, today):
            yield _breach(
                each, Text("{group} have small piglets, of {sow}, behind nets.", values | {"sow": litter.sow})
            )
    if farm.groups[each.stay.group_uid].pig_class is PigClass.WEANED:
        weight = live_weight(farm, each.stay.group_uid, day)
        if weight.pigs and weight.weighed and weight.mean_kg < SMALL_KG:
            values["weight"] = Quantity(weight.mean_kg, "kg", 0)
            yield _breach(each, Text("{group} weigh about {weight} each and are behind nets.", values))


def _is_small(litter: Litter, each: Lasting, today: date) -> bool:
    born = litter.farrowed_on
    if born is None or litter.weaned_on is not None:
        return False
    return today < born + SMALL_DAYS and each.meets(max(born, today), born + SMALL_DAYS)


def _breach(each: Lasting, words: Text) -> Breach:
    remedy = Text(
        "Small ones slip through a net or are caught in it: look several times a day, keep the bottom strand free, or "
        "fence them with strands at their height. Small means under {kg}, or up to {days} old: assumed.",
        {"kg": Quantity(SMALL_KG, "kg", 0), "days": Quantity(SMALL_DAYS.days, "d")},
    )
    uid = each.stay.group_uid
    return Breach("groups", uid, words, remedy, "care", each.first, source=COMMON_PRACTICE)


rule = SmallPiglets()
