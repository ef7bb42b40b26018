"""What an edit would bring about that keeps no rule: breaches that the farm has after it and had not before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from pigmap.errors import PluginError
from pigmap.planning.rule import Breach, Rule
from pigmap.plugins import Registry
from pigmap.records import Farm, RowChange
from pigmap.text import Text


def comes_of(farm: Farm, rows: Sequence[RowChange], registry: Registry, today: date) -> tuple[Breach, ...]:
    """Return the breaches that come of some changes, the earliest first; what only wants care breaks nothing.

    Parameters
    ----------
    farm, rows
        The farm, and what would be changed in it.
    registry
        Whose rules count; one that cannot be loaded is left out.
    today
        The day to stand on.
    """
    rules = list(_rules(registry))
    before = {breach for rule in rules for breach in rule.breaches(farm, today)}
    after = (breach for rule in rules for breach in rule.breaches(farm.after(rows), today))
    found = {breach: None for breach in after if breach not in before and breach.weight != "care"}
    return tuple(sorted(found, key=lambda breach: breach.day or date.min))


def flagged(farm: Farm, rows: Sequence[RowChange], registry: Registry, today: date) -> list[Text]:
    """Return the same as sentences, each with what to do: a fact is taken, and said where it is odd."""
    found = comes_of(farm, rows, registry, today)
    return [Text("{words} {remedy}", {"words": each.words, "remedy": each.remedy}) for each in found]


def _rules(registry: Registry) -> Iterable[Rule]:
    for part in registry.parts("rules"):
        try:
            yield registry.load("rules", part.name)
        except PluginError:
            continue
