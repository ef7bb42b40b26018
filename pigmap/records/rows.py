"""The rows of one table at one revision: an earlier revision's rows, with few changes laid over them."""

from __future__ import annotations

from collections.abc import ItemsView, Iterable, Iterator, KeysView, Mapping, ValuesView
from typing import Any, TypeVar, cast

R = TypeVar("R")
MOST_OVER = 1000
"""So many changes are laid over rows before a whole table is made of them."""


class ChangedRows(Mapping[str, R]):
    """Rows by uid that nobody changes; the next revision shares what it has not changed.

    Copying a table of half a million rows for each edit would take longer than the edit. All the rows are put
    together where someone goes through them.
    """

    __slots__ = ("_base", "_gone", "_over", "_whole")

    def __init__(self, base: Mapping[str, R], over: Mapping[str, R], gone: frozenset[str]) -> None:
        self._base, self._over, self._gone = base, over, gone
        self._whole: dict[str, R] | None = None

    @classmethod
    def after(cls, rows: Mapping[str, R], changes: Iterable[tuple[str, R | None]]) -> ChangedRows[R]:
        """Return rows with others put in or changed, and those removed for which there is None, one after another."""
        base, over, gone = rows, dict[str, R](), frozenset[str]()
        if isinstance(rows, ChangedRows):
            base, over, gone = rows._parts()
        removed = set(gone)
        for uid, row in changes:
            if row is not None:
                over[uid] = row
                continue
            over.pop(uid, None)
            if uid in base:
                removed.add(uid)
        return cls(base, over, frozenset(removed))

    def _parts(self) -> tuple[Mapping[str, R], dict[str, R], frozenset[str]]:
        if self._whole is not None or len(self._over) + len(self._gone) > MOST_OVER:
            return self._rows(), {}, frozenset()
        return self._base, dict(self._over), self._gone

    def _rows(self) -> dict[str, R]:
        if self._whole is None:
            whole = cast("dict[str, R]", cast(Any, self._base).copy())  # far sooner done than dict(...)
            for uid in self._gone:
                whole.pop(uid, None)
            whole.update(self._over)
            self._whole = whole
        return self._whole

    def __getitem__(self, uid: str) -> R:
        if self._whole is not None:
            return self._whole[uid]
        if uid in self._over:
            return self._over[uid]
        if uid in self._gone:
            raise KeyError(uid)
        return self._base[uid]

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows())

    def __len__(self) -> int:
        return len(self._rows())

    def __contains__(self, uid: object) -> bool:
        return uid in self._over or (uid not in self._gone and uid in self._base)

    def keys(self) -> KeysView[str]:
        """Return the uids."""
        return self._rows().keys()

    def values(self) -> ValuesView[R]:
        """Return the rows."""
        return self._rows().values()

    def items(self) -> ItemsView[str, R]:
        """Return the rows with their uids."""
        return self._rows().items()

    def copy(self) -> dict[str, R]:
        """Return them as a dictionary of one's own."""
        return self._rows().copy()

    def __reversed__(self) -> Iterator[str]:
        return reversed(self._rows())

    def __or__(self, other: Mapping[str, R]) -> dict[str, R]:
        return {**self._rows(), **other}

    def __ror__(self, other: Mapping[str, R]) -> dict[str, R]:
        return {**other, **self._rows()}

    def __eq__(self, other: object) -> bool:
        if isinstance(other, ChangedRows):
            return self._rows() == other._rows()
        return bool(self._rows() == other)

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return repr(self._rows())
