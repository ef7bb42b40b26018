"""Which breaches were known when a stay was planned all the same, and the reason that was given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.planning.rule import Breach
from pigmap.records import Farm, Stay
from pigmap.text import Text


def all_the_same(why: str) -> Text:
    """Return the sentence that says with which reason something was placed in spite of what is against it."""
    return Text("Placed all the same: {why}.", {"why": why.strip().rstrip(".")})


def with_reasons(farm: Farm, breaches: Sequence[Breach]) -> tuple[Breach, ...]:
    """Return breaches with the reason given for each, in the same order; one without a reason stays as it is.

    A reason is taken to be for the ground where the ground of the stay is in breach, and for the rest (nets that are
    short, another group) only where it is not: what came up after a pond was overridden is not covered by its reason.
    """
    on_bad_ground = {
        uid for each in breaches if each.table == Stay.TABLE and each.reason_helps == "ground" for uid in _rows(each)
    }
    return tuple(_with_reason(farm, each, on_bad_ground) for each in breaches)


def _rows(breach: Breach) -> tuple[str, ...]:
    return breach.uid, *breach.also


def _with_reason(farm: Farm, breach: Breach, on_bad_ground: set[str]) -> Breach:
    reasons = (stay.why_planned for uid in _excused(breach, on_bad_ground) if (stay := farm.stays.get(uid)) is not None)
    why = next((reason for reason in reasons if reason), "")
    return breach if breach.accepted == why else replace(breach, accepted=why)


def _excused(breach: Breach, on_bad_ground: set[str]) -> tuple[str, ...]:
    """Return the stays whose reason holds for a breach."""
    if breach.table != Stay.TABLE or breach.reason_helps == "never":
        return ()
    if breach.reason_helps == "ground":
        return _rows(breach)  # the same ground: a reason for one stay holds for the others
    return () if breach.uid in on_bad_ground else (breach.uid,)
