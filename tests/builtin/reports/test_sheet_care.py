from __future__ import annotations

from datetime import timedelta

import numpy as np
import shapely

from pigmap.builtin.reports.sheet_care import cautions_of
from pigmap.drawing.words import render
from pigmap.geometry.cells import frame_over
from pigmap.geometry.steep import SlopeCells
from pigmap.records import Energizer, Record, Way, WayKind, WeatherDay
from tests.planning.invented import TODAY, farm_with, stay

YARD = Energizer(uid="yard", name="Yard unit")
WOOD = Energizer(uid="wood", name="Wood unit", group_uid="weaners")


def told(*rows: Record) -> list[str]:
    farm = farm_with(*rows)
    return [render(each) for each in cautions_of(farm, [*farm.fields.values()], TODAY)]


def way(kind: WayKind, east: float, **more: object) -> Way:
    return Way(kind=kind, line=shapely.LineString([(east, -100), (east, 300)]), **more)  # type: ignore[arg-type]


def test_without_anything_beside_it_a_sheet_has_the_usual_three() -> None:
    assert told(*stay("sows", (0, 0), -2, 5)) == [
        "Switch the energizer off before you handle a net.",
        "Look along the nets for caught wildlife every day.",
        "Figures are advice. Local rules come first.",
    ]


def test_two_energizers_at_one_time_are_told_of_and_one_after_the_other_are_not() -> None:
    words = "0 0 and 50 0 touch, and two energizers feed them: Yard unit and Wood unit."
    assert words in told(YARD, WOOD, *stay("sows", (0, 0), -2, 5), *stay("weaners", (50, 0), 2, 6))
    assert words not in told(YARD, WOOD, *stay("sows", (0, 0), -2, 2), *stay("weaners", (50, 0), 2, 6))


def test_what_stops_is_told_once_of_each_kind_and_the_overhead_line_first() -> None:
    rows = [*stay("sows", (0, 0), -2, 5), *stay("weaners", (50, 0), 2, 6)]
    barbed = way(WayKind.PERMANENT_FENCE, 100, note="barbed")
    said = told(YARD, WOOD, way(WayKind.OVERHEAD_LINE, 50, name="Old line"), barbed, *rows)
    assert said[2:4] == [
        "0 0 lies under Old line, and nothing tells how high that hangs.",
        "0 0 and 50 0 touch, and two energizers feed them: Yard unit and Wood unit.",
    ]
    assert not any("barbed" in each for each in said)
    assert any("50 0 stands against" in each for each in told(barbed, *rows))


def test_signs_are_counted_for_what_stands_and_what_comes_soon() -> None:
    rows = [*stay("sows", (0, 0), -2, 2), *stay("sows", (0, 50), 2, 6), *stay("sows", (0, 100), 30, 36)]
    said = told(way(WayKind.ROAD, 55), *rows)
    assert said[1] == "People pass by. Warning signs at most 50 m apart: 3 at 0 0 and 3 at 0 50."
    assert told(way(WayKind.ROAD, 305))[1] == ("People pass by: hang warning signs where they can reach the fence.")


def test_where_wild_animals_pass_is_looked_at_first() -> None:
    said = told(way(WayKind.WATERCOURSE, 53), *stay("sows", (0, 0), -2, 5))
    assert said[-2] == "Look for caught wildlife every day, first along water and woods: 0 0."


def test_frost_is_told() -> None:
    frost = [WeatherDay(day=TODAY - timedelta(days=days), min_c=-9.0, max_c=-1.0) for days in range(3)]
    assert told(*frost, *stay("sows", (0, 0), -2, 5))[1] == (
        "The ground: frost for 3 days up to Wed 20 May 2026. Read volts against a probe in it."
    )


def test_fences_across_water_are_told_and_one_beside_it_is_not() -> None:
    words = "0 0 lies across the watercourse. Live wire keeps out of water."
    assert words in told(way(WayKind.WATERCOURSE, 49.9), *stay("sows", (0, 0), -2, 5))
    assert words not in told(way(WayKind.WATERCOURSE, 50.1), *stay("sows", (0, 0), -2, 5))


def test_steep_ground_under_nets_is_told_where_a_terrain_image_tells_it() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 5), *stay("weaners", (100, 0), 2, 6))
    fields = [*farm.fields.values()]
    frame = frame_over(fields[0])
    slopes = np.zeros((frame.rows, frame.columns))
    slopes[:, round(90 / frame.cell_m) :] = 15.1
    said = [render(each) for each in cautions_of(farm, fields, TODAY, {"field": SlopeCells(frame, slopes)})]
    assert "Steep ground leaves holes under nets, and takes more of them: 100 0." in said
    slopes[slopes > 0] = 15.0
    said = [render(each) for each in cautions_of(farm, fields, TODAY, {"field": SlopeCells(frame, slopes)})]
    assert not any("Steep" in each for each in said)
