"""One net in one place, from a moment to a moment."""

from __future__ import annotations

from datetime import date

NEVER = 1 << 62
"""Later than all that happens."""


def when(day: date, what: int, step: int = 0) -> int:
    """Return a number that rises with time.

    On one day comes first what is recorded as taken up, then as set, then what the plan does, step by step.
    """
    return (day.toordinal() << 36) + (what << 34) + step


def ordinal_of(moment: int) -> int:
    """Return the ordinal of the day of a moment."""
    return moment >> 36


class Stand:
    """One net in one place."""

    __slots__ = ("begin", "end", "holders", "kind_uid", "net_uid")

    def __init__(self, kind_uid: str, net_uid: str | None, begin: int, end: int) -> None:
        self.kind_uid = kind_uid
        self.net_uid = net_uid
        """Which net, where someone wrote that down."""
        self.begin, self.end = begin, end
        self.holders: tuple[tuple[int, str | None], ...] = ()
        """Which net it is from which day on, by its ordinal; None where there is none left for it."""
