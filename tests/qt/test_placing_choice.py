from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from pigmap.qt.placing_choice import MOST_NETS, PlacingChoice
from pigmap.records import Farm, NetKind, Projection
from pigmap.records.side_nets import SideNets

PLANE = Projection(name="plane", authority="NONE", code=0, definition="")
BLUE = NetKind(name="50 m", bays_mm=(3500,) * 14 + (1000,))
WHITE = NetKind(name="25 m", bays_mm=(3500,) * 7 + (500,))
FARM = Farm(document_uid="d", projection=PLANE, net_kinds={BLUE.uid: BLUE, WHITE.uid: WHITE})


def test_a_choice_that_does_not_change_tells_nobody(qtbot: QtBot) -> None:
    placing = PlacingChoice()
    told: list[int] = []
    placing.changed.connect(lambda: told.append(1))
    placing.choose(nets_long=1)
    assert not told
    placing.choose(nets_long=2)
    assert told == [1]


@pytest.mark.parametrize(("asked", "given"), [(0, 1), (-3, 1), (3, 3), (99, MOST_NETS)])
def test_sides_have_at_least_one_net(asked: int, given: int) -> None:
    placing = PlacingChoice()
    placing.choose(nets_wide=asked)
    assert placing.nets_wide == given


def test_a_direction_is_kept_below_half_a_turn() -> None:
    placing = PlacingChoice()
    placing.choose(turned_deg=-5)
    assert placing.turned_deg == 175.0
    placing.choose(turned_deg=None)
    assert placing.turned_deg is None


def test_the_next_kind_after_the_last_is_the_first() -> None:
    placing = PlacingChoice()
    placing.fit(FARM)
    assert placing.kind(FARM) is BLUE
    placing.next_kind(FARM)
    assert placing.kind(FARM) is WHITE
    placing.next_kind(FARM)
    assert placing.kind(FARM) is BLUE


def test_a_group_that_is_gone_is_no_longer_chosen() -> None:
    placing = PlacingChoice()
    placing.choose(group_uid="gone")
    placing.fit(FARM)
    assert placing.group_uid == ""


# Sides of more than one kind


@pytest.fixture
def mixing() -> PlacingChoice:
    placing = PlacingChoice()
    placing.fit(FARM)
    placing.choose(nets_long=1, nets_wide=2)
    placing.mix(True)
    return placing


def test_mixing_begins_with_the_nets_that_the_sides_have(mixing: PlacingChoice) -> None:
    began: tuple[SideNets, ...] = (((BLUE.uid, 1),), ((BLUE.uid, 2),)) * 2
    both: SideNets = ((BLUE.uid, 1), (WHITE.uid, 1))
    assert mixing.choice.side_nets == began
    mixing.step(WHITE.uid, 1, wide=False)
    assert mixing.choice.side_nets[0] == mixing.choice.side_nets[2] == both
    assert (mixing.count(WHITE.uid, wide=False), mixing.count(WHITE.uid, wide=True)) == (1, 0)


def test_a_side_keeps_one_net_at_least_and_has_so_many_at_most(mixing: PlacingChoice) -> None:
    mixing.step(BLUE.uid, -1, wide=False)
    assert mixing.count(BLUE.uid, wide=False) == 1
    mixing.step(WHITE.uid, 1, wide=False)
    mixing.step(BLUE.uid, -1, wide=False)
    assert mixing.choice.side_nets[0] == ((WHITE.uid, 1),)
    for _ in range(MOST_NETS + 5):
        mixing.step(WHITE.uid, 1, wide=True)
    assert mixing.count(WHITE.uid, wide=True) == MOST_NETS - 2


def test_opposite_sides_may_be_told_to_hold_other_nets(mixing: PlacingChoice) -> None:
    mixing.tell_side(((BLUE.uid, 1),), ((WHITE.uid, 2),), wide=False)
    assert mixing.choice.side_nets == (((BLUE.uid, 1),), ((BLUE.uid, 2),), ((WHITE.uid, 2),), ((BLUE.uid, 2),))


def test_no_more_mixing_leaves_the_nets_of_the_chosen_kind(mixing: PlacingChoice) -> None:
    mixing.step(BLUE.uid, 2, wide=False)
    mixing.step(WHITE.uid, 1, wide=False)
    mixing.mix(False)
    assert (mixing.mixed, mixing.nets_long, mixing.nets_wide) == (False, 3, 2)
    mixing.choose(kind_uid=WHITE.uid)
    mixing.mix(True)
    mixing.step(BLUE.uid, 1, wide=True)
    mixing.fit(Farm(document_uid="d", projection=PLANE, net_kinds={WHITE.uid: WHITE}))
    assert not mixing.mixed


def test_without_mixing_a_step_goes_to_the_chosen_kind() -> None:
    placing = PlacingChoice()
    placing.fit(FARM)
    placing.step(BLUE.uid, 2, wide=True)
    assert (placing.nets_long, placing.nets_wide, placing.mixed) == (1, 3, False)
    assert (placing.count(BLUE.uid, wide=True), placing.count(WHITE.uid, wide=True)) == (3, 0)
