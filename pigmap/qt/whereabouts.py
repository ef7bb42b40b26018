"""Where each group is on a day, since when, what was seen there last and where it goes next."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from pigmap.records import AS_PLANNED, Check, Farm, Field, Group, Lasting, Paddock, Stay, lasting_on
from pigmap.records.frozen import dataclass
from pigmap.records.later_rows import from_day


class PlannedMove(NamedTuple):
    """A group goes from one stay to the next."""

    day: date
    from_stay: Stay
    to_stay: Stay


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """One group on one day."""

    group: Group
    day: date
    stay: Stay | None
    """The stay that covers the day; where several do, the last that began."""
    next_stay: Stay | None
    """The first stay that begins after the day."""
    check: Check | None
    """The last daily check of that stay, up to the day."""

    @property
    def day_of_stay(self) -> int:
        """Which day of the stay it is, counted from 1; 0 where the group is nowhere."""
        return (self.day - self.stay.in_on).days + 1 if self.stay else 0

    @property
    def days_of_stay(self) -> int | None:
        """Days of the stay from the first to the last, and to the day where it lasts longer; None with no day out."""
        if self.stay is None or self.stay.out_on is None:
            return None
        return max((self.stay.out_on - self.stay.in_on).days, self.day_of_stay)


class Book:
    """Stays and checks of one revision of the farm, sorted once and asked often."""

    def __init__(self, farm: Farm, today: date = AS_PLANNED) -> None:
        self.farm = farm
        self.today = today
        """The day up to which only what is recorded counts."""
        self._stays: dict[str, list[Stay]] = {uid: [] for uid in farm.groups}
        for stay in sorted(farm.stays.values(), key=lambda stay: (stay.in_on, stay.uid)):
            self._stays.setdefault(stay.group_uid, []).append(stay)
        self._lasting: dict[str, list[Lasting]] = {}
        for each in sorted(lasting_on(farm, today).values(), key=lambda each: (each.first, each.stay.uid)):
            self._lasting.setdefault(each.stay.group_uid, []).append(each)
        self.kept: dict[tuple[str, str], object] = {}
        """What others worked out for two stays of this farm, so that no day step works it out again."""
        self._moves: dict[str, tuple[PlannedMove, ...]] = {}
        self._checks: dict[str, list[Check]] = {}
        self._checks_from = date.max
        """First day from which on all checks are among these; to begin with they are those that are there at once."""
        self._take_checks(date.max)

    def groups(self, day: date) -> tuple[Group, ...]:
        """Return the groups that are not closed on a day, in the order in which they came."""
        return tuple(group for group in self.farm.groups.values() if group.closed_on is None or group.closed_on > day)

    def stays(self, group_uid: str) -> list[Stay]:
        """Return a group's stays, earliest first."""
        return self._stays.get(group_uid, [])

    def whereabouts(self, group: Group, day: date) -> Whereabouts:
        """Return where a group is on a day."""
        stays = self._lasting.get(group.uid, [])
        after = bisect_right(stays, day, key=_first_day)
        here = next((each.stay for each in reversed(stays[:after]) if each.covers(day)), None)
        later = stays[after].stay if after < len(stays) else None
        return Whereabouts(group, day, here, later, self.last_check(here, day) if here else None)

    def last_check(self, stay: Stay, day: date) -> Check | None:
        """Return the last check of a stay up to a day; it waits for older ones only where the newest tell of none."""
        found = self._last_of(stay, day)
        if found is None and stay.in_on < self._checks_from:
            self._take_checks(stay.in_on)
            found = self._last_of(stay, day)
        return found

    def _last_of(self, stay: Stay, day: date) -> Check | None:
        seen = self._checks.get(stay.paddock_uid, [])
        return next((check for check in reversed(seen) if stay.in_on <= check.checked_on <= day), None)

    def _take_checks(self, first: date) -> None:
        rows, self._checks_from = from_day(self.farm.checks, first)
        self._checks = {}
        for check in sorted(rows, key=lambda check: check.checked_on):  # of one day as they went in
            self._checks.setdefault(check.paddock_uid, []).append(check)

    def lasting(self, group_uid: str) -> list[Lasting]:
        """Return a group's stays as they really lie in time, earliest first."""
        return self._lasting.get(group_uid, [])

    def moves(self, group_uid: str) -> tuple[PlannedMove, ...]:
        """Return a group's moves, earliest first; a group that comes to its first paddock does not move."""
        if group_uid not in self._moves:
            self._moves[group_uid] = tuple(
                PlannedMove(after.first, before.stay, after.stay)
                for before, after in pairwise(self._lasting.get(group_uid, []))
                if before.stay.paddock_uid != after.stay.paddock_uid
            )
        return self._moves[group_uid]

    def moves_on(self, group_uid: str, day: date) -> bool:
        """Return whether a group moves on a day."""
        moves = self.moves(group_uid)
        at = bisect_left(moves, day, key=_move_day)
        return at < len(moves) and moves[at].day == day

    def following(self, stay: Stay) -> Stay | None:
        """Return the stay that begins on the day on which this one ends, of the same group."""
        return next(
            (
                other
                for other in self.stays(stay.group_uid)
                if other.uid != stay.uid and stay.out_on is not None and other.in_on == stay.out_on
            ),
            None,
        )

    def field_of(self, paddock: Paddock | None) -> Field | None:
        """Return the field that a paddock lies in, if it lies in one."""
        return self.farm.fields.get(paddock.field_uid or "") if paddock else None

    def paddock_of(self, stay: Stay | None) -> Paddock | None:
        """Return the paddock of a stay; it may have been removed since."""
        return self.farm.paddocks.get(stay.paddock_uid) if stay else None


def _first_day(each: Lasting) -> date:
    return each.first


def _move_day(move: PlannedMove) -> date:
    return move.day


_last: Book | None = None


def book_of(farm: Farm, today: date = AS_PLANNED) -> Book:
    """Return the book of a farm as it is seen on a day; the last one is kept, since every panel asks for it."""
    global _last
    if _last is None or _last.farm is not farm or _last.today != today:
        _last = Book(farm, today)
    return _last


def short_name(name: str, field: Field | None) -> str:
    """Return a paddock's name without that of its field before it.

    Examples
    --------
    >>> short_name("Long Field 8", None)
    '8'
    >>> short_name("By the oak", None)
    'By the oak'
    """
    if field is not None and name.startswith(field.name):
        return name[len(field.name) :].strip() or name
    last = name.rsplit(" ", 1)[-1]
    return last if last[:1].isdigit() else name
