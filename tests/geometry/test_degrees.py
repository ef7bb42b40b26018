from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from pigmap.geometry.degrees import degrees_at
from pigmap.geometry.projection import projection_for, projection_round
from pigmap.records import Projection
from pigmap.records.projection import NO_PLACE

SPOT = shapely.Point(500_000.0, 5_538_630.703)


def test_a_spot_comes_back_in_degrees() -> None:
    round_it = projection_round(-3.9771, 50.6622, 0.0, 0.0)
    assert degrees_at(round_it, shapely.Point(0.0, 0.0)) == pytest.approx((50.6622, -3.9771), abs=1e-6)
    assert degrees_at(projection_for("EPSG:32632", (9.0, 50.0)), SPOT) == pytest.approx((50.0, 9.0), abs=1e-6)


@pytest.mark.parametrize(
    "projection",
    [
        NO_PLACE,
        Projection(name="plane", authority="NONE", code=0, definition=""),
        replace(NO_PLACE, definition='LOCAL_CS["shed",UNIT["metre",1]]'),
        replace(
            NO_PLACE,
            definition='ENGCRS["shed",EDATUM["shed"],CS[Cartesian,2],AXIS["x",east],AXIS["y",north],'
            'LENGTHUNIT["metre",1]]',
        ),
    ],
    ids=lambda each: each.definition[:12],
)
def test_a_plan_that_lies_nowhere_has_no_degrees(projection: Projection) -> None:
    assert degrees_at(projection, SPOT) is None


def test_a_spot_far_off_its_projection_has_no_degrees_rather_than_any() -> None:
    found = degrees_at(projection_for("EPSG:32632", (9.0, 50.0)), shapely.Point(1e30, 1e30))
    assert found is None
