from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from pigmap.qt.placing_choice import MOST_NETS, PlacingChoice
from pigmap.records import Farm, NetKind, Projection

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
