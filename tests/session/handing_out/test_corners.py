from __future__ import annotations

import shapely

from pigmap.records import Paddock
from pigmap.session.handing_out.corners import corners_of, rings_of, short_name
from pigmap.session.handing_out.order import in_order
from tests.ground.invented import farm, field, square


def paddock(name: str, outline: shapely.Polygon) -> Paddock:
    return Paddock(uid=name, name=name, outline=outline)


def test_corners_are_walked_against_the_clock_and_the_next_paddock_begins_where_the_last_one_ended() -> None:
    one, two = paddock("Ley 2", square(0, 0)), paddock("Ley 10", square(50, 0))
    found = corners_of(farm(field(), one, two), [two, one])
    assert found.called == ("Ley 2-1", "Ley 2-2", "Ley 2-3", "Ley 2-4", "Ley 10-1", "Ley 10-2", "Ley 10-3", "Ley 10-4")
    points = [(point.x - 500_000, point.y - 5_200_000) for point in found.shapes if isinstance(point, shapely.Point)]
    assert points[:4] == [(0, 0), (50, 0), (50, 50), (0, 50)]
    assert points[4] == (50, 0)


def test_points_on_a_straight_side_are_no_corners() -> None:
    sides = shapely.segmentize(square(0, 0), 10.0)
    (ring,) = rings_of(sides)
    assert len(ring) == 4


def test_a_hole_is_walked_after_the_edge() -> None:
    outline = shapely.Polygon(square(0, 0).exterior.coords, [square(10, 10, 5).exterior.coords])
    found = corners_of(farm(), [paddock("Ley", outline)])
    assert found.called[-1] == "Ley-8"


def test_short_names_are_never_alike() -> None:
    taken: set[str] = set()
    names = [short_name("Long Meadow by the brook 4", taken) for _ in range(60)]
    assert len(set(names)) == 60
    assert names[:2] == ["LMbtb4", "LMbtb4b"]
    assert short_name("Hinterwälderwiese", taken) == "Hinterwä"


def test_paddock_nine_stands_before_paddock_ten() -> None:
    rows = [paddock(name, square(0, 0)) for name in ("P 10", "P 9", "p 8", "P " + "9" * 40)]
    assert [row.name for row in in_order(rows)] == ["p 8", "P 9", "P 10", "P " + "9" * 40]
