"""Rows of a file as groups, and as what happened to them: weights, births, sales."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pigmap.animals.tables import HEAVY, LIGHT, USUAL_KG
from pigmap.document.edits.groups import add_group
from pigmap.errors import RecordError
from pigmap.records import Farm, Group, GroupEvent, GroupEventKind, PigClass, Record, WeighedBy, add
from pigmap.session.taking_in.result import TakenRow
from pigmap.session.taking_in.rows import CalledRows, Row, Rows, days_of, pointed_at
from pigmap.session.taking_in.values import known, number, one_of, told, truth, whole
from pigmap.text import Quantity, Text

CLASSES: Mapping[str, PigClass] = {
    "weaner": PigClass.WEANED,
    "piglet": PigClass.WEANED,
    "grower": PigClass.GROWING,
    "store": PigClass.GROWING,
    "finisher": PigClass.FINISHING,
    "fattener": PigClass.FINISHING,
    "sow": PigClass.GESTATING,
    "dry sow": PigClass.GESTATING,
    "pregnant sow": PigClass.GESTATING,
    "suckling sow": PigClass.LACTATING,
    "sow with piglet": PigClass.LACTATING,
}
"""Other words for classes of pigs. Own choice."""
HAPPENED: Mapping[str, GroupEventKind] = {
    "weight": GroupEventKind.WEIGHED,
    "weighing": GroupEventKind.WEIGHED,
    "came": GroupEventKind.BOUGHT,
    "purchase": GroupEventKind.BOUGHT,
    "birth": GroupEventKind.BORN,
    "farrowed": GroupEventKind.BORN,
    "sale": GroupEventKind.SOLD,
    "slaughtered": GroupEventKind.SOLD,
    "death": GroupEventKind.DIED,
    "dead": GroupEventKind.DIED,
    "left": GroupEventKind.SPLIT,
}
"""Other words for what can happen to a group. Own choice."""
_NUMBERS = {
    "feed_share": "the share of a full ration",
    "feed_kg": "the feed of one pig in kg a day",
    "feed_protein_g_kg": "the protein in the feed in g/kg",
    "tank_l": "the water carried in litres",
    "feeder_kg": "the feed carried in kg",
    "target_kg": "the weight at which they go in kg",
}


class GroupRows(CalledRows[Group]):
    """Groups, known by their names; the pigs of a new one come with it."""

    record = Group
    keeps = frozenset(("colour_index",))

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        self._days = days_of(self, ("since", "closed_on"))
        self._with: Farm = self.farm
        return super().taken(kept)

    def read(self, row: Row) -> dict[str, Any]:
        """Return what the columns tell."""
        found: dict[str, Any] = {"name": self.name_of(row)}
        if "class" in row.given:
            found["pig_class"] = _class(row)
        if "breed" in row.given:
            found["breed_type"] = row.words("breed")
        if "ringed" in row.given:
            found["ringed"] = bool(truth(row.given["ringed"], "whether they wear rings"))
        if "drinkers" in row.given:
            found["drinkers"] = whole(row.given["drinkers"], "the number of drinkers")
        if "closed_on" in row.given:
            found["closed_on"] = self._days.day(row.given["closed_on"], "the end of the group")
        if "note" in row.given:
            found["note"] = row.words("note")
        return found | {what: number(row.given[what], name) for what, name in _NUMBERS.items() if what in row.given}

    def make(self, row: Row, told: dict[str, Any]) -> Group:
        """Return a new group, with the colour that the fewest others have."""
        edit = add_group(told["name"], **self._pigs(row))
        new, *self._came = [each.after for each in edit(self._with)]
        assert isinstance(new, Group)
        made = Group(**{**told, "uid": new.uid, "colour_index": new.colour_index})
        self._with = self._with.after([add(made)])
        return made

    def _pigs(self, row: Row) -> dict[str, Any]:
        """Return how many pigs came, how heavy, when and from where."""
        pigs = whole(row.given.get("pigs"), "the number of pigs")
        kg = number(row.given.get("kg"), "the weight in kg")
        since = self._days.day(row.given.get("since"), "the day since when")
        if since is None and (pigs is not None or kg is not None):
            since = self.today
            row.said.append(Text("Since when is not told: its pigs count from {day} on.", {"day": since}))
        if pigs == 0:
            row.said.append(Text("It has no pigs."))
        row.said.extend(_weight_doubted(kg, known(row.given.get("class"), PigClass, CLASSES)))
        told = {what: row.words(what) for what in ("mark", "from_where")}
        return {"pigs": pigs, "mean_kg": kg, "since": since, **told}

    def also(self, row: Row, made: Group, *, new: bool) -> Sequence[Record]:
        """Return that the pigs of a new group came."""
        if new:
            return [each for each in self._came if each is not None]
        if row.words("pigs") or row.words("kg"):
            words = "How many they are, and how heavy, stays as it is: that is taken in as entries of groups."
            row.said.append(Text(words))
        return ()


def _class(row: Row) -> PigClass:
    found = known(row.given["class"], PigClass, CLASSES)
    if found is None:
        found = PigClass.GROWING
        if row.words("class"):
            words = "The class, '{told}', is not known here: they are growing pigs."
            row.said.append(Text(words, {"told": told(row.given["class"])}))
    return found


def _weight_doubted(kg: float | None, pigs: PigClass | None) -> list[Text]:
    """Return what to say of a weight that is far from the usual one of such pigs."""
    if kg is None or pigs is None or LIGHT * USUAL_KG[pigs] <= kg <= HEAVY * USUAL_KG[pigs]:
        return []
    how = Text("light") if kg < USUAL_KG[pigs] else Text("heavy")
    words = "{weight} each is {how} for such pigs. Look at the weight, and at what pigs they are."
    return [Text(words, {"weight": Quantity(kg, "kg"), "how": how})]


class EventRows(Rows[GroupEvent]):
    """What happened to groups; a weight alone is a weighing."""

    record = GroupEvent

    def called(self, row: Row) -> str:
        """Return the group and the day."""
        return " ".join(filter(None, (told(row.given.get(what)) for what in ("group", "kind", "day"))))

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        self._days = days_of(self, ("day",))
        return super().taken(kept)

    def read(self, row: Row) -> dict[str, Any]:
        """Return what the columns tell."""
        on = self._days.day(row.given.get("day"), "the day")
        if on is None:
            raise RecordError("no day is given.", remedy="Write the day on which it happened.")
        found: dict[str, Any] = {"group_uid": self.named.group(row.given.get("group")).uid, "happened_on": on}
        kg = number(row.given.get("kg"), "the weight in kg")
        if row.words("kind") or kg is None:
            found["kind"] = one_of(row.given.get("kind"), GroupEventKind, "what happened", HAPPENED)
        else:
            found["kind"] = GroupEventKind.WEIGHED
        if "kg" in row.given:
            found["mean_kg"] = kg
        if "pigs" in row.given:
            found["pigs"] = whole(row.given["pigs"], "the number of pigs")
        if "withdrawal_days" in row.given:
            found["withdrawal_days"] = whole(row.given["withdrawal_days"], "the withdrawal time in days")
        if row.words("weighed_by"):
            found["weighed_by"] = one_of(row.given["weighed_by"], WeighedBy, "how it was weighed", {})
        if "note" in row.given:
            found["note"] = row.words("note")
        return found | pointed_at(row, "other_group", self.named.group)

    def alike(self, one: GroupEvent, other: GroupEvent) -> bool:
        """Whether two entries tell of one thing that happened."""
        return _what(one) == _what(other)


def _what(row: GroupEvent) -> tuple[object, ...]:
    return row.group_uid, row.happened_on, row.kind, row.pigs, row.mean_kg, row.other_group_uid
