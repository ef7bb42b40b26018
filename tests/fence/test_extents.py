from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import numpy as np
import pytest
import shapely
from shapely import affinity

from pigmap.document.edits import place_paddock, record_net_use, record_stay
from pigmap.fence.extents import Fenced, StandingNet, laid_round, nets_round, shared_nets
from pigmap.records import Edit, Farm, NetKind
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
OLD = shapely.box(0, 0, 100, 50)
BEFORE = square(0).outline


def nets_shared(outline: shapely.Polygon, nets: Sequence[StandingNet]) -> int:
    return len(shared_nets(outline, nets))


def shared(new: shapely.Polygon, old: shapely.Polygon = OLD, ground_per_grid: float = 1.0) -> int:
    return nets_shared(new, laid_round([Fenced(old, FIFTY)], [], ground_per_grid))


def above(west: float, wide: float = 50.0) -> shapely.Polygon:
    """Return ground along the north side of the old, whose two nets meet at 50 m."""
    return shapely.box(west, 50, west + wide, 100)


@pytest.mark.parametrize(
    ("west", "wide", "nets"),
    [
        (25.0, 50.0, 2),
        (0.0, 50.0, 1),
        (50.0, 50.0, 1),
        (0.08, 50.0, 1),
        (0.12, 50.0, 2),
        (0.0, 100.0, 2),
        (60.0, 20.0, 1),
        (-25.0, 50.0, 1),
        (-50.0, 50.0, 0),
        (-50.0, 200.0, 2),
    ],
)
def test_every_net_that_the_new_side_touches_stays(west: float, wide: float, nets: int) -> None:
    assert shared(above(west, wide)) == nets


@pytest.mark.parametrize("turned", [0.3, 30.0, 90.0, 217.0])
def test_turning_the_farm_changes_nothing(turned: float) -> None:
    old, new = (affinity.rotate(each, turned, origin=(7, -3)) for each in (OLD, above(25.0)))
    assert shared(new, old) == 2


def test_nets_are_as_long_on_the_ground_as_they_are() -> None:
    small = shapely.box(0, 0, 80, 40)
    assert shared(shapely.box(20, 40, 60, 80), small, 1.25) == 2
    assert shared(shapely.box(0, 40, 40, 80), small, 1.25) == 1


def test_a_net_round_the_corner_of_two_shared_sides_stays_once() -> None:
    corner = shapely.Polygon([(20, 20), (20, -30), (-30, -30), (-30, 20), (0, 20), (0, 0), (20, 0)])
    assert shared(corner, shapely.box(0, 0, 20, 20)) == 2  # 80 m of side: one net ends 10 m up the last side
    assert shared(shapely.box(0, -30, 25, 0), shapely.box(0, 0, 25, 25)) == 1


def test_a_side_that_two_share_has_the_nets_of_the_first() -> None:
    nets = laid_round([Fenced(shapely.box(0, 0, 50, 50), FIFTY), Fenced(shapely.box(50, 0, 100, 50), FIFTY)], [], 1.0)
    assert len(nets) == 7
    assert nets_shared(above(25.0), nets) == 2
    assert nets_shared(above(0.0, 100.0), nets) == 2


def test_nets_end_where_their_run_does_and_take_up_its_play() -> None:
    nets = laid_round([Fenced(shapely.box(0, 0, 50.02, 50.0), FIFTY)], [], 1.0)
    assert [round(net.line.length, 2) for net in nets] == [50.0, 50.0, 50.0, 50.04]
    assert sum(net.line.length for net in nets) == pytest.approx(200.04)


def test_a_line_of_no_length_is_shared_by_nobody() -> None:
    assert nets_shared(OLD, [StandingNet(shapely.LineString([(0, 0), (0, 0)]), FIFTY)]) == 0
    assert nets_shared(OLD, []) == 0


def with_uses(*runs: list[tuple[float, float]], paddock: str = PADDOCK) -> Farm:
    return done(example(), *(record_net_use(paddock, KIND, shapely.LineString(run), DAY) for run in runs))


def lines(farm: Farm, *, uid: str = PADDOCK, ground: shapely.Polygon = BEFORE) -> tuple[StandingNet, ...]:
    return nets_round(farm, [Fenced(ground, farm.net_kinds[KIND], uid)], DAY + timedelta(days=5))


def test_nets_stand_where_they_are_recorded_and_the_rest_is_laid() -> None:
    # The net of the north side goes round two corners: 5 m down each side.
    farm = with_uses([(10, 55), (10, 60), (50, 60)], [(50, 60), (60, 60), (60, 20)])
    north = shapely.box(10, 60, 60, 110)
    assert nets_shared(north, lines(farm)) == 2
    assert nets_shared(north, lines(example())) == 1
    found = lines(farm)
    assert sum(net.line.length for net in found) == pytest.approx(200.0)
    assert len(found) == 5


def test_a_line_all_the_way_round_tells_of_no_single_net() -> None:
    ring = [*BEFORE.exterior.coords]
    assert nets_shared(square(1).outline, lines(with_uses(ring, ring, ring, ring))) == 1


def test_a_net_that_is_written_down_twice_stands_once() -> None:
    east = [(60.0, 10.0), (60.0, 60.0)]
    assert nets_shared(square(1).outline, lines(with_uses(east, east[::-1]))) == 1


def test_a_net_left_by_the_paddock_before_counts_where_the_next_uses_it() -> None:
    farm = done(with_uses([(60, 10), (60, 60)]), place_paddock(square(1), net_kind_uid=KIND, uid="b"))
    found = lines(farm, uid="b", ground=square(1).outline)
    assert len(found) == 4
    assert nets_shared(BEFORE, found) == 1
    far = lines(farm, uid="b", ground=square(3).outline)
    assert nets_shared(BEFORE, far) == 0


def test_nets_that_are_taken_up_or_not_set_yet_stand_nowhere() -> None:
    day, run = DAY + timedelta(days=5), shapely.LineString([(10, 55), (10, 60), (50, 60)])
    gone: list[Edit] = [
        record_net_use(PADDOCK, KIND, run, DAY, taken_on=day),
        record_net_use(PADDOCK, KIND, run, day + timedelta(days=1)),
    ]
    assert len(lines(done(example(), *gone))) == 4


def test_a_fence_closes_a_side_without_a_net() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY), record_stay(OTHERS, PADDOCK, DAY))
    fence = shapely.LineString([(0, 10), (400, 10)])
    found = nets_round(farm, [Fenced(BEFORE, farm.net_kinds[KIND], PADDOCK)], DAY, [fence])
    assert len(found) == 3
    assert np.min([shapely.get_coordinates(net.line)[:, 1].max() for net in found]) > 10
