"""A weighing or a count as it is typed: its edit, what cannot exist, and what is worth a second look."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_field import typed_day
from pigmap.builtin.panels.group_typed import MOST_PIGS, kilograms_typed, weight_doubts
from pigmap.builtin.panels.typed_numbers import whole_number
from pigmap.document.edits import count_and_weigh
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Group, GroupEventKind, WeighedBy
from pigmap.text import Quantity, Text, Value
from pigmap.units import System

WRONG = Text("counted or typed wrong before")
FEWER: tuple[tuple[GroupEventKind | None, Text], ...] = (
    (None, WRONG),
    (GroupEventKind.SOLD, Text("sold or slaughtered")),
    (GroupEventKind.DIED, Text("died")),
    (GroupEventKind.SPLIT, Text("went to another group")),
)
MORE: tuple[tuple[GroupEventKind | None, Text], ...] = (
    (None, WRONG),
    (GroupEventKind.BOUGHT, Text("bought")),
    (GroupEventKind.BORN, Text("born")),
    (GroupEventKind.JOINED, Text("came from another group")),
)
"""What can have become of pigs that are fewer or more than written down."""


BY_WORDS: Mapping[WeighedBy, Text] = MappingProxyType(
    {
        WeighedBy.SCALE: Text("on a scale"),
        WeighedBy.TAPE: Text("with a tape"),
        WeighedBy.EYE: Text("by eye"),
    }
)


def last_way(farm: Farm, group_uid: str) -> WeighedBy:
    """Return how a group was weighed last; on a scale where it never was."""
    weighed = (each for each in farm.group_events.values() if each.group_uid == group_uid and each.mean_kg is not None)
    last = max(weighed, key=lambda each: (each.happened_on, each.uid), default=None)
    return last.weighed_by if last is not None else WeighedBy.SCALE


class WeighTyped(NamedTuple):
    """What is in the fields."""

    day: str
    pigs: str
    weight: str
    why: GroupEventKind | None
    was: int
    by: WeighedBy = WeighedBy.SCALE


class Weighed(NamedTuple):
    """What was meant."""

    on: date
    pigs: int
    was: int
    why: GroupEventKind | None
    mean_kg: float | None
    by: WeighedBy = WeighedBy.SCALE

    def edit(self, group_uid: str) -> Edit:
        """Return the edit that writes it down."""
        return count_and_weigh(
            group_uid,
            self.on,
            pigs=self.pigs,
            was=self.was,
            why=self.why,
            mean_kg=self.mean_kg,
            weighed_by=self.by,
        )

    def words(self, group: Group) -> Text:
        """Return what was written down."""
        values: dict[str, Value] = {"group": group.name, "count": self.pigs, "day": self.on}
        if self.mean_kg is None:
            return Text("{group}: 1 pig on {day}.", values, plural="{group}: {count} pigs on {day}.", count=self.pigs)
        values["weight"] = Quantity(self.mean_kg, "kg", 0)
        many = "{group}: {count} pigs of about {weight} on {day}."
        return Text("{group}: 1 pig of about {weight} on {day}.", values, plural=many, count=self.pigs)


def weighed(typed: WeighTyped, units: System, today: date) -> Weighed:
    """Return what was meant; no weight means that nothing was weighed.

    Raises
    ------
    EditError
        If a value cannot exist, or nothing is told.
    """
    on = typed_day(typed.day) or today
    pigs = whole_number(Text("The number of pigs"), typed.pigs, 0, MOST_PIGS, 12)
    mean_kg = kilograms_typed(typed.weight, units) if typed.weight.strip() else None
    if pigs == typed.was and mean_kg is None:
        raise EditError("Number and weight are as before.", remedy="Type what was counted or weighed.")
    return Weighed(on, pigs, typed.was, typed.why if pigs != typed.was else None, mean_kg, typed.by)


def odd(farm: Farm, group: Group, given: Weighed, today: date) -> tuple[Text, ...]:
    """Return what is out of the ordinary; nothing of it keeps it from being written down."""
    found = list(
        weight_doubts(group.pig_class, given.mean_kg, "{weight} each is {how} for {pigs}. Look at the weight.")
    )
    if given.on > today:
        found.append(Text("{day} is still to come. Look at the day.", {"day": given.on}))
    if not given.pigs:
        found.append(Text("Then nobody is left in {group}. End group says so.", {"group": group.name}))
    there = live_weight(farm, group.uid, given.on).pigs
    if given.pigs != given.was and there != given.was:
        values: dict[str, Value] = {"day": given.on, "there": there, "was": given.was}
        found.append(Text("On {day} there were {there}, not {was}, as written down. Look at the day.", values))
    return tuple(found)
