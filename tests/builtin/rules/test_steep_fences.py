from __future__ import annotations

import numpy as np
import shapely

from pigmap.builtin.rules.steep_fences import rule
from pigmap.geometry.cells import frame_over
from pigmap.geometry.steep import SlopeCells
from pigmap.planning.rule import SlopeRule, asked
from pigmap.planning.verify import breaches
from pigmap.records import Farm, Field
from tests.planning.invented import TODAY, farm_with, stay


def _farm() -> Farm:
    outline = shapely.MultiPolygon([shapely.box(0, 0, 200, 200)])
    field = Field(uid="hill", name="Hill", outline=outline, origin_x_m=0.0, origin_y_m=0.0, turned_deg=0.0)
    return farm_with(field, *stay("sows", (0, 0), -2, 4), *stay("sows", (50, 0), 4, 9))


def _slopes(farm: Farm, east_of: float, slope_deg: float) -> dict[str, SlopeCells]:
    frame = frame_over(farm.fields["hill"])
    slopes = np.zeros((frame.rows, frame.columns))
    slopes[:, round(east_of / frame.cell_m) :] = slope_deg
    return {"hill": SlopeCells(frame, slopes)}


def test_fences_that_stand_or_are_planned_are_told_where_the_ground_under_them_is_steep() -> None:
    farm = _farm()
    found = breaches(farm, [rule], TODAY, _slopes(farm, 90, 15.1))
    assert [(each.breach.uid, each.breach.weight, each.breach.caution) for each in found] == [
        ("sows 50 0 4", "care", "W13")
    ]
    assert len(breaches(farm, [rule], TODAY, _slopes(farm, 20, 15.1))) == 2
    assert breaches(farm, [rule], TODAY, _slopes(farm, 20, 15.0)) == []


def test_without_a_terrain_image_nothing_is_told_and_rules_that_ask_for_none_are_asked_as_ever() -> None:
    farm = _farm()
    assert isinstance(rule, SlopeRule)
    assert [*asked(rule, farm, TODAY, {})] == []
    from pigmap.builtin.rules.nets_enough import rule as other

    assert not isinstance(other, SlopeRule)
    assert [*asked(other, farm, TODAY, _slopes(farm, 20, 30.0))] == [*other.breaches(farm, TODAY)]
