"""Which of the farm's nets stands where: as it is written down, else the one that has been spare longest."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from pigmap.fence.pool import Piece
from pigmap.fence.stand import NEVER, Stand, ordinal_of, when
from pigmap.fence.stands import stands_of
from pigmap.records import Farm, Net
from pigmap.records.damage import Damage, damages


class Identities:
    """The net behind each piece of fence: none is in two places, and none is lost.

    Parameters
    ----------
    farm
        Whose nets.
    pieces
        What stands today and in the plan.
    today
        The day up to which only what is recorded counts.
    """

    def __init__(self, farm: Farm, pieces: Iterable[Piece], today: date) -> None:
        self._stands, self._found = stands_of(farm, pieces, today)
        by_kind: dict[str, list[Stand]] = {}
        for stand in self._stands:
            by_kind.setdefault(stand.kind_uid, []).append(stand)
        for kind_uid, stands in by_kind.items():
            own = [net for net in farm.nets.values() if net.net_kind_uid == kind_uid]
            _Shelf(own, stands, damages(farm)).give()

    def of_piece(self, piece: Piece, day: date) -> str | None:
        """Return the uid of the net that a piece is on a day; None where the farm has none left for it."""
        stand = self._found[piece.use_uids[0]] if piece.use_uids else piece
        found: str | None = None
        for since, uid in stand.holders:
            if since <= day.toordinal():
                found = uid
        return found


class _Shelf:
    """The nets of one kind, given to one stand after the other."""

    def __init__(self, nets: Iterable[Net], stands: list[Stand], damaged: Mapping[str, Sequence[Damage]]) -> None:
        self._nets = {net.uid: net for net in nets}
        self._stands = stands
        self._written: dict[str, list[tuple[int, int]]] = {}
        for stand in stands:
            if stand.net_uid in self._nets:
                self._written.setdefault(stand.net_uid, []).append((stand.begin, stand.end))
        self._spare = deque(net.uid for net in sorted(self._nets.values(), key=lambda net: (net.number, net.uid)))
        self._damaged = {uid: [_damaged(each) for each in damaged[uid]] for uid in self._nets if uid in damaged}
        self._owned = {uid: _owned(net) for uid, net in self._nets.items()}
        self._where: dict[str, Stand] = {}
        self._lacking: dict[int, Stand] = {}

    def give(self) -> None:
        """Have each stand know which net it is."""
        events = [(stand.begin * 2 + 1, number) for number, stand in enumerate(self._stands)]
        events += [(stand.end * 2, number) for number, stand in enumerate(self._stands) if stand.end < NEVER]
        for moment, number in sorted(events):
            stand = self._stands[number]
            if moment & 1:
                self._begin(stand, moment >> 1)
            elif stand.holders:
                self._end(stand, moment >> 1)

    def _begin(self, stand: Stand, now: int) -> None:
        if stand.end <= now:
            return
        uid = stand.net_uid if stand.net_uid in self._nets else None
        if uid is None:
            self._hold(stand, self._next(stand, now), now)
            return
        if uid in self._spare:
            self._spare.remove(uid)
        before = self._where.pop(uid, None)
        self._hold(stand, uid, now)
        if before is not None:  # what was written down last counts: another net must stand where it stood before
            self._hold(before, self._next(before, now), now)

    def _end(self, stand: Stand, now: int) -> None:
        uid = stand.holders[-1][1]
        self._lacking.pop(id(stand), None)
        if uid is None or self._where.get(uid) is not stand:
            return
        del self._where[uid]
        self._spare.append(uid)
        for lacking in list(self._lacking.values()):
            found = self._next(lacking, now)
            if found is None:
                break
            self._hold(lacking, found, now)

    def _hold(self, stand: Stand, uid: str | None, now: int) -> None:
        stand.holders += ((ordinal_of(now), uid),)
        if uid is None:
            self._lacking[id(stand)] = stand
        else:
            self._lacking.pop(id(stand), None)
            self._where[uid] = stand

    def _next(self, stand: Stand, now: int) -> str | None:
        """Return the net that has been spare longest, owned and in good order as long as it is to stand.

        It is taken off the shelf.
        """
        for at, uid in enumerate(self._spare):
            first, last = self._owned[uid]
            if not (first <= now and stand.end <= last) or _met(self._damaged.get(uid, ()), now, stand.end):
                continue
            if not (self._written and _met(self._written.get(uid, ()), now, stand.end)):
                del self._spare[at]
                return uid
        return None


def _met(times: Iterable[tuple[int, int]], begin: int, end: int) -> bool:
    """Whether some of the times go on between two moments."""
    return any(begin < other_end and other < end for other, other_end in times)


def _owned(net: Net) -> tuple[int, int]:
    """Return from when to when a net is owned: its day in use begins before all else of that day."""
    first = when(net.first_used_on, 0) if net.first_used_on is not None else 0
    return first, when(net.retired_on, 0) if net.retired_on is not None else NEVER


def _damaged(damage: Damage) -> tuple[int, int]:
    """Return from when to when a net is damaged: it is out, and back, before all else of that day."""
    first = when(damage.first, 0) if damage.first is not None else 0
    return first, when(damage.mended_on, 0) if damage.mended_on is not None else NEVER
