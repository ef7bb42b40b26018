from __future__ import annotations

from datetime import timedelta

from pigmap.builtin.rules.counts_agree import rule
from pigmap.planning.rule import Breach
from pigmap.records import GroupEvent, GroupEventKind
from pigmap.session.sample import sample_farm
from tests.planning.invented import TODAY, farm_with


def event(kind: GroupEventKind, pigs: int, on: int) -> GroupEvent:
    day = TODAY + timedelta(days=on)
    return GroupEvent(uid=f"{kind} {on}", group_uid="sows", happened_on=day, kind=kind, pigs=pigs)


def found(*events: GroupEvent) -> list[Breach]:
    return list(rule.breaches(farm_with(*events), TODAY))


def test_more_pigs_sold_than_there_were_are_flagged_and_stand() -> None:
    (breach,) = found(event(GroupEventKind.BOUGHT, 8, -9), event(GroupEventKind.SOLD, 10, -2))
    assert str(breach.words) == "10 pigs left Sows on 2026-05-18; 8 were there."
    assert str(breach.remedy) == "Put right the number, or tell when the others came."
    assert (breach.weight, breach.table) == ("fact", "group_events")


def test_pigs_that_come_and_go_on_one_day_are_counted_before_they_go() -> None:
    assert not found(event(GroupEventKind.SOLD, 8, -2), event(GroupEventKind.BOUGHT, 8, -2))
    assert found(
        event(GroupEventKind.DIED, 1, -1), event(GroupEventKind.SOLD, 8, -2), event(GroupEventKind.BORN, 8, -2)
    )


def test_a_group_that_was_never_counted_is_left_alone() -> None:
    assert not found(event(GroupEventKind.SOLD, 8, -2))


def test_the_sample_farm_s_counts_agree() -> None:
    assert not list(rule.breaches(sample_farm(TODAY), TODAY))
