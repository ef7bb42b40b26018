"""The keeper's own days as they are typed, and as they are listed."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.builtin.panels.card_parts import month_day_words
from pigmap.builtin.panels.purpose_typed import typed_month_day
from pigmap.builtin.panels.purpose_words import USE_WORDS
from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import remove
from pigmap.document.edits.own_days import say_days
from pigmap.errors import EditError
from pigmap.ground.lasts_words import typed_days as days_in_words
from pigmap.qt.stage import Stage
from pigmap.records import Edit, OwnDays, Use
from pigmap.text import Text

LEAST_DAYS, MOST_DAYS = 0.25, 366.0


class OwnDaysTyped(NamedTuple):
    """What is in the lines and lists."""

    days: str
    purpose: Use | None = None
    first: str = ""
    last: str = ""

    def edit(self, group_uid: str, uid: str, language: str) -> Edit:
        """Return the edit that says the days, or takes the row of `uid` out where the days are empty.

        Raises
        ------
        EditError
            If a value is none, or cannot be.
        """
        if not self.days.strip():
            if not uid:
                raise EditError("No days are typed.", remedy="Type how many days a paddock lasts them, such as 5.")
            return Edit(Text("Own days taken out."), remove("own_days", uid).changes)
        first, last = (typed_month_day(each, language) if each.strip() else None for each in (self.first, self.last))
        if (first is None) != (last is None):
            raise EditError(
                "A part of the year has one day only.",
                remedy="Type its first and its last day, such as 1 Nov and 31 Mar, or leave both empty.",
            )
        return say_days(
            typed_days(self.days),
            group_uid=group_uid,
            purpose=self.purpose,
            from_month_day=first,
            to_month_day=last,
            uid=uid,
        )


def typed_days(typed: str) -> float:
    """Return the days that were typed, in quarters of a day and more.

    Raises
    ------
    EditError
        If it is no number, or no paddock lasts so long.

    Examples
    --------
    >>> typed_days(" 3,5 ")
    3.5
    """
    days = number(Text("The days a paddock lasts"), typed, "5")
    if LEAST_DAYS <= days <= MOST_DAYS:
        return days
    raise EditError(
        "A paddock lasts {typed} days.",
        remedy="Give a number from {least} to {most}.",
        typed=typed.strip(),
        least=f"{LEAST_DAYS:g}",
        most=f"{MOST_DAYS:g}",
    )


def own_days_words(stage: Stage, own: OwnDays) -> str:
    """Return one row in words: '4 days; turn over; 1 Nov to 31 Mar'."""
    parts = [stage.words(Text("{days}", {"days": days_in_words(own.days)}))]
    if own.purpose is not None:
        parts.append(stage.words(USE_WORDS[own.purpose]))
    if own.from_month_day is not None and own.to_month_day is not None:
        first, last = month_day_words(stage, own.from_month_day), month_day_words(stage, own.to_month_day)
        parts.append(stage.say("{first} to {last}", first=first, last=last))
    return "; ".join(parts)
