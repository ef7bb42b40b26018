"""What was read at a fence, the volts it should read at its far end, and why the two may part."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import shapely

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.group_words import reading_words
from pigmap.fence.electric.cause import Cause, too_little
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.of_check import cause_of
from pigmap.fence.electric.of_paddock import PaddockFence, fence_of
from pigmap.qt.stage import Stage
from pigmap.qt.volts_why import volts_why
from pigmap.qt.whereabouts import Book, book_of
from pigmap.qt.why import Why, joined, why
from pigmap.records import Check, Paddock, Stay, StayState
from pigmap.text import Text
from pigmap.text.source import METER_DECIDES, OWN_RECORDS


def last_check(stage: Stage, stay: Stay | None) -> Check | None:
    """Return the last daily check of a stay up to the day that is shown."""
    if stay is None:
        return None
    return book_of(stage.session.farm, stage.today).last_check(stay, stage.day)


def check_facts(stage: Stage, check: Check | None, cause: Cause | None) -> tuple[Fact, ...]:
    """Return the row with what was read last; where that is not what it should be, it says so."""
    if check is None:
        return ()
    beside = stage.say("by {who}", who=check.seen_by) if check.seen_by else ""
    reason = _check_why(stage, check)
    if cause is not None:
        beside = stage.words(cause.judged)
        reason = joined(reason, why(stage, cause.both, METER_DECIDES))
    return (Fact(stage.say("Checked"), reading_words(stage, check), beside, reason),)


def _check_why(stage: Stage, check: Check) -> Why:
    words = "The daily check of {on}, the last of this stay up to {day}."
    return why(stage, Text(words, {"on": check.checked_on, "day": stage.day}), OWN_RECORDS)


class Reckoned(NamedTuple):
    """The fence of a paddock, and what it should read."""

    fence: PaddockFence
    should: Expected


def reckoned(stage: Stage, book: Book, paddock: Paddock, stay: Stay | None) -> Reckoned | None:
    """Return the fence of a paddock that stands or is to stand; worked out once for a farm and a day.

    None where the stay is over, or where nothing tells what feeds the fence, or what that gives.
    """
    if stay is None:
        return _kept(book, paddock.uid, paddock.outline, "", stage.day)
    if stay.state is StayState.PAST:
        return None
    day = max(stage.day, stay.in_on) if stay.state is StayState.PLANNED else stage.day
    return _kept(book, paddock.uid, stay.ground, stay.group_uid, day)


def _kept(book: Book, paddock_uid: str, ground: shapely.Polygon, group_uid: str, day: date) -> Reckoned | None:
    key = (f"volts of {paddock_uid} for {group_uid}", day.isoformat())
    if key not in book.kept:
        fence = fence_of(book.farm, paddock_uid, ground, group_uid, day, today=book.today)
        book.kept[key] = Reckoned(fence, fence.expected) if fence is not None else None
    found = book.kept[key]
    return found if isinstance(found, Reckoned) else None


def volts_facts(stage: Stage, found: Reckoned | None) -> tuple[Fact, ...]:
    """Return the row with the volts at the far end, none where they are not known."""
    if found is None:
        return ()
    figure = stage.say("about {volts} if mown", volts=found.should.mown.words)
    beside = stage.say("computed; {volts} in long grass", volts=found.should.grown.words)
    return (Fact(stage.say("Far end"), figure, beside, volts_why(stage, found.fence, found.should)),)


def why_read(stage: Stage, found: Reckoned | None, stay: Stay | None, check: Check | None) -> Cause | None:
    """Return why the last reading may be other than it should, or that it is too little; None where it is right."""
    if stay is None or stay.state is not StayState.RUNNING or check is None or check.fence_kv is None:
        return None
    farm, soil = stage.session.farm, check.soil_on_net
    cause = None
    if found is not None:
        cause = cause_of(farm, found.fence, found.should, check.fence_kv, stage.day, soil_on_net=soil)
    return cause or too_little(check.fence_kv)


def volts_warnings(stage: Stage, found: Reckoned | None, cause: Cause | None) -> tuple[str, ...]:
    """Return what a reading is likely due to and what to look at first; else that the fence is weak by itself.

    That a reading is too little, whatever feeds the fence, is told by the rule on the power of fences.
    """
    if found is None:
        return ()
    said = cause.both if cause is not None else found.should.weak
    return (stage.words(said),) if said is not None else ()
