from __future__ import annotations

from datetime import timedelta

import shapely

from pigmap.document.edits import add_way, record_net_use, record_stay
from pigmap.fence.reach import short_of_nets
from pigmap.records import Farm, Paddock, WayKind
from tests.document.example_farm import DAY, GROUP, KIND, PADDOCK, done, example, square

SIDES = ([(10, 10), (60, 10)], [(60, 10), (60, 60)], [(60, 60), (10, 60)], [(10, 60), (10, 10)])


def fenced(count: int = 4) -> tuple[Farm, Paddock]:
    """Return a farm with pigs in the first paddock and so many nets written down round it."""
    uses = [record_net_use(PADDOCK, KIND, shapely.LineString(side), DAY) for side in SIDES[:count]]
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY), *uses)
    return farm, farm.paddocks[PADDOCK]


def test_nets_that_reach_round_need_no_word() -> None:
    assert short_of_nets(*fenced(), square().outline, DAY, DAY) is None


def test_a_metre_more_is_the_eye_of_the_one_who_clicked() -> None:
    assert short_of_nets(*fenced(), shapely.box(10, 10, 60.5, 60), DAY, DAY) is None


def test_nets_that_do_not_reach_are_said_with_what_to_do() -> None:
    words = str(short_of_nets(*fenced(), shapely.box(10, 10, 66, 60), DAY, DAY))
    assert words.startswith("Its nets (4 of 50 m) reach 200 m; this goes round 212 m.")
    assert "One more net, or look at the corners again." in words


def test_nets_that_nobody_wrote_down_are_not_counted_short() -> None:
    assert short_of_nets(*fenced(0), shapely.box(10, 10, 90, 60), DAY, DAY) is None


def test_nets_that_were_taken_up_reach_nowhere() -> None:
    farm, paddock = fenced(3)
    south = shapely.LineString([(10, 60), (10, 10)])
    farm = done(farm, record_net_use(PADDOCK, KIND, south, DAY - timedelta(days=9), taken_on=DAY))
    assert "(3 of 50 m) reach 150 m" in str(short_of_nets(farm, paddock, paddock.outline, DAY, DAY))


def test_a_permanent_fence_closes_its_side() -> None:
    farm, paddock = fenced(3)
    fence = add_way(WayKind.PERMANENT_FENCE, shapely.LineString([(10, 0), (10, 80)]))
    assert short_of_nets(done(farm, fence), paddock, paddock.outline, DAY, DAY) is None
