from __future__ import annotations

from datetime import date, timedelta

import shapely

from pigmap.fence.holdings import holdings, net_called, stock_flags
from pigmap.records import Farm, Group, Net, NetCondition, NetKind, NetUse, Paddock, Projection, Record, Stay, StayState
from pigmap.records import add as added

DAY = date(2026, 5, 13)
LONG = NetKind(uid="long", name="50 m nets", bays_mm=(50_000,))
SHORT = NetKind(uid="short", name="25 m nets", bays_mm=(25_000,))


def _rows(at: int, group: str) -> list[Record]:
    ground = shapely.box(50 * at, 0, 50 * at + 50, 50)
    stay = Stay(uid=f"s{at}", group_uid=group, paddock_uid=f"p{at}", ground=ground, in_on=DAY, state=StayState.RUNNING)
    return [
        Group(uid=group, name=group),
        Paddock(uid=f"p{at}", name=f"Hill {at}", outline=ground, net_kind_uid="long"),
        stay,
    ]


def _use(uid: str, paddock: str, line: list[tuple[float, float]], net: str | None = None, kind: str = "long") -> NetUse:
    run = shapely.LineString(line)
    return NetUse(uid=uid, net_kind_uid=kind, paddock_uid=paddock, run=run, set_on=DAY, net_uid=net)


def _farm(*rows: Record) -> Farm:
    farm = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    nets = [Net(uid=f"n{at}", net_kind_uid="long") for at in range(7)]
    return farm.after([added(row) for row in (LONG, SHORT, *nets, *_rows(0, "Sows"), *_rows(1, "Weaners"), *rows)])


def _told(farm: Farm, day: date = DAY) -> list[tuple[str, str, list[tuple[str, int]]]]:
    found = holdings(farm, day, DAY)
    return [(each.group, each.paddock, [(kind.name, count) for kind, count in each.nets]) for each in found]


def test_who_has_which_nets_a_shared_side_counts_with_the_first() -> None:
    assert _told(_farm()) == [("Sows", "Hill 0", [("50 m nets", 4)]), ("Weaners", "Hill 1", [("50 m nets", 3)])]


def test_nets_left_standing_where_nobody_is_are_told_until_a_move_can_use_them() -> None:
    alone = _use("u", "p9", [(0, 300), (50, 300)])
    farm = _farm(Paddock(uid="p9", name="Hill 9", outline=shapely.box(0, 300, 50, 350)), alone)
    assert _told(farm)[-1] == ("", "Hill 9", [("50 m nets", 1)])
    assert _told(farm, DAY + timedelta(days=1))[-1] == ("", "Hill 9", [("50 m nets", 1)])


def test_a_net_left_along_the_side_of_other_pigs_is_theirs() -> None:
    ring = [(0, 0), (50, 0), (50, 50), (0, 50)]
    own = [_use(f"o{at}", "p0", [ring[at - 1], ring[at]]) for at in range(3)]
    beside = _use("left", "p9", [(0, 50), (50, 50)])
    farm = _farm(Paddock(uid="p9", name="Hill 9", outline=shapely.box(0, 50, 50, 100)), *own, beside)
    assert _told(farm)[0] == ("Sows", "Hill 0", [("50 m nets", 4)])
    assert len(_told(farm)) == 2


def test_a_stock_that_agrees_has_no_flags() -> None:
    assert stock_flags(_farm(), DAY, DAY) == ()


def test_fewer_nets_than_stand_are_flagged() -> None:
    farm = _farm(Net(uid="n0", net_kind_uid="long", condition=NetCondition.DAMAGED))
    assert [str(each) for each in stock_flags(farm, DAY, DAY)] == [
        "7 of the 50 m nets stand, and 6 are owned in good order. "
        "Add those that are missing, or put right where they stand."
    ]


def test_two_nets_with_one_number_are_flagged_while_both_are_owned() -> None:
    farm = _farm(*(Net(uid=uid, net_kind_uid="long", number="4", retired_on=DAY + timedelta(days=9)) for uid in "ab"))
    assert [str(each) for each in stock_flags(farm, DAY, DAY)] == [
        "2 of the 50 m nets have the number 4. Give one of them another."
    ]
    assert stock_flags(farm, DAY + timedelta(days=9), DAY) == ()


def test_a_net_in_two_places_is_flagged() -> None:
    one, other = _use("u", "p0", [(0, 0), (50, 0)], "n0"), _use("v", "p1", [(50, 50), (100, 50)], "n0")
    farm = _farm(Net(uid="n0", net_kind_uid="long", number="4"), one, other)
    assert [str(each) for each in stock_flags(farm, DAY, DAY)] == [
        "Net 4 stands at Hill 0 and at Hill 1. Say which net stands in one of the two places."
    ]


def test_a_number_that_two_kinds_have_is_told_with_the_kind() -> None:
    long, short = Net(uid="a", net_kind_uid="long", number="4"), Net(uid="b", net_kind_uid="short", number="4")
    assert str(net_called(_farm(long), long)) == "net 4"
    assert str(net_called(_farm(long, short), long)) == "net 4 of the 50 m nets"
    assert str(net_called(_farm(), _farm().nets["n0"])) == "a net of the 50 m nets"
