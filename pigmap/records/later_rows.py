"""The rows of a large table, the newest of which are there at once: the others are read when they are asked for."""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, ItemsView, Iterator, KeysView, Mapping, ValuesView
from datetime import date
from typing import Any, TypeVar

R = TypeVar("R")
MOST_HELD_S = 10.0
"""So long at most another thread waits for `begin` before it reads [s]."""


class LaterRows(Mapping[str, R]):
    """Rows by uid that nobody changes; whoever goes through them waits until all are read.

    What they tell is the same whether they are read or not: only the moment at which it is known differs. So that the
    first picture comes soon, other threads than that of the window begin to read only after `begin`.

    Parameters
    ----------
    newest
        Those of `since` and later, in order.
    since
        Their first day.
    read
        Reads all of them; called once, on the thread that asks first.
    """

    __slots__ = ("_begin", "_lock", "_newest", "_read", "_refused", "_rows", "since")

    def __init__(self, newest: Mapping[str, R], since: date, read: Callable[[], dict[str, R]]) -> None:
        self._newest, self.since, self._read = newest, since, read
        self._rows: dict[str, R] | None = None
        self._refused: Exception | None = None
        self._lock = threading.Lock()
        self._begin = threading.Event()

    @property
    def are_read(self) -> bool:
        """Whether nobody has to wait any more."""
        return self._rows is not None

    @property
    def refused(self) -> Exception | None:
        """Why they cannot be read; None as long as nothing speaks against it."""
        return self._refused

    def all(self) -> dict[str, R]:
        """Return all the rows, reading them where they are not read yet.

        Raises
        ------
        StoreError
            If they cannot be read; then it is the same each time, since the file may hold others by now.
        """
        if self._rows is None:
            if threading.current_thread() is threading.main_thread():
                self._begin.set()
            with self._lock:
                if self._refused is not None:
                    raise self._refused
                if self._rows is None:
                    self._read_now()
        assert self._rows is not None
        return self._rows

    def _read_now(self) -> None:
        self._begin.wait(MOST_HELD_S)
        try:
            self._rows = self._read()
        except Exception as refused:
            self._refused = refused
            raise

    def begin(self) -> None:
        """Let other threads begin to read: what comes first is shown."""
        self._begin.set()

    def give_up(self, why: Exception) -> None:
        """Read nothing any more, for a reason."""
        self._begin.set()
        with self._lock:
            if self._rows is None and self._refused is None:
                self._refused = why

    def from_day(self, first: date) -> tuple[Collection[R], date]:
        """Return at least the rows of a day and later, and the day from which on none of them is lacking."""
        if self._rows is None and first >= self.since:
            return self._newest.values(), self.since
        return self.all().values(), date.min

    def __getitem__(self, uid: str) -> R:
        return self.all()[uid]

    def __iter__(self) -> Iterator[str]:
        return iter(self.all())

    def __len__(self) -> int:
        return len(self.all())

    def __contains__(self, uid: object) -> bool:
        return uid in self.all()

    def keys(self) -> KeysView[str]:
        """Return the uids."""
        return self.all().keys()

    def values(self) -> ValuesView[R]:
        """Return the rows."""
        return self.all().values()

    def items(self) -> ItemsView[str, R]:
        """Return the rows with their uids."""
        return self.all().items()

    def copy(self) -> dict[str, R]:
        """Return them as a dictionary of one's own."""
        return self.all().copy()

    def __reversed__(self) -> Iterator[str]:
        return reversed(self.all())

    def __or__(self, other: Mapping[str, R]) -> dict[str, R]:
        return {**self.all(), **other}

    def __ror__(self, other: Mapping[str, R]) -> dict[str, R]:
        return {**other, **self.all()}

    def __reduce__(self) -> tuple[Any, ...]:
        return dict, (self.all(),)

    def __repr__(self) -> str:
        return repr(self.all())


def from_day(rows: Mapping[str, R], first: date) -> tuple[Collection[R], date]:
    """Return at least the rows of a day and later, and the day from which on none of them is lacking.

    It waits only where those days are not read yet. Rows of earlier days may be among them.
    """
    if isinstance(rows, LaterRows):
        return rows.from_day(first)
    return rows.values(), date.min


def are_read(rows: Mapping[str, R]) -> bool:
    """Whether nobody has to wait for any of the rows."""
    return not isinstance(rows, LaterRows) or rows.are_read


def refusal(rows: Mapping[str, R]) -> Exception | None:
    """Return why rows cannot be read; None as long as nothing speaks against it."""
    return rows.refused if isinstance(rows, LaterRows) else None
