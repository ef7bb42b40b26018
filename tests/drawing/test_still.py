from __future__ import annotations

from dataclasses import replace
from datetime import date

import shapely

from pigmap.drawing.layer import Outlines, Tiles
from pigmap.drawing.scene import map_layers
from pigmap.drawing.still import still_layers
from pigmap.records import FlowLine, KeepOut, Reason, add
from tests.drawing.small_farm import small_farm

DAY, NEXT = date(2026, 5, 13), date(2026, 5, 20)


def test_what_is_the_same_on_all_days_is_made_once() -> None:
    farm = small_farm()
    layers = still_layers(farm, DAY)
    assert still_layers(farm, NEXT) is layers
    assert all(layer.still for layer in layers if isinstance(layer, Outlines))


def test_another_line_a_keep_out_of_some_months_and_bright_sun_make_it_anew() -> None:
    farm = small_farm()
    pond = shapely.box(0, 0, 9, 9)
    in_may = KeepOut(reason=Reason.FLOOD, shape=pond, from_month_day="05-15", to_month_day="05-31")
    drawn = farm.after([add(FlowLine(line=shapely.LineString([(0, 0), (9, 9)])))])
    flooded = farm.after([add(in_may)])
    layers = still_layers(farm, DAY)
    assert len(still_layers(drawn, DAY)) == len(layers) + 1
    assert still_layers(flooded, DAY) is not still_layers(flooded, NEXT)
    bold = [each for each in still_layers(farm, DAY, more_px=1.0) if isinstance(each, Outlines)]
    thin = [each for each in still_layers(farm, DAY) if isinstance(each, Outlines)]
    assert [each.strokes[0].casing_width.px for each in bold] == [each.strokes[0].casing_width.px + 1 for each in thin]


def test_they_lie_over_the_ground_and_under_all_that_changes() -> None:
    layers = [layer for layer in map_layers(small_farm(), DAY) if not isinstance(layer, Tiles)]
    still = [bool(getattr(layer, "still", False)) for layer in layers]
    first = still.index(True)
    assert still == [False] * first + [True] * sum(still) + [False] * (len(still) - first - sum(still))


def test_the_same_image_shown_alike_is_the_same_layer() -> None:
    one = Tiles("air", 1.0)
    assert one == Tiles("air", 1.0)
    assert one != replace(one, opacity=0.5)
