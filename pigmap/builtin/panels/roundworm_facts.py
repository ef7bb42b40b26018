"""Whether pigs were on some ground while eggs of roundworm live there: another thing than the rest of grass."""

from __future__ import annotations

from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.animals import sources
from pigmap.animals.health import ROUNDWORM_YEARS, pigs_within
from pigmap.animals.health_words import roundworm_words
from pigmap.builtin.panels.card_facts import Fact
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Stage
from pigmap.qt.why import why
from pigmap.text.source import OWN_RECORDS


def roundworm_fact(stage: Stage, ground: BaseGeometry, before: date) -> Fact:
    """Return when pigs were last on some ground before a day; never that it is free of anything."""
    found = pigs_within(stage.session.farm, ground, before)
    reason = why(stage, roundworm_words(found), OWN_RECORDS, sources.ROUNDWORM)
    label = stage.say("Pigs before")
    if found.within and found.last_on is not None:
        last = day_words(found.last_on, "short year", language=stage.language)
        return Fact(label, last, stage.say("roundworm may be there"), reason)
    if found.all_known:
        return Fact(label, stage.say("not within {years} years", years=ROUNDWORM_YEARS), why=reason)
    return Fact(label, stage.say("not known"), stage.say("for {years} years back", years=ROUNDWORM_YEARS), reason)
