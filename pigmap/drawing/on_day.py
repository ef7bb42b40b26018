"""What stands where on a day: which stays are over, running or intended."""

from __future__ import annotations

from datetime import date, timedelta

import shapely

from pigmap.frozen import dataclass
from pigmap.records import Farm, Group, Paddock, Stay, StayState

PAST_SHOWN_DAYS = 400
"""Stays that ended longer ago leave no outline: their ground shows what is left of them. Own choice."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One paddock as it is shown on a day."""

    paddock: Paddock | None
    group: Group | None
    stay: Stay | None
    outline: shapely.Polygon

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


def on_day(farm: Farm, day: date) -> OnDay:
    """Return every paddock of a farm as it is shown on a day."""
    recorded, planned, used = [], [], set()
    for stay in farm.stays.values():
        used.add(stay.paddock_uid)
        if stay.state is StayState.PLANNED:
            planned.append(stay)
        elif stay.in_on <= day:
            recorded.append(stay)
    running = [stay for stay in recorded if _runs(stay, day, farm)]
    ahead = sorted((stay for stay in planned if stay.out_on is None or stay.out_on > day), key=_order)
    taken = {stay.paddock_uid for stay in (*running, *ahead)}
    return OnDay(
        tuple(_shown(farm, stay) for stay in _last_of_each(recorded, planned, day) if stay.paddock_uid not in taken),
        tuple(_shown(farm, stay) for stay in sorted(running, key=_order)),
        tuple(_shown(farm, stay) for stay in ahead),
        tuple(Shown(paddock, None, None, paddock.outline) for uid, paddock in farm.paddocks.items() if uid not in used),
    )


def _order(stay: Stay) -> tuple[date, str]:
    return stay.in_on, stay.uid


def _runs(stay: Stay, day: date, farm: Farm) -> bool:
    if stay.out_on is None or day < stay.out_on:
        return True
    if stay.state is not StayState.RUNNING:
        return False
    # Past its day out the group stands where it stood until it came in somewhere else.
    others = (each for each in farm.stays.values() if each.group_uid == stay.group_uid and each.uid != stay.uid)
    return not any(stay.in_on <= each.in_on <= day for each in others)


def _last_of_each(recorded: list[Stay], planned: list[Stay], day: date) -> list[Stay]:
    """Return the stay that ended last in each paddock, of those of late; on a day to come planned ones too."""
    earliest = day - timedelta(days=PAST_SHOWN_DAYS)
    last: dict[str, Stay] = {}
    for stay in (*recorded, *planned):
        out = stay.out_on
        if out is not None and earliest <= out <= day:
            known = last.get(stay.paddock_uid)
            if known is None or known.in_on <= stay.in_on:
                last[stay.paddock_uid] = stay
    return sorted(last.values(), key=_order)


def _shown(farm: Farm, stay: Stay) -> Shown:
    paddock = farm.paddocks.get(stay.paddock_uid)
    moved = paddock is not None and stay.state is StayState.PLANNED
    outline = paddock.outline if paddock is not None and moved else stay.ground
    return Shown(paddock, farm.groups.get(stay.group_uid), stay, outline)


def short_name(shown: Shown, farm: Farm) -> str:
    """Return a paddock's name without that of its field: ``8`` for ``Long Field 8``."""
    field = farm.fields.get(shown.paddock.field_uid or "") if shown.paddock else None
    name = shown.name
    return name.removeprefix(field.name).strip() or name if field else name


def letter_of(group: Group) -> str:
    """Return the letter in a group's sign: the first of its name's last word but a number.

    Examples
    --------
    >>> letter_of(Group(name="Dry sows"))
    'S'
    """
    words = [word for word in group.name.split() if word[0].isalpha()]
    return (words[-1] if words else group.name)[:1].upper()


def sign_of(group: Group | None) -> str:
    """Return the sign of a group as a label names it; empty for none."""
    return f"group {group.colour_index} {letter_of(group)}" if group else ""
