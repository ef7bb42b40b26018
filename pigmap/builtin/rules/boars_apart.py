"""The rule that entire males do not stand beside gilts and sows, unless that is wanted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.planning.names import group_called
from pigmap.planning.neighbours import common_day, neighbours
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Group, PigClass, StayState
from pigmap.text import Text, Value
from pigmap.text.source import COMMON_PRACTICE

APART_M = 1.0
"""Paddocks nearer than that have a net in common, or as good as one [ground m]. Own choice."""
_FEMALES = (PigClass.GILT, PigClass.GESTATING)


class BoarsApart:
    """Looks for a group of boars beside one of gilts or dry sows on a day; only groups that are told to be such."""

    api = 1
    name = "boars-apart"
    title = Text("Boars do not stand beside gilts and sows unless that is wanted")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        for boars, others in neighbours(farm, today, _is_boar, _is_female, APART_M):
            day = common_day(boars, others)
            values: dict[str, Value] = {
                "boars": group_called(farm, boars.stay.group_uid),
                "others": group_called(farm, others.stay.group_uid),
                "day": day,
            }
            words = Text("{boars} stand beside {others} from {day}, with one fence between.", values)
            later = boars if boars.first >= others.first else others
            planned = later.stay.state is StayState.PLANNED
            remedy = Text("Boars go through a fence to them. Plan one of the two elsewhere, or give a reason.")
            if not planned:
                remedy = Text("Boars go through a fence to them. If it is not wanted, move one of the two.")
            also = (boars if later is others else others).stay.uid
            yield Breach(
                "stays",
                later.stay.uid,
                words,
                remedy,
                "plan" if planned else "fact",
                day,
                (also,),
                source=COMMON_PRACTICE,
            )


def _is_boar(group: Group) -> bool:
    return group.pig_class is PigClass.BOAR


def _is_female(group: Group) -> bool:
    return group.pig_class in _FEMALES


rule = BoarsApart()
