"""The card of a group: its pigs and their weight, where it is, what was seen there, and where it goes next."""

from __future__ import annotations

from pigmap.animals.weight import live_weight, weight_band
from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.builtin.panels.card_parts import end_of_use, own_deeds
from pigmap.builtin.panels.day_deeds import day_deeds
from pigmap.builtin.panels.energizer_facts import energizer_facts, energizer_of
from pigmap.builtin.panels.group_typed import CLASS_WORDS
from pigmap.builtin.panels.group_words import GroupWords, group_words, mean_weight, reading_words
from pigmap.builtin.panels.happened_facts import happened_cares, happened_facts, held_facts
from pigmap.builtin.panels.took_form import took_deed
from pigmap.drawing.on_day import letter_of
from pigmap.qt.pigs_why import pigs_words, weight_words
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import Whereabouts, book_of
from pigmap.qt.why import Why, why
from pigmap.records import Group, StayState
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OWN_RECORDS
from pigmap.units import shown


def group_card(stage: Stage, group: Group) -> CardFacts:
    """Return the card of a group."""
    from pigmap.builtin.panels.needs_carried import (
        carried_facts,
        drinkers_care,
        empty_care,
    )  # what no card shows takes no time at the start
    from pigmap.builtin.panels.needs_facts import hot_facts

    book = book_of(stage.session.farm, stage.today)
    words, there = group_words(stage, book, group), book.whereabouts(group, stage.day)
    facts = [
        *_pigs(stage, group),
        *held_facts(stage, group),
        *hot_facts(stage, group),
        Fact(stage.say("Where"), words.place, words.day_of, _where_why(stage, words, there)),
    ]
    if there.check is not None:
        facts.append(Fact(stage.say("Checked"), reading_words(stage, there.check), why=_checked_why(stage, there)))
    if words.move_day:
        facts.append(Fact(stage.say("Next"), words.move_day, words.move_to, _next_why(stage, there)))
    facts += [*carried_facts(stage, group), *happened_facts(stage, group)]
    own = energizer_of(stage, group)
    if own is not None:
        facts += energizer_facts(stage, own)
    facts += end_of_use(stage, group.closed_on)
    return CardFacts(
        title=group.name,
        second=stage.say("{breed} pigs", breed=group.breed_type) if group.breed_type else "",
        sign=(group.colour_index, letter_of(group, stage.session.farm)),
        facts=tuple(facts),
        warnings=(*empty_care(stage, group), *words.cares, *drinkers_care(stage, group), *happened_cares(stage, group)),
        deeds=(
            *day_deeds(stage, group),
            *took_deed(stage, group),
            *own_deeds(stage, "needs", "happened", "weigh", "energizer", "rename", "end group"),
        ),
        table="groups",
        uid=group.uid,
        ends_on=group.closed_on,
    )


def _pigs(stage: Stage, group: Group) -> list[Fact]:
    """Return how many pigs there are, and where that is known how heavy."""
    farm, day = stage.session.farm, stage.day
    weight = live_weight(farm, group.uid, day)
    reason = why(stage, pigs_words(farm, group.uid, day), OWN_RECORDS)
    facts = [Fact(stage.say("Pigs"), str(weight.pigs), stage.words(CLASS_WORDS[group.pig_class]), reason)]
    if weight.pigs and weight.mean_kg:
        least, most = weight_band(farm, group.uid, day)
        values: dict[str, Value] = {
            "least": f"{shown(least, 'kg', stage.units).value:.0f}",
            "most": Quantity(most, "kg", 0),
            "weight": Quantity(weight.total_kg, "kg"),
        }
        total = stage.say("{least} to {most}, {weight} in all", **values)
        each = stage.say("{weight} each" if weight.pigs > 1 else "{weight}", weight=mean_weight(weight))
        known = total if weight.weighed else stage.say("as such pigs usually weigh")
        source = OWN_RECORDS if weight.weighed else COMMON_PRACTICE
        facts.append(Fact(stage.say("Weight"), each, known, why(stage, weight_words(farm, group.uid, day), source)))
    return facts


# What each figure rests on


def _own(stage: Stage, words: str, **values: Value) -> Why:
    return why(stage, Text(words, values), OWN_RECORDS)


def _where_why(stage: Stage, words: GroupWords, there: Whereabouts) -> Why:
    stay = there.stay
    if stay is None:
        return _own(stage, "No stay of the group covers {day}.", day=stage.day)
    values: dict[str, Value] = {"paddock": words.place, "first": stay.in_on}
    if stay.out_on is None:
        return _own(stage, "Its stay in {paddock} since {first}, with no day out set.", **values)
    if stay.state is StayState.PLANNED:
        return _own(stage, "Its stay in {paddock} from {first} to {last}, as planned.", **values, last=stay.out_on)
    return _own(stage, "Its stay in {paddock} from {first} to {last}, as recorded.", **values, last=stay.out_on)


def _checked_why(stage: Stage, there: Whereabouts) -> Why:
    check = there.check
    assert check is not None
    values: dict[str, Value] = {"on": check.checked_on, "day": stage.day}
    if check.seen_by:
        return _own(stage, "The daily check of {on} by {who}, the last up to {day}.", **values, who=check.seen_by)
    return _own(stage, "The daily check of {on}, the last up to {day}.", **values)


def _next_why(stage: Stage, there: Whereabouts) -> Why:
    stay = there.next_stay
    assert stay is not None
    values: dict[str, Value] = {"day": stage.day, "first": stay.in_on}
    if stay.out_on is None:
        return _own(stage, "The first stay after {day}: from {first} on.", **values)
    return _own(stage, "The first stay after {day}: from {first} to {last}.", **values, last=stay.out_on)
