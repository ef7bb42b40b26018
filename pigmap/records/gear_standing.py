"""From which day to which a group's gear stands where: one rule for all who ask.

Gear stands from the day on which it was set down until gear of its kind is set down elsewhere on a later day, or until
the pigs leave the ground. What was set down on one day stands side by side.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from shapely.geometry.base import BaseGeometry

from pigmap.records.farm import Farm
from pigmap.records.gear import GearPlace
from pigmap.records.lasting import AS_PLANNED, Lasting, lasting_on


class StandingGear(NamedTuple):
    """A piece of gear as it really lies in time."""

    place: GearPlace
    stay_uid: str
    """The stay it stands in; of stays that touch on the same ground, the first."""
    first: date
    end: date | None
    """First day on which it no longer stands there; None where no end is in sight."""

    def covers(self, day: date) -> bool:
        """Whether it stands there on a day."""
        return self.first <= day and (self.end is None or day < self.end)


class _Spell(NamedTuple):
    """Stays of a group that touch on the same ground: nobody moved."""

    uid: str
    stays: frozenset[str]
    first: date
    end: date | None


def gear_standing(farm: Farm, today: date = AS_PLANNED) -> tuple[StandingGear, ...]:
    """Return all gear whose place is known, as it lies in time; what was set down while no pigs were there is left out.

    What was asked for last is kept.
    """
    global _last
    kept = _last
    wanted = farm.gear_places, farm.stays, farm.groups, today
    if kept is None or any(one is not other for one, other in zip(kept[0], wanted, strict=True)):
        kept = _last = wanted, tuple(_standing(farm, today))
    return kept[1]


_last: tuple[tuple[object, ...], tuple[StandingGear, ...]] | None = None


def gear_on(farm: Farm, day: date, today: date = AS_PLANNED) -> list[StandingGear]:
    """Return the gear that stands on a day."""
    return [each for each in gear_standing(farm, today) if each.covers(day)]


def _standing(farm: Farm, today: date) -> Iterable[StandingGear]:
    if not farm.gear_places:
        return
    spells = _spells(farm, today)
    by_spell: dict[str, list[tuple[date, GearPlace]]] = {}
    ends: dict[str, date | None] = {}
    for place in farm.gear_places.values():
        spell = _spell_of(place, spells.get(place.group_uid, ()))
        if spell is not None:
            by_spell.setdefault(spell.uid, []).append((max(place.set_on, spell.first), place))
            ends[spell.uid] = spell.end
    for uid, its in by_spell.items():
        for first, place in its:
            later = [day for day, other in its if other.kind is place.kind and day > first]
            yield StandingGear(place, uid, first, min(later, default=ends[uid]))


def _spell_of(place: GearPlace, spells: Iterable[_Spell]) -> _Spell | None:
    for spell in spells:
        its = place.stay_uid in spell.stays if place.stay_uid is not None else spell.first <= place.set_on
        if its and (spell.end is None or place.set_on < spell.end):
            return spell
    return None


def _spells(farm: Farm, today: date) -> Mapping[str, list[_Spell]]:
    wanted = {place.group_uid for place in farm.gear_places.values()}
    by_group: dict[str, list[Lasting]] = {uid: [] for uid in wanted}
    for each in lasting_on(farm, today).values():
        if each.stay.group_uid in by_group:
            by_group[each.stay.group_uid].append(each)
    return MappingProxyType({uid: _joined(its) for uid, its in by_group.items()})


def _joined(its: list[Lasting]) -> list[_Spell]:
    spells: list[_Spell] = []
    grounds: list[BaseGeometry] = []
    for each in sorted(its, key=lambda each: (each.first, each.stay.uid)):
        ground = each.stay.ground
        if spells and spells[-1].end == each.first and (grounds[-1] is ground or grounds[-1].equals(ground)):
            last = spells[-1]
            spells[-1] = last._replace(stays=last.stays | {each.stay.uid}, end=each.end)
        else:
            spells.append(_Spell(each.stay.uid, frozenset((each.stay.uid,)), each.first, each.end))
            grounds.append(ground)
    return spells
