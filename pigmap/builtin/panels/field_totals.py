"""The sums of a field's ground on its card: what is ready, never used or not known, and what pigs laid on it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.nitrogen import nitrogen_cap
from pigmap.animals.sources import NITROGEN_CAP
from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.card_parts import in_words
from pigmap.document.edits import PACE
from pigmap.ground import GroundState, Under
from pigmap.ground.course import weight_of
from pigmap.ground.tables import TRAILING_DAYS
from pigmap.ground.wear import TREES
from pigmap.qt.pigs_why import laid_on
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, why
from pigmap.records import Farm, Field
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OUR_FIT, OWN_RECORDS

SHARE_WORTH_SAYING = 0.005
Share = NDArray[np.bool_]


def total_facts(stage: Stage, field: Field, state: GroundState, under: Under) -> Iterator[Fact]:
    """Yield the sums of a field on the day that is shown."""
    layers = state.layers
    ready = _share(state, (layers["ready_in_days"] == 0) & ~layers["occupied"])
    yield Fact(
        stage.say("Ready now"),
        _area(stage, field, ready),
        stage.say("{share} of it", share=Quantity(ready, "1")),
        _ready_why(stage, state),
    )
    for label, share, reason in (
        (stage.say("Never used"), under.never_used, _never_why(stage)),
        (stage.say("Not known"), under.unknown, _unknown_why(stage)),
    ):
        if share > SHARE_WORTH_SAYING:
            beside = stage.say("{share} of it", share=Quantity(share, "1"))
            yield Fact(label, _area(stage, field, share), beside, reason)
    yield Fact(
        stage.say("Pig-days"),
        str(round(pig_days(stage.session.farm, field, stage.day, stage.today))),
        stage.say("in 12 months"),
        why(stage, Text("Each pig counts for each day on the ground, in the twelve months before."), OWN_RECORDS),
    )
    yield _nitrogen(stage, state, under)
    if field.ground_cover in TREES:
        yield _yearly_share(stage, field, state)
    yield _pace(stage)


def _yearly_share(stage: Stage, field: Field, state: GroundState) -> Fact:
    """Return how much of a wood pigs were on within twelve months: a wood is used by yearly shares."""
    rest, used = state.layers["rest_days"], state.layers["used"]
    share = _share(state, used & (rest < TRAILING_DAYS))
    words = Text("Ground that pigs were on in the twelve months before. A wood comes back in years: the rest waits.")
    beside = stage.say("{share} of it, in 12 months", share=Quantity(share, "1"))
    return Fact(stage.say("Wood used"), _area(stage, field, share), beside, why(stage, words, OWN_RECORDS))


def _pace(stage: Stage) -> Fact:
    """Return whether rooting and green are computed as printed, or with what this farm has taught."""
    own = any(stage.session.farm.setting(key) is not None for key in PACE)
    figure = stage.say("of this farm") if own else stage.say("from print")
    words = Text(
        "How fast pigs wear the green, and how fast it comes back: numbers {which}. Under More, What this farm has "
        "taught compares both with your daily checks.",
        {"which": figure},
    )
    return Fact(stage.say("Pace"), figure, stage.say("of wear and growth"), why(stage, words, OUR_FIT))


def _nitrogen(stage: Stage, state: GroundState, under: Under) -> Fact:
    most = nitrogen_cap(stage.session.farm)
    cap = Quantity(most, "kg/ha")
    above = _share(state, state.layers["n_kg_ha"] > most)
    beside = stage.say("in 12 months")
    if above > SHARE_WORTH_SAYING:
        beside = stage.say("{share} of it above {cap}", share=Quantity(above, "1"), cap=cap)
    words = Text(
        "{laid} in the mean of the field, from pigs and from manure that was told of, in the twelve months before. "
        "Held against {cap} a year. Advice: local limits may be lower, ask your adviser.",
        {"laid": Quantity(under.n_kg_ha, "kg/ha"), "cap": cap},
    )
    return Fact(stage.say("Nitrogen"), in_words(stage, Quantity(under.n_kg_ha, "kg/ha")), beside, _why(stage, words))


def pig_days(farm: Farm, field: Field, day: date, today: date) -> float:
    """Return the days of all pigs on a field in the twelve months before a day: ten pigs for a week are seventy."""
    return _pig_days(_Kept(farm, field), day, today)


class _Kept:
    """A farm and a field, alike as long as neither changes: dragging the day asks again and again."""

    def __init__(self, farm: Farm, field: Field) -> None:
        self.farm, self.field = farm, field

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and self.farm is other.farm and self.field is other.field

    def __hash__(self) -> int:
        return hash((id(self.farm), id(self.field)))


@lru_cache(maxsize=2)  # each holds its farm
def _pig_days(kept: _Kept, day: date, today: date) -> float:
    farm, field = kept.farm, kept.field
    field_m2 = field.outline.area * farm.projection.ground_per_grid**2
    laid = laid_on(farm, field.outline, day, today)
    return sum(one.weight.pigs * one.days * min(one.share * field_m2 / one.ground_m2, 1.0) for one in laid)


def _share(state: GroundState, of_it: Share) -> float:
    weight = weight_of(state.ground)
    return float(weight[of_it].sum() / max(int(weight.sum()), 1))


def _area(stage: Stage, field: Field, share: float) -> str:
    area = field.outline.area * stage.session.farm.projection.ground_per_grid**2
    return in_words(stage, Quantity(share * area, "m²"))


def _why(stage: Stage, words: Text) -> Why:
    return why(stage, words, OWN_RECORDS, NITROGEN_CAP)


def _ready_why(stage: Stage, state: GroundState) -> Why:
    values: dict[str, Value] = {"green": Quantity(state.ground.model.ready_cover, "1")}
    words = Text("Ground that has had its rest and is {green} green or more, with no pigs on it.", values)
    return why(stage, words, OUR_FIT)


def _never_why(stage: Stage) -> Why:
    words = Text("As somebody said: no stay lies on it either. Whether pigs were there long ago only people can say.")
    return why(stage, words, OWN_RECORDS)


def _unknown_why(stage: Stage) -> Why:
    return why(stage, Text("No stay lies on it, and nobody told what was there before the records."), OWN_RECORDS)
