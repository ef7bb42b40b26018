"""Hold the records and the plan of a farm against every rule."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from pigmap.geometry.steep import SlopeCells
from pigmap.planning.accepted import with_reasons
from pigmap.planning.rule import Breach, Rule, asked
from pigmap.records import Farm

NOTHING_KNOWN: Mapping[str, SlopeCells] = MappingProxyType({})
"""Where no terrain image tells how steep ground is."""


class Found(NamedTuple):
    """One breach and the name of the rule that it breaks."""

    rule: str
    breach: Breach


def breaches(
    farm: Farm, rules: Iterable[Rule], today: date, slopes: Mapping[str, SlopeCells] = NOTHING_KNOWN
) -> list[Found]:
    """Return every breach of every rule, earliest first; those without a day stand before the others.

    The rules are independent of whoever made the plan, and of each other. Where someone planned all the same and said
    why, the breach carries that reason. Rules that look at slopes are asked with those that are known, by field.
    """
    named = [Found(rule.name, breach) for rule in rules for breach in asked(rule, farm, today, slopes)]
    told = with_reasons(farm, [each.breach for each in named])
    found = [Found(each.rule, breach) for each, breach in zip(named, told, strict=True)]
    return sorted(found, key=lambda each: (each.breach.day or date.min, each.rule, each.breach.uid))
