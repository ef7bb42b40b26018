from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from pigmap.document.edits import change_setting
from pigmap.fence.cautions.caution import Caution
from pigmap.fence.cautions.public import beside_m, public_ways, signs_wanted
from pigmap.records import Way, WayKind
from tests.document.example_farm import done
from tests.fence.cautions.invented import GROUND, HERE, farm_with, said, upright

SIGNS = (
    "Hang one at each end and at each crossing, at most 50 m apart. Local rules come first.",
    "Hang one at each end and at each crossing, at most 100 m apart. Local rules come first.",
)


def along(off_m: float, kind: WayKind = WayKind.PATH) -> list[Caution]:
    return [*public_ways(farm_with(upright(kind, 50 + off_m)), HERE)]


def test_a_fence_along_a_path_wants_signs() -> None:
    (signs,) = along(4.0)
    assert (signs.id, signs.level, signs.held) == ("W5", "warn", "care")
    assert said(signs) == [("North 3 stands along the path for 58 m: 3 warning signs.", SIGNS[0])]
    assert str(signs.source).startswith("order of 24 September 2014 (France)")


@pytest.mark.parametrize(("off_m", "found"), [(7.9, 1), (8.1, 0)])
def test_a_fence_that_nobody_reaches_from_the_path_wants_none(off_m: float, found: int) -> None:
    assert len(along(off_m)) == len(along(off_m, WayKind.ROAD)) == found
    assert not along(off_m, WayKind.TRACK)


def test_how_far_apart_signs_hang_is_a_setting_of_the_place() -> None:
    farm = done(farm_with(upright(WayKind.ROAD, 54)), change_setting("sign spacing", 100, unit="m"))
    (signs,) = public_ways(farm, HERE)
    assert said(signs) == [("North 3 stands along the road for 58 m: 2 warning signs.", SIGNS[1])]


def test_a_path_through_a_paddock_wants_a_gate_and_signs_at_both() -> None:
    across, signs = along(-25.0)
    assert (across.id, across.held) == ("W5", "reason")
    assert said(across) == [
        (
            "North 3 lies across the path.",
            "Set it to one side; or ask whoever the way belongs to, and leave a gate or stile there that is not live. "
            "Local rules come first.",
        )
    ]
    assert "4 warning signs" in str(signs.words)  # 2 x 16 m beside it as one stretch, and two crossings


@pytest.mark.parametrize(("east", "found"), [(49.9, True), (50.1, False)])
def test_a_path_is_in_it_or_beside_it(east: float, found: bool) -> None:
    on = [each for each in public_ways(farm_with(upright(WayKind.PATH, east)), HERE) if each.held == "reason"]
    assert bool(on) is found


def test_a_path_on_the_line_of_a_side_is_beside_it() -> None:
    assert [each.held for each in along(0.0)] == ["care"]


def test_what_is_beside_a_way_is_measured_on_the_ground() -> None:
    """The same by walking along each side in steps of a centimetre."""
    way = Way(kind=WayKind.PATH, line=shapely.LineString([(-20, -6), (30, -3), (80, -30)]))
    for scale in (1.0, 1.02):
        ring = shapely.get_coordinates(GROUND)
        lines = shapely.get_coordinates(way.line)
        walked = 0.0
        for one, other in pairwise(ring):
            length = float(np.hypot(*(other - one)))
            at = one + np.arange(0.005, length, 0.01)[:, None] * (other - one) / length
            nearest = np.full(len(at), math.inf)
            for begin, end in pairwise(lines):
                share = np.clip((at - begin) @ (end - begin) / ((end - begin) @ (end - begin)), 0, 1)
                nearest = np.minimum(nearest, np.hypot(*(at - begin - share[:, None] * (end - begin)).T))
            walked += 0.01 * scale * int((nearest * scale <= 8.0).sum())
        farm = farm_with(way, ground_per_grid=scale)
        assert beside_m(farm, GROUND, way) == math.floor(walked + 0.1)
        assert signs_wanted(farm, HERE, way) == math.ceil(math.floor(walked) / 50) + 1
