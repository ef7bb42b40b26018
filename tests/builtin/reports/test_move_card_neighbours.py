from __future__ import annotations

from dataclasses import dataclass, field
from typing import cast

import pytest
import shapely

from pigmap.builtin.reports.move_card_frame import SketchFrame
from pigmap.builtin.reports.move_card_neighbours import _SIGN_MM, _free_spot


@dataclass
class Taken:
    """As much of a sketch as the search for a free spot needs."""

    taken: list[shapely.Polygon] = field(default_factory=list)

    def is_free(self, area: shapely.Polygon) -> bool:
        return not any(area.intersects(each) for each in self.taken)


def _spot(ground: shapely.Geometry, *taken: shapely.Polygon) -> tuple[float, float] | None:
    return _free_spot(ground, cast("SketchFrame", Taken(list(taken))))


def test_a_sign_stands_in_the_middle_of_its_ground() -> None:
    assert _spot(shapely.box(0, 0, 20, 20)) == pytest.approx((10.0, 10.0), abs=0.2)


def test_a_sign_whose_middle_is_taken_stands_elsewhere_on_its_own_ground() -> None:
    ground, plate = shapely.Polygon([(0, 0), (30, 0), (0, 30)]), shapely.box(4, 4, 13, 13)
    spot = _spot(ground, plate)
    assert spot is not None
    x, y = spot
    assert ground.contains(shapely.Point(spot))
    assert not shapely.box(x - _SIGN_MM / 2, y - _SIGN_MM / 2, x + _SIGN_MM / 2, y + _SIGN_MM / 2).intersects(plate)


def test_where_nothing_is_free_there_is_no_sign() -> None:
    assert _spot(shapely.box(0, 0, 20, 20), shapely.box(-9, -9, 30, 30)) is None
    assert _spot(shapely.box(0, 0, 4, 4)) is None
