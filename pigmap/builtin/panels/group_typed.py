"""A group as it is typed: its edit, what cannot exist, and what is worth a second look."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from pigmap.animals.tables import HEAVY, LIGHT, USUAL_KG
from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.document.edits import add_group
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, PigClass
from pigmap.text import Quantity, Text
from pigmap.units import KG_PER_POUND, System

MOST_PIGS = 99_999
LEAST_KG, MOST_KG = 0.3, 600.0
"""What the weight of a pig can be, as the records have it."""

CLASS_WORDS: Mapping[PigClass, Text] = MappingProxyType(
    {
        PigClass.WEANED: Text("weaned pigs"),
        PigClass.GROWING: Text("growing pigs"),
        PigClass.FINISHING: Text("finishing pigs"),
        PigClass.GILT: Text("gilts"),
        PigClass.GESTATING: Text("dry sows"),
        PigClass.LACTATING: Text("sows with litters"),
        PigClass.BOAR: Text("boars"),
    }
)


_BY_WEIGHT = (PigClass.WEANED, PigClass.GROWING, PigClass.FINISHING, PigClass.GESTATING)


_BY_NAME: Mapping[str, PigClass] = MappingProxyType(
    {"sow": PigClass.GESTATING, "gilt": PigClass.GILT, "boar": PigClass.BOAR}
)
"""Words in a name that weight does not tell. Common practice."""


def class_of(name: str, weight: str, units: System) -> PigClass:
    """Return the kind of pigs that a name speaks of; else the one whose usual weight is nearest, as a ratio.

    Examples
    --------
    >>> [class_of("", weight, "metric").value for weight in ("9", "30", "85", "210", "", "two")]
    ['weaned', 'growing', 'finishing', 'gestating sow', 'growing', 'growing']
    >>> class_of("Old sows", "4", "metric").value
    'gestating sow'
    """
    for word, kind in _BY_NAME.items():
        if word in name.casefold():
            return kind
    try:
        kg = kilograms_typed(weight, units)
    except EditError:
        return PigClass.GROWING
    return min(_BY_WEIGHT, key=lambda kind: max(kg / USUAL_KG[kind], USUAL_KG[kind] / kg))


class MistypedError(EditError):
    """What was typed in one field cannot be."""

    def __init__(self, field: str, error: EditError) -> None:
        super().__init__(error.message, remedy=error.remedy)
        self.field = field


class GroupTyped(NamedTuple):
    """What is in the fields."""

    pigs: str
    weight: str
    name: str
    pig_class: PigClass = PigClass.GROWING
    breed_type: str = ""


def why_these(typed: GroupTyped, units: System, *, chosen: bool) -> Text:
    """Return what is asked of the kind of pigs, and what made the answer that stands there."""
    if chosen:
        return Text("What pigs")
    if any(word in typed.name.casefold() for word in _BY_NAME):
        return Text("What pigs (by the name)")
    try:
        kilograms_typed(typed.weight, units)
    except EditError:
        return Text("What pigs")
    return Text("What pigs (by the weight)")


class GroupGiven(NamedTuple):
    """What was meant."""

    pigs: int
    mean_kg: float | None
    name: str
    pig_class: PigClass
    breed_type: str

    def edit(self, since: date, uid: str) -> Edit:
        """Return the edit that adds the group, with its pigs from a day on."""
        return add_group(
            self.name,
            pig_class=self.pig_class,
            breed_type=self.breed_type,
            pigs=self.pigs,
            mean_kg=self.mean_kg,
            since=since,
            uid=uid,
        )


def given(typed: GroupTyped, units: System) -> GroupGiven:
    """Return what was meant; no weight means that nobody knows it.

    Raises
    ------
    MistypedError
        If a value cannot exist.
    """
    try:
        field = "pigs"
        pigs = whole_number(Text("The number of pigs"), typed.pigs, 1, MOST_PIGS, 12)
        field = "weight"
        mean_kg = kilograms_typed(typed.weight, units) if typed.weight.strip() else None
        field = "name"
        if not typed.name.strip():
            raise EditError("The group has no name.", remedy="Give it one, such as Dry sows.")
    except EditError as error:
        raise MistypedError(field, error) from error
    return GroupGiven(pigs, mean_kg, typed.name.strip(), typed.pig_class, typed.breed_type.strip())


def kilograms_typed(typed: str, units: System) -> float:
    """Return the weight of a pig that was typed in the units of the screen [kg].

    Raises
    ------
    EditError
        If it is no number, or no pig weighs so much.
    """
    kg = number(Text("The weight of a pig"), typed, "90" if units == "us" else "40")
    kg *= KG_PER_POUND if units == "us" else 1.0
    if LEAST_KG <= kg <= MOST_KG:
        return kg
    raise EditError(
        "The weight of a pig is {weight}.",
        remedy="Give what one of them weighs, from {least} to {most}.",
        weight=_weight(kg),
        least=_weight(LEAST_KG),
        most=_weight(MOST_KG),
    )


def _weight(kg: float) -> Quantity:
    return Quantity(kg, "kg", 1 if abs(kg) < 10 and kg != round(kg) else 0)


def doubts(farm: Farm, group: GroupGiven, day: date) -> tuple[Text, ...]:
    """Return what is out of the ordinary; nothing of it keeps the group from being added."""
    words = "{weight} each is {how} for {pigs}. Look at the weight, and at what pigs they are."
    found = list(weight_doubts(group.pig_class, group.mean_kg, words))
    names = [each.name for each in farm.groups.values() if each.closed_on is None or each.closed_on > day]
    if group.name in names:
        found.append(Text("There is a group {name} already. Another name tells them apart.", {"name": group.name}))
    return tuple(found)


def weight_doubts(pig_class: PigClass, mean_kg: float | None, words: str) -> tuple[Text, ...]:
    """Return what to say of a weight that is far from the usual one of such pigs."""
    usual = USUAL_KG[pig_class]
    if mean_kg is None or LIGHT * usual <= mean_kg <= HEAVY * usual:
        return ()
    how = Text("light") if mean_kg < usual else Text("heavy")
    return (Text(words, {"weight": _weight(mean_kg), "how": how, "pigs": CLASS_WORDS[pig_class]}),)
