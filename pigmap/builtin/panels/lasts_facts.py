"""How long the paddock of a group lasts it, and what a winter takes, in rows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.card_parts import month_day_words
from pigmap.ground.lasts import HowLong, Start, Until, how_long
from pigmap.ground.lasts_words import (
    days_of,
    first_words,
    keeper_words,
    leads_words,
    nitrogen_words,
    own_pace_words,
    rooting_words,
    typed_days,
)
from pigmap.ground.winter import winter_use, winter_words
from pigmap.qt.lasts_why import said_why
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import book_of
from pigmap.qt.why import Why, joined, why
from pigmap.records import Field, Group, Stay
from pigmap.records.keepers_days import USUAL_DAYS
from pigmap.text import Quantity, Text
from pigmap.text.source import OUR_FIT, OWN_RECORDS


def lasts_facts(stage: Stage, group: Group) -> list[Fact]:
    """Return how long the paddock lasts in which a group is on the shown day; nothing where it is nowhere."""
    there = _there(stage, group)
    found = paddock_lasts(stage, group)
    if there is None or found is None:
        return []
    return [*_lasts(stage, found), *_winter(stage, group, there[1], found.area_m2)]


def paddock_lasts(stage: Stage, group: Group) -> HowLong | None:
    """Return how long that paddock lasts from the day on which they came; None where the group is nowhere."""
    there = _there(stage, group)
    if there is None:
        return None
    stay, field = there
    area = stay.ground.area * stage.session.farm.projection.ground_per_grid**2
    return how_long(stage.session.farm, group.uid, field, area, stay.in_on, _start(stage, stay, field))


def _there(stage: Stage, group: Group) -> tuple[Stay, Field] | None:
    book = book_of(stage.session.farm, stage.today)
    stay = book.whereabouts(group, stage.day).stay
    paddock = book.paddock_of(stay)
    field = stage.session.farm.fields.get(paddock.field_uid or "") if paddock is not None else None
    return (stay, field) if stay is not None and field is not None else None


def _start(stage: Stage, stay: Stay, field: Field) -> Start:
    """Return the ground as the group found it."""
    state = stage.session.ground.state(field.uid, stage.day, stage.today)
    before = state.ground.on(stay.in_on - timedelta(days=1)).under(stay.ground) if state is not None else None
    return Start(before.rooting, before.n_kg_ha) if before is not None else Start()


def _lasts(stage: Stage, found: HowLong) -> list[Fact]:
    """Return the days that lead, and beneath them what rooting and nitrogen would say."""
    keeper, said = found.keeper, found.keeper is not None and found.keeper.said is not None
    lead = _leading(found)
    figure = stage.words(Text("{days}", {"days": typed_days(lead) if said else days_of(lead)}))
    parts = [said_why(stage, keeper_words(keeper))]
    parts += [why(stage, each, OWN_RECORDS) for each in _more_words(found)]
    if keeper is None:
        whose = stage.say("usual")
    else:
        whose = stage.say("your own days") if said else stage.say("as your last stays")
    return [
        Fact(stage.say("A paddock"), figure, whose, joined(*parts)),
        Fact(stage.say("Who leads"), stage.words(leads_words(found)), why=joined(*parts)),
        Fact(stage.say("By rooting"), *_rooting(stage, found), said_why(stage, rooting_words(found))),
        Fact(stage.say("By nitrogen"), _until(stage, found.nitrogen), "", said_why(stage, nitrogen_words(found))),
    ]


def _more_words(found: HowLong) -> list[Text]:
    """Return what comes to its end first, by name, and whether rooting goes by the farm's own pace."""
    said = (first_words(found), own_pace_words(found))
    return [each for each in said if each is not None]


def _leading(found: HowLong) -> float:
    return found.keeper.days if found.keeper is not None else float(USUAL_DAYS)


def _until(stage: Stage, until: Until) -> str:
    if until.days is None:
        return stage.say("no end within a year")
    return stage.words(Text("{days}", {"days": days_of(until.days)})) if until.days else stage.say("past already")


def _rooting(stage: Stage, found: HowLong) -> tuple[str, str]:
    """Return the days until more is rooted than is welcome, and how rough they are."""
    until = found.rooting
    if found.wanted.rooting >= 1.0:
        return stage.say("no end"), stage.say("all may be rooted")
    if not until.days:
        return _until(stage, until), stage.say("rough")
    least = f"{until.least or 0.0:.0f}"
    if until.most is None:
        return _until(stage, until), stage.say("{least} and more, rough", least=least)
    return _until(stage, until), stage.say("{least} to {most}, rough", least=least, most=f"{until.most:.0f}")


def _winter(stage: Stage, group: Group, field: Field, area_m2: float) -> Iterator[Fact]:
    found = winter_use(stage.session.farm, group.uid, field, area_m2, stage.day)
    words = " ".join(stage.words(each) for each in winter_words(found))
    reason = Why(words, "; ".join(stage.words(each) for each in (OWN_RECORDS, OUR_FIT)))
    figure = stage.words(
        Text(
            "{count} paddock, {area}",
            {"area": Quantity(found.area_m2, "m²")},
            plural="{count} paddocks, {area}",
            count=found.paddocks,
        )
    )
    first, last = (month_day_words(stage, f"{day:%m-%d}") for day in (found.first, found.last))
    yield Fact(stage.say("A winter"), figure, stage.say("{first} to {last}", first=first, last=last), reason)
