"""Hold the records and the plan of a farm against every rule."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from pigmap.planning.accepted import with_reasons
from pigmap.planning.rule import Breach, Rule
from pigmap.records import Farm


class Found(NamedTuple):
    """One breach and the name of the rule that it breaks."""

    rule: str
    breach: Breach


def breaches(farm: Farm, rules: Iterable[Rule], today: date) -> list[Found]:
    """Return every breach of every rule, earliest first; those without a day stand before the others.

    The rules are independent of whoever made the plan, and of each other. Where someone planned all the same and said
    why, the breach carries that reason.
    """
    named = [Found(rule.name, breach) for rule in rules for breach in rule.breaches(farm, today)]
    told = with_reasons(farm, [each.breach for each in named])
    found = [Found(each.rule, breach) for each, breach in zip(named, told, strict=True)]
    return sorted(found, key=lambda each: (each.breach.day or date.min, each.rule, each.breach.uid))
