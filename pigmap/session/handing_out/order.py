"""Rows by their names as a person counts them: paddock 9 stands before paddock 10."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeVar

from pigmap.records import Record

R = TypeVar("R", bound=Record)

Key = tuple[tuple[bool, int, str], ...]
_LONGEST_NUMBER = 18


def in_order(rows: Iterable[R]) -> list[R]:
    """Return rows by name, numbers in them by their size; those of one name by uid."""
    return sorted(rows, key=lambda row: (counted(str(getattr(row, "name", ""))), row.uid))


def counted(name: str) -> Key:
    """Return what names are ordered by.

    Examples
    --------
    >>> sorted(["Ley 10", "Ley 9", "Ash"], key=counted)
    ['Ash', 'Ley 9', 'Ley 10']
    """
    parts = re.split(r"([0-9]+)", name.casefold())
    return tuple(
        (False, int(part), "") if part.isdecimal() and len(part) <= _LONGEST_NUMBER else (True, 0, part)
        for part in parts
        if part
    )
