from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from types import MappingProxyType

import numpy as np
import pytest
import shapely

from pigmap.builtin.reports.field_map import report
from pigmap.builtin.reports.sheet_corners import LETTERS, corners_of, ring_of
from pigmap.builtin.reports.sheet_frame import ROUND_SCALES, grid_step, least_scale, spaced
from pigmap.builtin.reports.sheet_nets import net_lines
from pigmap.drawing.layer import Cells, Labels
from pigmap.drawing.on_day import on_day
from pigmap.drawing.page import PAPERS, Box, MapFrame, Page, PaperName, Rule, SheetRequest, Words
from pigmap.drawing.words import render
from pigmap.errors import SheetError
from pigmap.records import Farm, NetKind, Way, WayKind
from pigmap.units import System
from tests.drawing.small_farm import PER_GRID, TODAY, RestAndRooting, SmallState, field, small_farm


def _request(
    *, paper: PaperName = "A4", scale: int | None = None, field_uid: str | None = "long", system: System = "metric"
) -> SheetRequest:
    return SheetRequest(
        day=TODAY,
        field_uid=field_uid,
        paper=paper,
        scale=scale,
        printed_at=datetime(2025, 10, 14, 7, 41),
        today=TODAY,
        tint=RestAndRooting(),
        system=system,
    )


def _page(farm: Farm | None = None, request: SheetRequest | None = None) -> Page:
    return report.make(farm or small_farm(), {"long": SmallState()}, request or _request())


def _words(page: Page) -> list[str]:
    return [item.words for item in page.items if isinstance(item, Words)]


def _map(page: Page) -> MapFrame:
    return max((item for item in page.items if isinstance(item, MapFrame)), key=lambda item: item.view.width)


def test_the_scale_counts_metres_of_ground_not_of_the_grid() -> None:
    view = _map(_page(request=_request(scale=2000))).view
    assert view.metres_per_unit * PER_GRID == pytest.approx(2.0, rel=1e-12)
    assert "Scale 1:2000 on A4. Made Tue 14 Oct 2025, 07:41." in _words(_page(request=_request(scale=2000)))


def test_a_field_is_drawn_as_large_as_a_round_scale_lets_it() -> None:
    page = _page()
    view, bounds = _map(page).view, field().outline.bounds
    scale = round(view.metres_per_unit * PER_GRID * 1000)
    assert scale in ROUND_SCALES
    west, south, east, north = view.bounds
    assert west < bounds[0] < bounds[2] < east
    assert south < bounds[1] < bounds[3] < north
    tighter = max(each for each in ROUND_SCALES if each < scale)
    assert least_scale(bounds, view.width, view.height, PER_GRID) > tighter


def test_a_scale_at_which_the_field_does_not_fit_is_refused_with_the_one_that_fits() -> None:
    with pytest.raises(SheetError) as refused:
        _page(request=_request(scale=500))
    assert str(refused.value.message) == "At 1:500 the ground is larger than the map on this paper."
    assert str(refused.value.remedy) == "It fits at 1:2000, or on larger paper."
    assert _page(request=_request(scale=2000))


def test_a_day_without_a_field_is_refused_in_words() -> None:
    farm = replace(small_farm(), fields=MappingProxyType({}))
    with pytest.raises(SheetError) as refused:
        _page(farm)
    assert "There is no field to print on" in str(refused.value.message)
    assert "Draw a field first" in str(refused.value.remedy)


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_lies_beyond_the_margin_on_any_paper(paper: PaperName) -> None:
    page = _page(request=_request(paper=paper))
    assert {page.width_mm, page.height_mm} == set(PAPERS[paper])
    for item in page.items:
        for x, y in _ends(item):
            assert 8.9 <= x <= page.width_mm - 8.9, item
            assert 5.0 <= y <= page.height_mm - 8.9, item


def _ends(item: object) -> list[tuple[float, float]]:
    if isinstance(item, Rule):
        return [(item.x1_mm, item.y1_mm), (item.x2_mm, item.y2_mm)]
    if isinstance(item, Box):
        return [(item.x_mm, item.y_mm), (item.x_mm + item.width_mm, item.y_mm + item.height_mm)]
    if isinstance(item, MapFrame):
        return [(item.x_mm, item.y_mm), (item.x_mm + item.view.width, item.y_mm + item.view.height)]
    return [(item.x_mm, item.y_mm)] if isinstance(item, Words) else []


def test_blocks_beside_the_map_do_not_run_into_each_other() -> None:
    for paper in PAPERS:
        page = _page(request=_request(paper=paper))
        readings = next(item for item in page.items if isinstance(item, Words) and item.words == "Readings")
        words = [item for item in page.items if isinstance(item, Words)]
        column = [item for item in words if item.x_mm >= readings.x_mm and item.y_mm < readings.y_mm]
        above = [item.y_mm for item in column if item.x_mm < readings.x_mm + 60]
        assert max(above) < readings.y_mm - 2.5, paper
        local = next(item for item in words if item.words.endswith("Local rules come first."))
        assert local.y_mm < page.height_mm - 11


def test_a_tall_field_is_printed_upright() -> None:
    tall = shapely.MultiPolygon([shapely.box(512_000, 203_000, 512_120, 203_500)])
    farm = replace(small_farm(), fields=MappingProxyType({"long": replace(field(), outline=tall)}))
    page = _page(farm)
    assert page.height_mm > page.width_mm
    assert "Take care" in _words(page)
    assert "Notes" in _words(page)


def test_the_title_says_who_is_where_and_when_the_next_move_is() -> None:
    words = _words(_page())
    assert "Long Field" in words
    assert "Field map for Tuesday 14 October 2025" in words
    assert "Dry sows in paddock 8, day 4 of 5. Next move Thursday 16 October." in words


def test_nets_to_set_to_leave_and_to_take_up_stand_beside_the_map() -> None:
    words = _words(_page())
    assert "Nets for Thursday 16 October" in words
    at = words.index("set")
    assert words[at : at + 3] == ["set", "3 \N{MULTIPLICATION SIGN} 50 m, blue tape", "A to E, E to F, F to D"]
    at = words.index("leave")
    assert words[at + 1] == "1 \N{MULTIPLICATION SIGN} 50 m, blue tape"
    assert words[at + 2] == "D to A, side both use"
    assert words[words.index("take up") + 1] == "3 \N{MULTIPLICATION SIGN} 50 m, blue tape"


def test_a_paddock_of_unknown_nets_is_listed_by_length() -> None:
    farm = small_farm()
    bare = {uid: replace(paddock, net_kind_uid=None) for uid, paddock in farm.paddocks.items()}
    half = NetKind(uid="half", name="25 m nets", bays_mm=(25_000,))  # of one kind alone it would be known
    farm = replace(farm, paddocks=MappingProxyType(bare), net_kinds={**farm.net_kinds, half.uid: half})
    shown = on_day(farm, TODAY)
    first = net_lines(farm, shown.planned[0], shown.running, ())[0]
    assert render(first.nets) == "150 m of net"


def test_corners_carry_letters_without_i_and_o_and_say_what_stands_there() -> None:
    shown = on_day(small_farm(), TODAY)
    corners = corners_of(shown.running[:1], shown.planned, PER_GRID)
    assert "".join(corner.letter for corner in corners) == "ABCDEFGHJK"
    assert not {"I", "O"} & set(LETTERS)
    told = [render(corner.now) for corner in corners]
    beside = ["50 m from A", "50 m from D", "50 m from E", "50 m from F", "50 m from G", "50 m from H"]
    assert told == [*["stands"] * 4, *beside]  # by its day the paddock before stands


def test_a_corner_with_none_beside_it_is_marked_by_a_peg() -> None:
    corners = corners_of((), on_day(small_farm(), TODAY).planned[:1], PER_GRID)
    assert [render(corner.now) for corner in corners] == ["peg"] * 4


def test_how_far_a_corner_lies_from_another_is_told_in_metres_of_ground() -> None:
    shown = on_day(small_farm(), TODAY)
    corners = corners_of(shown.running[:1], shown.planned, 1.25 * PER_GRID)
    assert "62.5 m from A" in [render(corner.now) for corner in corners]


def test_corners_run_clockwise_from_the_north_west() -> None:
    ring = ring_of(shapely.box(0, 0, 50, 50))
    assert ring.tolist() == [[0, 50], [50, 50], [50, 0], [0, 0]]


def test_only_listed_corners_have_a_letter_on_the_map() -> None:
    page = _page()
    (labels,) = [layer for layer in _map(page).layers if isinstance(layer, Labels)]
    on_map = {label.words for label in labels.labels if label.look == "letter"}
    listed = {word for word in _words(page) if len(word) == 1 and word in LETTERS and word != "N"}
    assert on_map <= listed | {"N"}
    assert len(on_map) >= 4


def test_paddocks_that_rest_carry_their_days() -> None:
    (labels,) = [layer for layer in _map(_page()).layers if isinstance(layer, Labels)]
    rest = {label.words: label.second for label in labels.labels if label.look == "number"}
    assert rest["1"] == "66 d"
    assert rest["7"] == "4 d"


def test_only_the_field_of_the_sheet_is_coloured() -> None:
    cells = [layer for layer in _map(_page()).layers if isinstance(layer, Cells)]
    assert [layer.field_uid for layer in cells] == ["long"]


def test_cautions_speak_of_live_fences_overhead_lines_water_and_local_rules() -> None:
    said = " ".join(_words(_page()))
    for caution in (
        "Switch the energizer off before you handle a net.",
        "clear of the overhead line.",
        "Its owner can tell you the distance.",
        "Pond: keep 6 m off with fuel, feed and washing.",
        "Local rules come first.",
    ):
        assert caution in said


def test_people_who_pass_are_thought_of_only_where_a_path_is_near() -> None:
    farm = small_farm()
    assert "People pass by" in " ".join(_words(_page(farm)))
    far = Way(uid="path", kind=WayKind.PATH, line=shapely.LineString([(0, 0), (10, 0)]))
    farm = replace(farm, ways=MappingProxyType({**farm.ways, "path": far}))
    assert "People pass by" not in " ".join(_words(_page(farm)))


def test_the_whole_farm_fits_one_sheet() -> None:
    page = _page(request=_request(field_uid=None))
    view = _map(page).view
    for each in small_farm().fields.values():
        assert shapely.box(*view.bounds).contains(each.outline)
    assert "Invented Farm" in _words(page)


def test_feet_are_on_the_scale_bar_of_who_thinks_in_feet() -> None:
    assert any(words.endswith(" ft") for words in _words(_page(request=_request(system="us"))))
    assert any(words.endswith(" m") for words in _words(_page()))


def test_a_day_before_anything_happened_prints_an_empty_field() -> None:
    request = replace(_request(), day=date(2024, 3, 1))
    words = _words(_page(request=request))
    assert "Field map for Friday 1 March 2024" in words
    assert not any(word.startswith("Dry sows in") for word in words)


def test_ticks_keep_their_distance_at_every_scale() -> None:
    for scale in ROUND_SCALES:
        assert grid_step(scale) * 1000 / scale >= 16
    assert grid_step(2000) == 50
    assert spaced(5_612_731.84, 1) == "5 612 731.8"


def test_cells_under_the_sheet_are_those_of_the_ground() -> None:
    (cells,) = [layer for layer in _map(_page()).layers if isinstance(layer, Cells)]
    assert cells.codes.shape == SmallState().ground.region_of.shape
    assert set(np.unique(cells.codes).tolist()) <= {0, 1, 2, 3, 4, 5, 255}


def test_the_scale_bar_stands_where_it_hides_least_of_the_field() -> None:
    page = _page()
    frame = _map(page)
    bar = next(item for item in page.items if isinstance(item, Box) and item.width_mm > 40 and item.line_mm == 0.4)
    x, y = bar.x_mm - frame.x_mm, bar.y_mm - frame.y_mm
    west, north = frame.view.to_ground(x, y)
    east, south = frame.view.to_ground(x + bar.width_mm, y + bar.height_mm)
    assert shapely.box(west, south, east, north).intersection(field().outline).area < 1.0


def test_on_a_sheet_of_the_whole_farm_every_field_has_its_name() -> None:
    (labels,) = [layer for layer in _map(_page(request=_request(field_uid=None))).layers if isinstance(layer, Labels)]
    named = {label.words for label in labels.labels if label.once.startswith("field")}
    assert named == {"Long Field", "Barn Field"}


def test_one_of_several_sheets_says_which_it_is() -> None:
    words = _words(_page(request=replace(_request(), sheet=2, sheets=3)))
    assert any(line.endswith("Made Tue 14 Oct 2025, 07:41; sheet 2 of 3.") for line in words)


def test_many_keep_outs_leave_room_for_the_rest() -> None:
    farm = small_farm()
    pond = farm.keep_outs["pond"]
    many = {f"k{n}": replace(pond, uid=f"k{n}", name=f"Pond {n}") for n in range(20)}
    page = _page(replace(farm, keep_outs=MappingProxyType(many)))
    assert "Keep off the other hatched ground too." in _words(page)
    assert max(item.y_mm for item in page.items if isinstance(item, Words)) <= page.height_mm - 8.9


def test_the_key_says_from_when_on_the_records_of_the_field_tell() -> None:
    first = min(stay.in_on for stay in small_farm().stays.values())
    assert f"not known before {first:%B %Y}" in _words(_page(small_farm()))
