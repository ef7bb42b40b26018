from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from types import MappingProxyType

import numpy as np
import pytest
import shapely

from pigmap.drawing.layer import Cells, Labels, Layer, Marks, Outlines, Tiles
from pigmap.drawing.nets import LINK
from pigmap.drawing.on_day import letter_of, on_day, short_name
from pigmap.drawing.scene import grid_layers, map_layers
from pigmap.drawing.strokes import NET, NET_PLANNED, SIDE_BOTH_USE
from pigmap.drawing.tinted import tinted_cells
from pigmap.drawing.tokens import BARE
from pigmap.records import Group, Image, Paddock
from tests.drawing.small_farm import (
    FIFTY,
    PER_GRID,
    TODAY,
    RestAndRooting,
    SmallState,
    paddock_at,
    small_farm,
)
from tests.drawing.small_farm import (
    NET as NET_M,
)


def _lines(layers: tuple[Layer, ...], stroke: object) -> list[Outlines]:
    return [layer for layer in layers if isinstance(layer, Outlines) and stroke in layer.strokes]


def _marks(layers: tuple[Layer, ...], sign: str) -> list[Marks]:
    return [layer for layer in layers if isinstance(layer, Marks) and layer.sign == sign]


def _words(layers: tuple[Layer, ...]) -> list[str]:
    return [label.words for layer in layers if isinstance(layer, Labels) for label in layer.labels]


def test_a_day_divides_paddocks_into_past_running_and_planned() -> None:
    shown = on_day(small_farm(), TODAY)
    assert [each.name for each in shown.running] == ["Long Field 8", "Barn Field 6"]
    assert [each.name for each in shown.planned] == ["Long Field 9", "Long Field 10", "Long Field 11"]
    assert len(shown.past) == 7
    assert [each.name for each in shown.next_planned] == ["Long Field 9"]


def test_a_day_long_ago_shows_nothing_that_came_later() -> None:
    shown = on_day(small_farm(), date(2024, 1, 1))
    assert not shown.running
    assert not shown.past


def test_a_group_that_is_past_its_day_out_still_stands_where_it_stood() -> None:
    shown = on_day(small_farm(), date(2025, 10, 20), date(2025, 10, 20))
    assert "Barn Field 6" in [each.name for each in shown.running]


def test_a_paddock_without_a_stay_is_shown_as_placed() -> None:
    farm = small_farm()
    paddock = Paddock(uid="new", name="Long Field 20", field_uid="long", outline=paddock_at(0, 0))
    farm = replace(farm, paddocks=MappingProxyType({**farm.paddocks, "new": paddock}))
    (placed,) = on_day(farm, TODAY).placed
    assert short_name(placed, farm) == "20"
    assert "20" in _words(map_layers(farm, TODAY))


def test_standing_nets_are_ink_with_a_post_at_every_bay() -> None:
    layers = map_layers(small_farm(), TODAY)
    (net,) = _lines(layers, NET)
    assert len(net.starts) - 1 == 2
    posts = max(_marks(layers, "dot"), key=lambda marks: len(marks.points))
    assert len(posts.points) == 2 * 4 * len(FIFTY.bays_mm)
    apart = np.hypot(*np.diff(posts.points[: len(FIFTY.bays_mm)], axis=0).T) * PER_GRID
    assert np.allclose(apart, 3.57, atol=0.02)


def test_planned_sides_are_drawn_once_each() -> None:
    (planned,) = _lines(map_layers(small_farm(), TODAY), NET_PLANNED)
    lines = shapely.MultiLineString(
        [planned.points[a:b] for a, b in zip(planned.starts[:-1], planned.starts[1:], strict=True)]
    )
    assert abs(lines.length - 10 * NET_M) < 0.5  # three squares in a row: ten sides, two of them common


def test_the_side_that_both_use_is_one_thick_line_with_a_link() -> None:
    layers = map_layers(small_farm(), TODAY)
    (side,) = _lines(layers, SIDE_BOTH_USE)
    assert abs(np.hypot(*(side.points[-1] - side.points[0])) - NET_M) < 0.05
    (link,) = [marks for marks in _marks(layers, "link") if marks.size == LINK]
    assert np.allclose(link.points[0], side.points.mean(axis=0), atol=0.05)


def test_four_brackets_stand_outside_what_is_picked() -> None:
    (brackets,) = _marks(map_layers(small_farm(), TODAY, picked=("paddocks", "p9")), "bracket")
    assert len(brackets.points) == 4
    assert not _marks(map_layers(small_farm(), TODAY, picked=("paddocks", "gone")), "bracket")


def test_a_point_can_be_picked_too() -> None:
    (brackets,) = _marks(map_layers(small_farm(), TODAY, picked=("places", "tap")), "bracket")
    assert len(brackets.points) == 4


def test_words_say_which_day_of_the_stay_it_is_and_when_the_next_ones_begin() -> None:
    layers = map_layers(small_farm(), TODAY)
    (labels,) = [layer for layer in layers if isinstance(layer, Labels)]
    running = next(label for label in labels.labels if label.sign == "group 0 S")
    assert (running.words, running.second) == ("8", "day 4 of 5")
    assert {"Thu 16 Oct", "Tue 21 Oct", "Sun 26 Oct"} <= set(_words(layers))
    assert "Overhead line: keep away" in _words(layers)


def test_on_a_day_to_come_a_planned_group_carries_its_sign() -> None:
    layers = map_layers(small_farm(), TODAY + timedelta(days=3))
    labels = [label for layer in layers if isinstance(layer, Labels) for label in layer.labels]
    nine = next(label for label in labels if label.words == "9")
    assert (nine.sign, nine.second, nine.look) == ("group 0 S", "day 2 of 5", "plan plate")


def test_images_lie_below_everything_and_without_one_there_is_a_grid() -> None:
    farm = small_farm()
    assert isinstance(map_layers(farm, TODAY)[0], Outlines)
    images = {"a": Image(uid="a", name="a", link="a.tif", position=2), "b": Image(uid="b", name="b", link="b.tif")}
    layers = map_layers(replace(farm, images=MappingProxyType(images)), TODAY, theme="dark")
    first, second = layers[:2]
    assert isinstance(first, Tiles)
    assert isinstance(second, Tiles)
    assert (first.image_uid, second.image_uid, first.dimmed) == ("b", "a", 0.16)


def test_lines_of_the_grid_are_fifty_metres_of_ground_apart() -> None:
    farm = small_farm()
    wide = replace(farm, projection=replace(farm.projection, ground_per_grid=1.25))
    (grid,) = grid_layers(wide, "#000000")
    assert isinstance(grid, Outlines)
    assert set(np.diff(np.unique(grid.points[:, 0])).round(6)) == {40.0}


def test_bright_widens_casings() -> None:
    (usual,) = _lines(map_layers(small_farm(), TODAY), NET)
    bright = [layer for layer in map_layers(small_farm(), TODAY, theme="bright") if isinstance(layer, Outlines)]
    widths = {stroke.casing_width.px for layer in bright for stroke in layer.strokes if stroke.casing}
    assert usual.strokes[0].casing_width.px + 1 in widths


def test_tinted_cells_leave_the_photo_outside_the_field() -> None:
    farm, state = small_farm(), SmallState()
    region_of = state.ground.region_of.copy()
    region_of[:, 0] = -1
    cells = tinted_cells(farm.fields["long"], state.ground.frame, region_of, state.layers, RestAndRooting())
    assert isinstance(cells, Cells)
    assert (cells.codes[:, 0] == BARE).all()
    assert cells.clods is not None
    assert cells.seen is not None
    assert cells.seen.any()
    ahead = tinted_cells(
        farm.fields["long"], state.ground.frame, region_of, state.layers, RestAndRooting(), computed=True
    )
    assert ahead.seen is not None
    assert not ahead.seen.any()


def test_letters_of_groups_skip_numbers() -> None:
    assert letter_of(Group(name="Weaners 2")) == "W"
    assert letter_of(Group(name="3")) == "3"


@pytest.mark.parametrize(
    ("name", "letter"), [("Little ones", "L"), ("Bacon lot", "B"), ("Old sows", "S"), ("Sows east", "S"), ("7 up", "U")]
)
def test_the_letter_of_a_group_is_the_first_of_its_name_or_of_what_pigs_they_are(name: str, letter: str) -> None:
    assert letter_of(Group(name=name)) == letter


def test_no_two_groups_of_a_farm_have_the_same_letter() -> None:
    growing, gilts, third = (Group(uid=name, name=name) for name in ("Growing", "Gilts", "Gg"))
    groups = {each.uid: each for each in (growing, gilts, third)}
    farm = replace(small_farm(), groups=MappingProxyType(groups))
    assert [letter_of(each, farm) for each in groups.values()] == ["G", "I", "G"]
    gone = replace(growing, closed_on=TODAY)
    later = replace(farm, groups=MappingProxyType({gone.uid: gone, gilts.uid: gilts}))
    assert letter_of(gilts, later) == "G"


def test_every_plate_has_its_own_look() -> None:
    layers = map_layers(small_farm(), TODAY)
    looks = {label.words: label.look for layer in layers if isinstance(layer, Labels) for label in layer.labels}
    assert (looks["8"], looks["Thu 16 Oct"], looks["Long Field"]) == ("plate", "plan plate", "name")
    assert (looks["Pond"], looks["Standpipe"]) == ("quiet", "quiet")
