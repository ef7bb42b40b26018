"""What stands where on a day: which stays are over, running or intended."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import shapely

from pigmap.records import AS_PLANNED, Farm, Group, Lasting, Paddock, Stay, StayState, lasting_on
from pigmap.records.frozen import dataclass

PAST_SHOWN_DAYS = 400
"""Stays that ended longer ago leave no outline: their ground shows what is left of them. Own choice."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One paddock as it is shown on a day."""

    paddock: Paddock | None
    group: Group | None
    stay: Stay | None
    outline: shapely.Polygon
    there: bool = False
    """Whether the pigs of its stay are there on the day, or will be if all goes as planned."""

    @property
    def name(self) -> str:
        """Name of the paddock, empty where it is not known any more."""
        return self.paddock.name if self.paddock else ""


@dataclass(frozen=True, slots=True)
class OnDay:
    """All paddocks as they are shown on a day."""

    past: tuple[Shown, ...]
    running: tuple[Shown, ...]
    planned: tuple[Shown, ...]
    """In order of the day in; those that would be running on that day are among them."""
    placed: tuple[Shown, ...]
    """Paddocks in which no stay is recorded or planned yet."""

    @property
    def next_planned(self) -> tuple[Shown, ...]:
        """The next planned stay of each group."""
        first: dict[str, Shown] = {}
        for each in self.planned:
            if each.stay is not None:
                first.setdefault(each.stay.group_uid, each)
        return tuple(first.values())


def on_day(farm: Farm, day: date, today: date = AS_PLANNED) -> OnDay:
    """Return every paddock of a farm as it is shown on a day; up to `today` only what is recorded counts."""
    lasting = lasting_on(farm, today)
    begun = [each for each in lasting.values() if each.first <= day]
    running = [each for each in begun if each.covers(day) and each.stay.state is not StayState.PLANNED]
    ahead = [each for each in lasting.values() if each.stay.state is StayState.PLANNED and _is_to_end(each, day)]
    taken = {each.stay.paddock_uid for each in (*running, *ahead)}
    used = {stay.paddock_uid for uid, stay in farm.stays.items() if uid in lasting or stay.state is StayState.PAST}
    past = (each for each in _last_of_each(farm, lasting, day) if each.stay.paddock_uid not in taken)
    return OnDay(
        tuple(_shown(farm, each, day) for each in past),
        tuple(_shown(farm, each, day) for each in sorted(running, key=_order)),
        tuple(_shown(farm, each, day) for each in sorted(ahead, key=_order)),
        tuple(Shown(paddock, None, None, paddock.outline) for uid, paddock in farm.paddocks.items() if uid not in used),
    )


def _order(each: Lasting) -> tuple[date, str]:
    return each.first, each.stay.uid


def _is_to_end(each: Lasting, day: date) -> bool:
    return each.end is None or each.end > day


def _last_of_each(farm: Farm, lasting: Mapping[str, Lasting], day: date) -> list[Lasting]:
    """Return the stay that ended last in each paddock, of those of late; on a day to come planned ones too."""
    earliest = day - timedelta(days=PAST_SHOWN_DAYS)
    last: dict[str, Lasting] = {}
    for uid, stay in farm.stays.items():
        each = lasting.get(uid)
        if each is None and stay.state is StayState.PAST:  # in and out on one day
            each = Lasting(stay, stay.in_on, stay.out_on)
        if each is not None and each.end is not None and earliest <= each.end <= day:
            known = last.get(stay.paddock_uid)
            if known is None or known.first <= each.first:
                last[stay.paddock_uid] = each
    return sorted(last.values(), key=_order)


def _shown(farm: Farm, each: Lasting, day: date) -> Shown:
    stay = each.stay
    paddock = farm.paddocks.get(stay.paddock_uid)
    moved = paddock is not None and stay.state is StayState.PLANNED
    outline = paddock.outline if paddock is not None and moved else stay.ground
    return Shown(paddock, farm.groups.get(stay.group_uid), stay, outline, each.covers(day))


def short_name(shown: Shown, farm: Farm) -> str:
    """Return a paddock's name without that of its field: ``8`` for ``Long Field 8``."""
    field = farm.fields.get(shown.paddock.field_uid or "") if shown.paddock else None
    name = shown.name
    return name.removeprefix(field.name).strip() or name if field else name


PIG_WORDS = (
    "sow",
    "sows",
    "gilts",
    "boar",
    "boars",
    "weaners",
    "growers",
    "stores",
    "porkers",
    "baconers",
    "finishers",
)
"""What a group is called by among others: its sign has the letter of such a word."""


def letter_of(group: Group, farm: Farm | None = None) -> str:
    """Return the letter in a group's sign: the first of its name, or of the word that says what pigs they are.

    On a farm no two groups that are there have the same one: the group that came later takes the next letter of its
    name that is free, as long as there is one.

    Examples
    --------
    >>> letter_of(Group(name="Dry sows")), letter_of(Group(name="Little ones"))
    ('S', 'L')
    """
    letters = _letters(group)
    if farm is None or group.closed_on is not None:
        return letters[0]
    taken: set[str] = set()
    for each in farm.groups.values():
        if each.closed_on is None:
            own = next((letter for letter in _letters(each) if letter not in taken), _letters(each)[0])
            if each.uid == group.uid:
                return own
            taken.add(own)
    return letters[0]


def _letters(group: Group) -> list[str]:
    """Return the letters of a name in the order in which its sign takes them; one at least."""
    words = [word for word in group.name.split() if word[0].isalpha()] or [group.name]
    first = next((word for word in words if word.lower() in PIG_WORDS), words[0])
    words.remove(first)
    found = [letter.upper() for word in (first, *words) for letter in word if letter.isalnum()]
    return found or [group.name[:1].upper()]


def sign_of(group: Group | None, farm: Farm | None = None) -> str:
    """Return the sign of a group as a label names it; empty for none."""
    return f"group {group.colour_index} {letter_of(group, farm)}" if group else ""
