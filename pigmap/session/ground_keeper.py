"""Keeps the ground of every field that is looked at prepared for the farm as it is now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from pigmap.ground import FieldGround, GroundState, Known, prepare
from pigmap.ground.cursor import Cursor
from pigmap.records import AS_PLANNED, Farm
from pigmap.session.ground_changes import touched_fields
from pigmap.session.ground_worker import GroundWorker
from pigmap.session.writer import Published


class Publisher(Protocol):
    """What the keeper needs of a session."""

    @property
    def farm(self) -> Farm:
        """The farm as it was last published."""
        ...

    @property
    def post(self) -> Callable[[Callable[[], None]], None] | None:
        """Brings a function to the thread on which the farm is shown; None where everything works in line."""
        ...

    def listen(self, fn: Callable[[Published], None], *, first: bool = False) -> Callable[[], None]:
        """Call a function with every new state of the farm."""
        ...


@dataclass(slots=True, eq=False)
class _Kept:
    """The ground of one field, and how often it became another."""

    version: int = 0
    ground: FieldGround | None = None
    cursor: Cursor | None = None
    state: GroundState | None = None


class GroundKeeper:
    """The state of the ground of every field on any day.

    In a session that works in line the ground is computed when it is asked for. In one with a window a thread computes
    it; until it is there `state` answers None, and listeners are told with the uid of the field once it is. What was
    computed for a farm that is no longer shown is dropped.
    """

    def __init__(self, session: Publisher) -> None:
        self._session = session
        self._farm = session.farm
        self._today = AS_PLANNED
        self._kept: dict[str, _Kept] = {}
        self._known = Known()
        self._listeners: list[Callable[[str], None]] = []
        self._worker: GroundWorker[FieldGround] | None = (
            GroundWorker(session.post, self._arrived) if session.post is not None else None
        )
        self._unlisten = session.listen(self._published, first=True)

    def state(self, field_uid: str, day: date, today: date = AS_PLANNED) -> GroundState | None:
        """Return the ground of a field at the start of a day; None while it is computed, and for a field unknown.

        Up to `today` only what is recorded counts.
        """
        self._stand_on(today)
        if field_uid not in self._farm.fields:
            return None
        kept = self._kept.setdefault(field_uid, _Kept())
        if kept.ground is None:
            self._want(field_uid, kept)
        if kept.cursor is None:
            return None
        if kept.state is None or kept.state.day != day:
            kept.state = kept.cursor.move_to(day)
        return kept.state

    def listen(self, fn: Callable[[str], None]) -> Callable[[], None]:
        """Call a function with the uid of every field whose ground is there anew; returns what ends that."""
        self._listeners.append(fn)

        def unlisten() -> None:
            if fn in self._listeners:
                self._listeners.remove(fn)

        return unlisten

    def settle(self) -> None:
        """Wait until all ground that was asked for is there; on the thread on which the farm is shown."""
        if self._worker is not None:
            self._worker.settle()

    def close(self) -> None:
        """Stop computing."""
        self._unlisten()
        if self._worker is not None:
            self._worker.close()

    def _stand_on(self, today: date) -> None:
        """Compute anew what a new day makes of pigs that are still there and of plans that did not begin."""
        if today != self._today:
            self._today = today
            for uid in tuple(self._kept):
                self._forget(uid)

    def _want(self, field_uid: str, kept: _Kept) -> None:
        farm, known, today = self._farm, self._known, self._today
        if self._worker is None:
            self._take(kept, prepare(farm, field_uid, today=today, known=known))
        else:
            self._worker.want(
                field_uid, kept.version, lambda stop: prepare(farm, field_uid, today=today, stop=stop, known=known)
            )

    def _published(self, published: Published) -> None:
        before, self._farm = self._farm, published.farm
        touched = touched_fields(before, self._farm, published.changes)
        for uid in touched & self._kept.keys():
            self._forget(uid)
        if self._worker is None:
            for uid in sorted(touched & self._farm.fields.keys()):
                self._tell(uid)

    def _forget(self, uid: str) -> None:
        kept = self._kept[uid]
        kept.version += 1
        kept.ground = kept.cursor = kept.state = None
        if uid not in self._farm.fields:
            del self._kept[uid]
        if self._worker is not None:
            self._worker.forget(uid)
            if uid in self._kept:
                self._want(uid, kept)

    def _arrived(self, field_uid: str, version: int, ground: FieldGround) -> None:
        kept = self._kept.get(field_uid)
        if kept is not None and kept.version == version and kept.ground is None:
            self._take(kept, ground)
            self._tell(field_uid)

    @staticmethod
    def _take(kept: _Kept, ground: FieldGround) -> None:
        kept.ground, kept.cursor, kept.state = ground, ground.cursor(), None

    def _tell(self, field_uid: str) -> None:
        for fn in tuple(self._listeners):
            fn(field_uid)
