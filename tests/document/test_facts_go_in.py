"""What happened is never refused: odd facts go in, as one edit each, and are flagged in words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
import shapely

from pigmap.builtin.rules.facts_agree import rule as facts_agree
from pigmap.builtin.rules.ground_inside import rule as ground_inside
from pigmap.builtin.rules.one_place import rule as one_place
from pigmap.document.edits import (
    add_keep_out,
    add_nets,
    all_well,
    begin_stay,
    change_stay,
    close_group,
    end_stay,
    plan_stay,
    record_check,
    record_event,
    record_net_use,
    record_stay,
    stands_there,
    weigh,
)
from pigmap.errors import RecordError
from pigmap.records import Edit, Farm, GroupEventKind, Reason
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example

LONG_AGO = date(1931, 5, 1)
LINE = shapely.LineString([(10, 10), (60, 10)])
ELSEWHERE = shapely.LineString([(210, 10), (260, 10)])
POND = add_keep_out(shapely.box(20, 20, 40, 40), Reason.POND, net_m=6.0)


def _days(days: int) -> date:
    return DAY + timedelta(days=days)


def _said(farm: Farm) -> list[str]:
    rules = (ground_inside, one_place, facts_agree)
    breaches = [breach for rule in rules for breach in rule.breaches(farm, _days(20))]
    assert all(breach.weight == "fact" for breach in breaches)
    return [str(breach.words) for breach in breaches]


@pytest.mark.parametrize(
    ("edits", "flagged"),
    [
        ([POND, record_stay(GROUP, PADDOCK, DAY)], "reaches into the keep-out"),
        (
            [record_stay(GROUP, PADDOCK, DAY), record_stay(OTHERS, PADDOCK, _days(1))],
            "Sows and Weaners are both on",
        ),
        (
            [record_stay(GROUP, PADDOCK, DAY), stands_there(OTHERS, shapely.box(30, 30, 70, 55), _days(1))],
            "Sows and Weaners are both on",
        ),
        ([stands_there(GROUP, shapely.box(390, 100, 450, 150), DAY)], "lie outside every field"),
        (
            [record_stay(GROUP, PADDOCK, DAY, _days(9)), record_stay(GROUP, PADDOCK, _days(3), _days(6))],
            "Sows are in Long Field 1 and in Long Field 1",
        ),
        (
            [POND, plan_stay(GROUP, PADDOCK, _days(1), uid="s"), begin_stay("s", _days(1))],
            "reaches into the keep-out",
        ),
        ([record_stay(GROUP, PADDOCK, LONG_AGO, LONG_AGO + timedelta(days=4))], "before their first pigs came"),
        ([weigh(GROUP, LONG_AGO, 80.0)], "before their first pigs came"),
        (
            [close_group(GROUP, _days(2)), record_event(GROUP, _days(9), GroupEventKind.DIED, pigs=1)],
            "after the group ended",
        ),
        (
            [
                record_stay(GROUP, PADDOCK, DAY),
                stands_there(OTHERS, shapely.box(200, 10, 250, 60), DAY, uid="far"),
                record_check("far", _days(2), group_uid=GROUP, fence_kv=5.0),
            ],
            "Sows were checked in",
        ),
    ],
)
def test_an_odd_fact_goes_in_and_is_flagged(edits: list[Edit], flagged: str) -> None:
    said = _said(done(example(), *edits))
    assert any(flagged in each for each in said), said


def test_a_net_goes_in_at_two_places_at_once() -> None:
    farm = done(example(), add_nets(KIND, 1, numbers=["36"]))
    (net,) = [net for net in farm.nets.values() if net.number == "36"]
    farm = done(
        farm,
        record_net_use(PADDOCK, KIND, LINE, DAY, net_uid=net.uid),
        record_net_use(PADDOCK, KIND, ELSEWHERE, _days(2), net_uid=net.uid),
    )
    assert len(farm.net_uses) == 2
    assert any("Net 36 stands at" in each for each in _said(farm))


@pytest.mark.parametrize(
    "edit",
    [
        record_check(PADDOCK, LONG_AGO, fence_kv=0.0, pigs_seen=0, rooting_score=4, damage="all of it"),
        all_well(PADDOCK, GROUP, LONG_AGO),
        record_stay(GROUP, PADDOCK, DAY, DAY),
        weigh(GROUP, DAY, 590.0, pigs=900),
        record_event(GROUP, LONG_AGO, GroupEventKind.SOLD, pigs=500),
        record_net_use(PADDOCK, KIND, LINE, LONG_AGO, taken_on=LONG_AGO),
    ],
)
def test_what_is_only_unlikely_goes_in(edit: Edit) -> None:
    before = example()
    assert done(before, edit).revision >= before.revision


def test_days_of_a_fact_are_put_right_to_any_others() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY, _days(5), uid="s"), change_stay("s", _days(2), _days(2)))
    assert farm.stays["s"].in_on == farm.stays["s"].out_on


def test_only_what_cannot_exist_is_refused() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY, uid="s"))
    with pytest.raises(RecordError) as refused:
        end_stay("s", _days(-3))(farm)
    assert str(refused.value) == (
        "A stay goes out on 2026-04-28, before it comes in on 2026-05-01. Give a day out that is not before the day in."
    )
    with pytest.raises(RecordError) as refused:
        weigh(GROUP, DAY, -4.0)
    assert str(refused.value) == "The mean weight is -4. Give a number from 0.3 to 600."
    with pytest.raises(RecordError) as refused:
        record_net_use(PADDOCK, KIND, LINE, DAY, taken_on=_days(-1))
    assert str(refused.value) == (
        "A net is taken up on 2026-04-30, before it is set on 2026-05-01. "
        "Give a day it was taken up that is not before the day it was set."
    )
