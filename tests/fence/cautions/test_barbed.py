from __future__ import annotations

import pytest

from pigmap.fence.cautions.barbed import barbed_fences, is_barbed
from pigmap.fence.cautions.caution import Caution
from pigmap.records import WayKind
from tests.fence.cautions.invented import HERE, farm_with, said, upright


def beside(off_m: float, kind: WayKind = WayKind.PERMANENT_FENCE, **more: object) -> list[Caution]:
    return [*barbed_fences(farm_with(upright(kind, 50 + off_m, **more)), HERE)]


@pytest.mark.parametrize(("off_m", "found"), [(0.0, 1), (0.05, 1), (0.14, 1), (0.15, 0), (0.25, 0)])
def test_nets_keep_a_hand_off_barbed_wire(off_m: float, found: int) -> None:
    assert len(beside(off_m, name="Barbed fence")) == found


def test_it_says_where_that_is_known_from() -> None:
    (against,) = beside(0.0, name="North fence", note="Three strands of barb wire.")
    assert (against.id, against.level, against.held) == ("W6", "stop", "reason")
    assert said(against) == [
        (
            "North 3 stands against North fence, which has barbed wire as its name or note says.",
            "Keep live wires 0.15 m or more off it, on posts of their own. Barbed wire is never made live.",
        )
    ]
    assert "AS/NZS 3014:2003" in str(against.source)


def test_a_fence_of_which_nobody_says_so_is_not_taken_for_one() -> None:
    assert not beside(0.0, name="North fence")
    assert not is_barbed(upright(WayKind.HEDGE, 50, name="Barberry hedge"))
