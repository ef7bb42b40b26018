"""The card with the first steps after a shock: it says where each switch is, and fills a place that is left."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import partial

import pytest
import shapely

from pigmap.builtin.reports.move_card import HIGH_MM, MARGIN_MM, WIDE_MM
from pigmap.builtin.reports.shock_card import shock_card
from pigmap.document.edits import add_group, add_place, tell_energizer_at, tell_energizer_of
from pigmap.drawing.letters import breadth
from pigmap.drawing.page import SheetRequest, Words
from pigmap.drawing.words import render
from pigmap.geometry.projection import projection_for
from pigmap.records import Edit, Energizer, Farm, PlaceKind, PowerSource, add
from pigmap.records.projection import NO_PLACE
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, done, example

REQUEST = SheetRequest(day=DAY, today=DAY, printed_at=datetime(2026, 5, 1, 7))


def words(farm: Farm) -> list[str]:
    card = shock_card(farm, REQUEST, partial(render, language="", system="metric"))
    return [item.words for item in card if isinstance(item, Words)]


def told() -> Farm:
    """Return a farm with an energizer in the yard and one that moves with a group."""
    farm = done(example(), add_place(PlaceKind.ENERGIZER, shapely.Point(1, 2), name="Yard", uid="yard"))
    farm = done(farm, tell_energizer_at("yard", source=PowerSource.MAINS))
    return done(farm, tell_energizer_of(GROUP, source=PowerSource.BATTERY))


def test_switching_off_comes_first_and_local_advice_before_the_card() -> None:
    said = " ".join(words(example()))
    first, second = said.index("Switch off before you touch anyone"), said.index("Do not stand in water")
    assert first < second < said.index("call for help") < said.index("See a doctor")
    assert said.endswith("A first aid course and what is said where you live come before this card.")
    assert "No energizer is told of: write it here." in said


def test_each_switch_is_told_with_how_it_goes_off() -> None:
    farm = told()
    said = words(farm)
    assert "Yard: mains, plug out; on the field map" in said  # this farm lies nowhere on earth
    group = farm.groups[GROUP].name
    assert f"{group}, own unit: one lead off the battery; at the fence of {group}" in said


def test_an_energizer_of_which_only_the_place_is_known_is_told_too() -> None:
    farm = done(example(), add_place(PlaceKind.ENERGIZER, shapely.Point(1, 2), name="Shed"))
    assert "Shed: on the field map" in words(farm)


def test_a_farm_that_was_begun_without_a_place_has_its_card_too() -> None:
    said = words(replace(told(), projection=NO_PLACE))
    assert "Yard: mains, plug out; on the field map" in said
    assert "on the field map" not in said  # where the farm is, someone writes down


def test_on_earth_the_switch_is_where_a_phone_shows_it() -> None:
    farm = replace(told(), projection=projection_for("EPSG:32632", (9.0, 50.0)))
    place = farm.places["yard"]
    moved = replace(place, point=shapely.Point(500_000.0, 5_538_630.703))
    farm = done(farm, Edit(Text("Moved."), lambda farm: [add(moved)]))
    assert any(each.endswith("50.00000, 9.00000") for each in words(farm))


@pytest.mark.parametrize("count", [5, 12])
def test_many_energizers_do_not_push_the_lines_off_the_card(count: int) -> None:
    farm = told()
    many = [Energizer(name=f"Far unit {number} behind the second gate of the hollow") for number in range(count)]
    farm = done(farm, Edit(Text("Many."), lambda farm: [add(each) for each in many]))
    card = list(shock_card(farm, REQUEST, partial(render, language="", system="metric")))
    lines = [item for item in card if isinstance(item, Words)]
    assert any(each.words == f"and {count - 2} more on the field map" for each in lines)
    assert max(each.y_mm for each in lines) <= HIGH_MM - MARGIN_MM
    last = next(each for each in lines if each.words == "Who has the switch")
    assert last.y_mm < 138
    for each in lines:
        if each.align == "left":
            assert each.x_mm + breadth(each.words, each.size_mm, each.weight) <= WIDE_MM - MARGIN_MM + 0.5


def test_a_group_without_paddocks_is_no_trouble() -> None:
    farm = done(example(), add_group("Late pigs", uid="late"))
    assert any(each.startswith("Late pigs, own unit") for each in words(done(farm, tell_energizer_of("late"))))
