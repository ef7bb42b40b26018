from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from types import MappingProxyType

import pytest
import shapely

from pigmap.builtin.reports.move_card import HIGH_MM, MARGIN_MM, WIDE_MM
from pigmap.builtin.reports.move_cards import cards_on, report
from pigmap.document.edits import add_group, add_net_kind, feed_paddock, own_nets, place_paddock, record_stay
from pigmap.drawing.letters import breadth
from pigmap.drawing.page import PAPERS, Box, MapFrame, Page, PaperName, Rule, SheetRequest, Sign, Words
from pigmap.errors import SheetError
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Energizer, Farm, Net, NetUse, add
from pigmap.text import Text
from pigmap.units import System
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
LONG = "Weaners from the far hollow beyond the second gate"


def _farm(new: Rectangle, *edits: Edit) -> Farm:
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(new, net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
        *edits,
    )


def _with_others(old: int, new: int) -> Farm:
    return _farm(
        square(1),
        place_paddock(square(old), net_kind_uid=KIND, uid="others-1"),
        record_stay(OTHERS, "others-1", DAY),
        place_paddock(square(new), net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="others-2"),
    )


def _page(farm: Farm, *, day: date = MOVE, system: System = "metric", paper: PaperName = "A4", sheet: int = 1) -> Page:
    request = SheetRequest(
        day=day, today=DAY, printed_at=datetime(2026, 5, 1, 7), system=system, paper=paper, sheet=sheet
    )
    return report.make(farm, {}, request)


def _words(page: Page, card: int = 0) -> list[str]:
    left, top = cards_on("A4").corner(card)
    return [
        item.words
        for item in page.items
        if isinstance(item, Words) and left <= item.x_mm <= left + WIDE_MM and top <= item.y_mm <= top + HIGH_MM
    ]


def _steps(page: Page, card: int = 0) -> str:
    """Return the numbers and words of the steps of a card, in the order in which they stand."""
    words = _words(page, card)
    return " ".join(words[words.index("1", words.index("N") + 1) :])


def _in_order(steps: str, *parts: str) -> bool:
    found = [steps.find(part) for part in parts]
    return -1 not in found and found == sorted(found)


def test_there_is_a_card_for_each_move_and_one_for_all() -> None:
    page = _page(_with_others(4, 5))
    heads = [item.words for item in page.items if isinstance(item, Words) and item.size_mm == 6.4]
    assert (sorted(heads[:2]), heads[2:]) == (["Sows", "Weaners"], ["Moves", "After a shock"])
    assert [words for words in _words(page) if words.startswith("move ")] == ["move 1 of 2"]


def test_the_steps_stand_in_the_order_in_which_no_fence_is_open_to_the_outside() -> None:
    assert _in_order(
        _steps(_page(_farm(square(1)))),
        "1 Go into paddock 2 with 3 nets, and the vehicle if there is one.",
        "2 Set the new sides, ",
        "3 Close. Switch on. Read the volts.",
        "4 Switch off. Open the side from inside, several posts wide.",
        "5 Pigs cross. Count 8 pigs. Water on both sides until then.",
        "6 Gear through the opening; a hut, if there is one, last.",
        "7 If there is a vehicle: back through the opening, into paddock 1.",
        "8 Close the side. Switch on. Read the volts.",
        "9 Take down 3 nets from inside paddock 1. Go out over its ground: no pig is left there.",
    )


def test_without_a_shared_side_the_new_paddock_is_live_before_pigs_walk_and_nothing_opens_to_the_outside() -> None:
    steps = _steps(_page(_farm(square(3))))
    assert _in_order(
        steps,
        "Set all sides of paddock 2. Nothing opens yet.",
        "Close. Switch on. Read the volts before any pig walks.",
        "Local practice first. Two people, boards: build a closed way",
        "Open both paddocks into the closed way only, never to the",
        "Close paddock 2 behind them. Switch on. Read the volts.",
        "Take down 4 nets from inside paddock 1.",
    )
    assert "Open the side" not in steps
    assert "open here" not in _words(_page(_farm(square(3))))


def test_a_side_that_ends_at_no_common_corner_is_opened_in_its_middle() -> None:
    steps = _steps(_page(_farm(Rectangle(60.0, 20.0, 0.0, 25_000, 25_000))))
    assert "Open the side near its middle, from inside, several posts wide; its ends" in steps


def test_where_old_and_new_overlap_no_outer_side_is_opened() -> None:
    steps = _steps(_page(_farm(Rectangle(35.0, 10.0, 0.0, 50_000, 50_000))))
    assert "The two overlap. Local practice first." in steps
    assert "Open only between the two, never to the outside." in steps
    assert "Open the side" not in steps


def test_a_group_from_elsewhere_comes_into_a_paddock_that_is_closed_and_live() -> None:
    farm = done(example(), place_paddock(square(1), net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="next"))
    steps = _steps(_page(farm))
    assert _in_order(steps, "Read the volts before any pig comes.", "Open to the closed way only", "Close behind them.")


def test_the_boxes_ask_for_pigs_volts_rooting_and_water() -> None:
    words = _words(_page(_farm(square(1))))
    assert {"pigs counted", "of 8", "volts, kV", "how rooted", "water"} <= set(words)


def test_a_paddock_that_was_placed_all_the_same_says_so_on_its_card_and_on_the_last() -> None:
    farm = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, why="the pond is dry"),
    )
    page = _page(farm)
    words = _words(page)
    assert words[words.index("Take care:") + 1] == "Placed all the same: the pond is dry."
    assert any("2 is placed all the same: the pond is dry." in each for each in _words(page, 1))
    assert "Take care:" not in _words(_page(_farm(square(1))))


def test_net_numbers_stand_only_where_the_farm_has_them() -> None:
    farm = _farm(square(1))
    assert not any("no." in words for words in _words(_page(farm)))
    net = Net(uid="n", net_kind_uid=KIND, number="36")
    use = NetUse(
        uid="u", net_uid="n", net_kind_uid=KIND, paddock_uid=PADDOCK, set_on=DAY,
        run=shapely.LineString([(60, 10), (60, 60)]),
    )  # fmt: skip
    farm = replace(farm, nets=MappingProxyType({**farm.nets, "n": net}), net_uses=MappingProxyType({"u": use}))
    assert any("(no. 36)" in words for words in _words(_page(farm)))


def test_the_last_card_tells_what_to_load_and_what_to_take_care_of() -> None:
    words = _words(_page(_with_others(4, 5)), 2)
    assert "nets: 3 \N{MULTIPLICATION SIGN} 50 m, blue tape (3 + 3, 3 taken up at a move before)" in words
    assert _in_order(" ".join(words), "Load before you go", "Before each opening", "Take care", "Notes")
    assert "Switch the energizer off before you handle a net." in words
    assert "Figures are advice. Local rules come first." in words


def test_lengths_are_told_in_feet_where_the_farm_is_measured_so() -> None:
    words = " ".join(_words(_page(_farm(square(1)), system="us")))
    assert "3 \N{MULTIPLICATION SIGN} 164 ft, blue tape" in words
    assert "50 m" not in words


@pytest.mark.parametrize("new", [square(1), square(3), Rectangle(60.0, 20.0, 0.0, 25_000, 25_000)])
@pytest.mark.parametrize("name", ["Sows", LONG])
def test_nothing_lies_outside_the_margin_of_its_card(new: Rectangle, name: str) -> None:
    farm = _farm(new)
    groups = {uid: replace(group, name=name) for uid, group in farm.groups.items()}
    paddocks = {uid: replace(each, name=f"{LONG} {each.name}") for uid, each in farm.paddocks.items()}
    if name == LONG:
        farm = replace(farm, groups=MappingProxyType(groups), paddocks=MappingProxyType(paddocks))
    for item in _page(farm).items:
        box = _extent(item)
        if box is None:
            continue
        columns = [column for column in (0, 1) if column * WIDE_MM <= box[0] and box[2] <= (column + 1) * WIDE_MM]
        assert columns, item
        left = columns[0] * WIDE_MM
        assert left + MARGIN_MM - 0.05 <= box[0], item
        assert box[2] <= left + WIDE_MM - MARGIN_MM + 0.05, item
        assert box[1] % (HIGH_MM + 0.5) >= MARGIN_MM, item


def _extent(item: object) -> tuple[float, float, float, float] | None:
    """Return left, top, right and lower edge of an item; None for the lines to cut along."""
    if isinstance(item, Words):
        wide = breadth(item.words, item.size_mm, item.weight)
        left = item.x_mm - {"left": 0.0, "centre": wide / 2, "right": wide}[item.align]
        return left, item.y_mm - 0.7 * item.size_mm, left + wide, item.y_mm
    if isinstance(item, Box):
        return item.x_mm, item.y_mm, item.x_mm + item.width_mm, item.y_mm + item.height_mm
    if isinstance(item, Sign):
        return item.x_mm, item.y_mm, item.x_mm + item.size_mm, item.y_mm + item.size_mm
    if isinstance(item, MapFrame):
        return item.x_mm, item.y_mm, item.x_mm + item.view.width, item.y_mm + item.view.height
    if isinstance(item, Rule) and not item.dash_mm:
        return item.x1_mm, item.y1_mm, item.x2_mm, item.y2_mm
    return None


@pytest.mark.parametrize("paper", list(PAPERS))
def test_whole_cards_fit_every_paper(paper: PaperName) -> None:
    lie = cards_on(paper)
    assert lie.on_sheet >= 2
    left, top = lie.corner(lie.on_sheet - 1)
    assert left + WIDE_MM <= lie.width_mm + 1e-9
    assert top + HIGH_MM <= lie.height_mm + 1e-9


def test_a_sheet_that_is_full_has_no_card_after_a_shock() -> None:
    page = _page(_with_others(4, 5), paper="letter")
    heads = [item.words for item in page.items if isinstance(item, Words) and item.size_mm == 6.4]
    assert sorted(heads) == ["Sows", "Weaners"]


def test_cards_that_do_not_fit_one_sheet_go_on_the_next() -> None:
    farm = _with_others(4, 5)
    request = SheetRequest(day=MOVE, today=DAY, printed_at=datetime(2026, 5, 1, 7), paper="letter")
    assert report.sheets(farm, request) == 2
    second = _page(farm, paper="letter", sheet=2)
    assert [item.words for item in second.items if isinstance(item, Words) and item.size_mm == 6.4] == [
        "Moves",
        "After a shock",
    ]


def test_a_day_without_a_move_has_no_cards() -> None:
    with pytest.raises(SheetError) as refused:
        _page(_farm(square(1)), day=DAY + timedelta(days=1))
    assert "No group moves on" in str(refused.value.message)
    assert str(refused.value.remedy) == "Choose a day with a move, or plan one."


def test_nets_of_a_kind_without_tape_are_told_by_length_alone() -> None:
    farm = done(
        _farm(square(1)),
        add_net_kind("bare", (2500,) * 20, uid="bare"),
        add_group("Boars", pigs=2, mean_kg=150.0, since=DAY, uid="boars"),
        place_paddock(square(6), net_kind_uid="bare", group_uid="boars", in_on=MOVE, uid="b"),
    )
    page = _page(farm)
    assert "Set 4 \N{MULTIPLICATION SIGN} 50 m." in [*_words(page), *_words(page, 1)]


def test_each_side_that_is_set_or_stands_alone_carries_its_length() -> None:
    words = _words(_page(_farm(square(1))))
    assert words.count("50 m") == 6


def test_of_a_side_that_is_shared_in_part_the_length_of_the_rest_is_told() -> None:
    words = _words(_page(_farm(Rectangle(10.0, 60.0, 0.0, 100_000, 50_000))))
    lengths = {each for each in words if each.endswith(" m") and each[0].isdigit()}
    assert lengths <= {"50 m", "100 m"}
    assert words.count("50 m") >= 4


def test_nets_that_are_missing_stand_under_what_to_load() -> None:
    three = done(_farm(square(3)), own_nets(KIND, 5, DAY))
    assert "3 nets more than lie spare" in _words(_page(three), 1)
    many = done(_farm(square(3)), own_nets(KIND, 20, DAY))
    assert not any("more than lie spare" in words for words in _words(_page(many), 1))


def test_a_card_alone_is_the_one_of_the_sheet() -> None:
    farm = _with_others(4, 5)
    request = SheetRequest(day=MOVE, today=DAY, printed_at=datetime(2026, 5, 1, 7))
    assert report.cards(farm, request) == 3
    assert [report.card(farm, request, number).title for number in range(3)][2] == "Moves"
    alone = [item.words for item in report.card(farm, request, 0).items if isinstance(item, Words)]
    assert alone == _words(_page(farm), 0)
    assert report.cards(farm, replace(request, day=MOVE + timedelta(days=90))) == 0


def _beside_others(farm: Farm) -> Farm:
    north = Rectangle(10.0, 60.0, 0.0, 50_000, 50_000)
    return done(farm, place_paddock(north, net_kind_uid=KIND, uid="north"), record_stay(OTHERS, "north", DAY))


def test_a_side_that_others_stand_behind_stays_in_the_summary_the_sketch_and_a_step_before_nets_come_down() -> None:
    page = _page(_beside_others(_farm(square(1))))
    words = _words(page)
    tape = "\N{MULTIPLICATION SIGN} 50 m, blue tape"
    assert f"Set 3 {tape}. Leave 1 {tape}. Take up 2 {tape}." in words
    assert f"Stays: 1 {tape}, north side, Weaners stand behind it." in words
    assert "stays" in words
    assert len([item for item in page.items if isinstance(item, Sign) and item.name == "group 1 W"]) == 1
    assert _in_order(_steps(page), "9 Leave up the north side: Weaners stand behind it.", "10 Take down 2 nets")
    assert "stays" not in _words(_page(_farm(square(1))))


def test_nothing_of_a_card_with_a_side_that_stays_lies_on_its_readings() -> None:
    page = _page(_beside_others(_farm(square(1))))
    boxes = [item for item in page.items if isinstance(item, Box) and item.x_mm < WIDE_MM]
    steps = [box for box in boxes if box.width_mm == 4.5 and box.height_mm == 4.5]
    assert len(steps) == 10
    assert max(box.y_mm + box.height_mm for box in steps) < 126.0


def test_where_no_way_is_known_no_column_is_headed_for_it() -> None:
    assert "in a straight line" not in _words(_page(_farm(square(1))), 1)
    assert "in a straight line" in _words(_page(_with_others(4, 5)), 2)


def test_a_net_that_is_left_but_does_not_reach_along_its_side_is_told_with_what_to_do() -> None:
    farm = done(example(), place_paddock(Rectangle(10.0, 10.0, 0.0, 52_600, 52_600), net_kind_uid=KIND, uid="wide"))
    farm = done(
        farm,
        record_stay(GROUP, "wide", DAY),
        place_paddock(Rectangle(62.6, 10.0, 0.0, 52_600, 52_600), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE),
    )
    use = NetUse(
        uid="u", net_kind_uid=KIND, paddock_uid="wide", set_on=DAY, run=shapely.LineString([(62.6, 10), (62.6, 62.6)])
    )
    farm = replace(farm, net_uses=MappingProxyType({"u": use}))
    words = _words(_page(farm))
    told = "side 52.6 m, net 50 m: 2.6 m short. Set the corner nearer or add a net."
    assert words[words.index("Take care:") + 1] == told


def test_a_card_says_whose_fence_goes_dead_too_when_the_energizer_is_switched_off() -> None:
    farm = _with_others(5, 6)
    assert not any("no power" in words for words in _words(_page(farm)))
    unit = Energizer(uid="unit", name="Shed", output_j=2.0)
    farm = done(farm, Edit(Text("Told."), lambda farm: [add(unit)]))
    cards = [_words(_page(farm), card) for card in (0, 1)]
    assert {words for card in cards for words in card if "no power" in words} == {
        "Shed off: no power for Weaners either.",
        "Shed off: no power for Sows either.",
    }
    assert sum(words == "mown: 6.5 to 7.5 kV" for card in cards for words in card) == 2
    farm = done(farm, feed_paddock(PADDOCK, None, own_switch=True))
    said = [words for card in (0, 1) for words in _words(_page(farm), card)]
    assert "This fence has a switch of its own: leave the others on." in said
