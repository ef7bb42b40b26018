"""What the days that a paddock lasts rest on, and what else would say so: ground, nitrogen, tank and feed."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from shapely.geometry.base import BaseGeometry

from pigmap.animals import sources
from pigmap.animals.manure import manure_source, nitrogen_g
from pigmap.animals.nitrogen import M2_PER_HA
from pigmap.ground.lasts import Start, how_long
from pigmap.ground.lasts_words import Said, all_words, keeper_words
from pigmap.qt.pigs_why import Laid, laid_on
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, why
from pigmap.records import Farm
from pigmap.records.keepers_days import keepers_days
from pigmap.text.source import OUR_FIT


class Ground(NamedTuple):
    """Some ground that a group would come to."""

    outline: BaseGeometry
    """[grid m]."""
    area_m2: float
    """On the ground."""
    field_uid: str | None
    rooting: float


def lasts_why(stage: Stage, farm: Farm, group_uid: str, day: date, ground: Ground) -> Why:
    """Return from whom the days are that lead, then what each of the other ways would say, the first one by name."""
    field = farm.fields.get(ground.field_uid or "")
    if field is None:
        return said_why(stage, keeper_words(keepers_days(farm, group_uid, day)))
    laid = laid_on(farm, ground.outline, day, stage.today)
    start = Start(ground.rooting, laid_nitrogen(farm, laid))
    found = how_long(farm, group_uid, field, ground.area_m2, day, start)
    return joined(*(said_why(stage, _in_short(each)) for each in all_words(found)))


def _in_short(said: Said) -> Said:
    """Return it without the papers that the row of the ground names: a plate beside the pointer has little room."""
    return said._replace(sources=tuple(sources.ROUGH_FIT if each == OUR_FIT else each for each in said.sources))


def said_why(stage: Stage, said: Said) -> Why:
    """Return one figure in words with its sources."""
    return why(stage, said.words, *said.sources)


def laid_nitrogen(farm: Farm, laid: list[Laid]) -> float:
    """Return the nitrogen that stays laid on some ground [kg/ha]."""
    source = manure_source(farm)
    each = (
        one.weight.pigs
        * float(nitrogen_g(farm.groups[one.stay.group_uid], one.weight.mean_kg, source))
        * one.days
        / one.ground_m2
        * one.share
        for one in laid
    )
    return sum(each) / 1000.0 * M2_PER_HA
