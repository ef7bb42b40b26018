from __future__ import annotations

import shapely

from pigmap.builtin.rules.barbed_wire import rule as barbed_wire
from pigmap.builtin.rules.two_energizers import rule as two_energizers
from pigmap.builtin.rules.wildlife_edges import rule as wildlife_edges
from pigmap.cli.breaches import breach_row, lines_of
from pigmap.cli.printing import Row
from pigmap.planning.rule import Breach, Rule
from pigmap.records import Farm, Place, PlaceKind, Record, Way, WayKind
from pigmap.text import Text
from tests.planning.invented import TODAY, farm_with, stay

BROOK = Way(kind=WayKind.WATERCOURSE, name="Brook", line=shapely.LineString([(-5, -2), (300, -2)]))
END = "(LEL Baden-Württemberg, Schafbeweidung, 2018, p. 71-72; hunters of Vorarlberg on grazing nets)"


def _rows(rule: Rule, farm: Farm) -> list[Row]:
    return [breach_row(farm, rule.name, breach) for breach in rule.breaches(farm, TODAY)]


def _beside_brook(count: int) -> list[Record]:
    return [row for number in range(count) for row in stay("sows", (50 * number, 0), 2 + number, 3 + number)]


def test_a_caution_is_told_with_its_number_what_to_do_and_its_source() -> None:
    (line,) = lines_of(_rows(wildlife_edges, farm_with(BROOK, *_beside_brook(1))))
    assert line == (
        "care 2026-05-22 W12: 0 0 has a side along Brook, where wild animals pass. Look along that side first every "
        f"day, hang bright tape on it, and take the nets away when pigs leave. {END}"
    )


def test_the_same_of_several_paddocks_is_one_line_with_their_names() -> None:
    (line,) = lines_of(_rows(wildlife_edges, farm_with(BROOK, *_beside_brook(3))))
    assert "Likewise: 50 0, 100 0. (LEL" in line
    (line,) = lines_of(_rows(wildlife_edges, farm_with(BROOK, *_beside_brook(6))))
    assert "Likewise: 50 0, 100 0, 150 0, 200 0 and 1 more. (LEL" in line


def test_what_differs_in_what_to_do_stays_apart() -> None:
    fence = Way(
        kind=WayKind.PERMANENT_FENCE, note="barbed", line=shapely.LineString([(0, 0), (300, 0)]), electric=False
    )
    farm = farm_with(fence, *stay("sows", (0, 0), -9, -5), *_beside_brook(2))
    assert len(list(lines_of(_rows(barbed_wire, farm)))) == 2  # what is over, and what is planned


def test_places_and_other_rules_have_a_line_each() -> None:
    places = [Place(kind=PlaceKind.ENERGIZER, point=shapely.Point(east, 0)) for east in (0, 9, 18)]
    assert len(list(lines_of(_rows(two_energizers, farm_with(*places))))) == 2
    breach = Breach("stays", "sows 0 0 2", Text("Odd."), Text("Look."), "care", TODAY)
    farm = farm_with(*_beside_brook(1))
    plain = [breach_row(farm, "other", breach)] * 2
    assert list(lines_of([dict(row) for row in plain])) == ["care 2026-05-20: Odd. Look."] * 2
