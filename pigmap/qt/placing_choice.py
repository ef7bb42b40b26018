"""What is to be placed: kind of net, sides in whole nets, direction, group, day, and what the ghost snaps to."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from PySide6.QtCore import QObject, Signal

from pigmap.records import Farm, NetKind
from pigmap.records.frozen import dataclass
from pigmap.records.side_nets import SideNets

MOST_NETS = 20
"""Nets on one side of a paddock that the steppers go up to."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One state of the tray; frozen, so that a gesture can keep the one it began with."""

    kind_uid: str = ""
    """Kind of net; empty until there is one."""
    nets_long: int = 1
    nets_wide: int = 1
    side_nets: tuple[SideNets, ...] = ()
    """Nets of its four sides, the long one first, where they are of more than one kind."""
    free: bool = False
    """Whether its corners are set one by one, instead of a rectangle of whole nets."""
    reshape_uid: str = ""
    """The planned paddock whose corners are dragged; empty while a new one is placed."""
    turned_deg: float | None = None
    """Direction of the long side, anticlockwise from east [degrees]; None follows the field's own direction."""
    group_uid: str = ""
    """Group that a stay is planned for; empty to place a paddock alone."""
    in_on: date | None = None
    """Day on which the group goes in; None for the day that is shown."""
    snap_side: bool = True
    """Whether the ghost snaps to a side that stands or is planned."""
    snap_fence: bool = True
    """Whether it snaps to permanent fences."""
    snap_edge: bool = True
    """Whether it snaps to the edge of the field."""

    @property
    def by_corners(self) -> bool:
        """Whether single corners are worked on."""
        return self.free or bool(self.reshape_uid)


class PlacingChoice(QObject):
    """What the tray and the placing tool share: either changes it, both follow it."""

    changed = Signal()
    asked = Signal(str)
    """What the next click is to do: ``row`` fills a row from there, ``again`` takes the old paddock there."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._choice = Choice()

    @property
    def choice(self) -> Choice:
        """The state as it is now."""
        return self._choice

    def choose(self, **changes: Any) -> None:
        """Change attributes of the choice by name; numbers of nets are kept between 1 and `MOST_NETS`."""
        for side in ("nets_long", "nets_wide"):
            if side in changes:
                changes[side] = min(max(1, int(changes[side])), MOST_NETS)
        if changes.get("turned_deg") is not None:
            changes["turned_deg"] = float(changes["turned_deg"]) % 180.0
        chosen = replace(self._choice, **changes)
        if chosen != self._choice:
            self._choice = chosen
            self.changed.emit()

    def fit(self, farm: Farm) -> None:
        """Choose the first kind of net and the first group where what was chosen is not on this farm any more."""
        changes: dict[str, Any] = {}
        if self._choice.kind_uid not in farm.net_kinds:
            changes["kind_uid"] = next(iter(farm.net_kinds), "")
        open_groups = [uid for uid, group in farm.groups.items() if group.closed_on is None]
        if self._choice.group_uid and self._choice.group_uid not in open_groups:
            changes["group_uid"] = ""
        if any(uid not in farm.net_kinds for side in self._choice.side_nets for uid, _ in side):
            changes["side_nets"] = ()
        if changes:
            self.choose(**changes)

    def kind(self, farm: Farm) -> NetKind | None:
        """Return the chosen kind of net as this farm has it."""
        return farm.net_kinds.get(self._choice.kind_uid)

    def next_kind(self, farm: Farm) -> None:
        """Go on to the next kind of net; after the last comes the first."""
        uids = list(farm.net_kinds)
        if uids:
            at = uids.index(self._choice.kind_uid) if self._choice.kind_uid in uids else -1
            self.choose(kind_uid=uids[(at + 1) % len(uids)])

    @property
    def mixed(self) -> bool:
        """Whether its sides are of more than one kind of net."""
        return bool(self._choice.side_nets)

    def mix(self, on: bool) -> None:
        """Begin to say of each side which nets it has, with those that it has now; or have all of the chosen kind."""
        now = self._choice
        if on and not now.side_nets and now.kind_uid:
            self.choose(side_nets=(((now.kind_uid, now.nets_long),), ((now.kind_uid, now.nets_wide),)) * 2)
        elif not on and now.side_nets:
            long, wide = (self.count(now.kind_uid, wide=wide) for wide in (False, True))
            self.choose(side_nets=(), nets_long=long or 1, nets_wide=wide or 1)

    def count(self, kind_uid: str, *, wide: bool) -> int:
        """Return how many nets of a kind a long or a wide side has."""
        if not self.mixed:
            return (self.nets_wide if wide else self.nets_long) if kind_uid == self.kind_uid else 0
        return sum(nets for uid, nets in self._choice.side_nets[int(wide)] if uid == kind_uid)

    def step(self, kind_uid: str, by: int, *, wide: bool) -> None:
        """Take nets of a kind to a side and to the one across from it, or away; a side keeps one net at least."""
        if not self.mixed:
            side = "nets_wide" if wide else "nets_long"
            self.choose(**{side: getattr(self._choice, side) + by})
            return
        counts = dict(self._choice.side_nets[int(wide)])
        counts[kind_uid] = max(counts.get(kind_uid, 0) + by, 0)
        side_nets = tuple((uid, nets) for uid, nets in counts.items() if nets)
        if side_nets and sum(counts.values()) <= MOST_NETS:
            self.tell_side(side_nets, side_nets, wide=wide)

    def tell_side(self, nets: SideNets, across: SideNets, *, wide: bool) -> None:
        """Take the nets of a long or a wide side, and of the one across from it; both must be of one length."""
        self.mix(True)
        sides = [*self._choice.side_nets]
        sides[int(wide)], sides[int(wide) + 2] = nets, across
        self.choose(side_nets=tuple(sides))

    @property
    def kind_uid(self) -> str:
        """Kind of net; empty until there is one."""
        return self._choice.kind_uid

    @property
    def nets_long(self) -> int:
        """Nets on the long side."""
        return self._choice.nets_long

    @property
    def nets_wide(self) -> int:
        """Nets on the other side."""
        return self._choice.nets_wide

    @property
    def turned_deg(self) -> float | None:
        """Direction of the long side [degrees]; None follows the field."""
        return self._choice.turned_deg

    @property
    def group_uid(self) -> str:
        """Group that a stay is planned for, or empty."""
        return self._choice.group_uid

    @property
    def in_on(self) -> date | None:
        """Day on which the group goes in; None for the day that is shown."""
        return self._choice.in_on
