from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from pigmap.planning.rule import Breach
from pigmap.planning.verify import breaches
from pigmap.records import Farm
from pigmap.text import Text
from tests.planning.invented import TODAY, farm_with


class Rule:
    api = 1

    def __init__(self, name: str, *days: int | None) -> None:
        self.name, self.title, self.days = name, Text(name), days

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        for days in self.days:
            day = None if days is None else today + timedelta(days=days)
            yield Breach("stays", "uid", Text("Broken."), Text("Mend it."), day=day)


def test_breaches_of_all_rules_come_earliest_first_and_name_their_rule() -> None:
    found = breaches(farm_with(), [Rule("late", 5, None), Rule("soon", 1)], TODAY)
    assert [(each.rule, each.breach.day) for each in found] == [
        ("late", None),
        ("soon", TODAY + timedelta(days=1)),
        ("late", TODAY + timedelta(days=5)),
    ]


def test_no_rules_find_nothing() -> None:
    assert breaches(farm_with(), [], TODAY) == []
