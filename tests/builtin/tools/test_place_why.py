from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
import shapely
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.animals import sources
from pigmap.animals.weight import live_weight
from pigmap.builtin.tools.place import Place
from pigmap.builtin.tools.place_figures import PlateWords
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.builtin.tools.place_why import Asked
from pigmap.builtin.tools.plate_drawing import figures_of
from pigmap.builtin.tools.plate_spot import SHADOW_PX
from pigmap.document.edits import add_nets, add_way, remove
from pigmap.fence.count import nets_for
from pigmap.qt.why import Why
from pigmap.records import Edit, Energizer, OwnDays, WayKind, add
from pigmap.text import Text, source
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import day

SOURCES = {str(text) for each in (source, sources) for name, text in vars(each).items() if name.isupper()}


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-40, -60, 440, 140)
        made.stage.session.do(add_nets("fifty", 20)).result()
        made.take_up("place")
        made.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
        made.hover(250, 55)
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def plate(hand: Hand) -> PlacePlate:
    return tool(hand).plate


def why(hand: Hand, about: str) -> Why:
    placing = tool(hand)
    assert placing.ghost is not None
    judged = placing._judging.judge(placing.ghost, placing.row)
    return Asked(hand.stage, placing.ghost, placing.row, judged).why(about)


def shown(hand: Hand) -> str:
    """Return the label of the figure whose why is shown, or nothing."""
    words, asked = plate(hand).words, plate(hand)._asked
    return figures_of(words)[asked.at].name if words is not None and asked.why is not None else ""


def touch(hand: Hand, number: int) -> None:
    middle = plate(hand)._drawing.boxes[number].center().toPoint() + QPoint(SHADOW_PX, SHADOW_PX)
    QTest.mouseClick(plate(hand), Qt.MouseButton.LeftButton, pos=middle)
    hand._see()


def test_every_figure_beside_the_ghost_has_a_why_with_sources_that_exist(hand: Hand) -> None:
    words = plate(hand).words
    assert words is not None
    assert [row.about for row in figures_of(words)] == ["nets", "area", "stay", "rest", "ground"]
    for row in figures_of(words):
        found = why(hand, row.about)
        assert found.words.endswith(".")
        left = found.source
        for each in sorted(SOURCES, key=len, reverse=True):
            left = left.replace(each, "")
        assert left.strip("; ") == "", found.source


def test_the_nets_are_those_of_the_stretches_that_are_named(hand: Hand) -> None:
    placing = tool(hand)
    assert placing.ghost is not None
    (judged,) = placing._judging.judge(placing.ghost, placing.row)
    assert [run.length_mm for run in judged.open_runs] == [200_000]
    assert judged.nets_to_carry == nets_for(judged.open_runs, placing.ghost.kind) == 4
    words = why(hand, "nets").words
    assert words.startswith("Every stretch that is still open takes whole nets of 50 m: 200 m, so 4.")
    assert f"that do not stand on Thu 21 May 2026: {judged.spare_nets}." in words


def test_a_side_that_stands_is_named_with_the_nets_that_are_left(qtbot: QtBot, tmp_path: Path) -> None:
    with made_hand(tmp_path, groups=1) as hand:
        hand.stage.session.do(remove("stays", "group0s3")).result()
        hand.take_up("place")
        hand.stage.placing.choose(group_uid="", in_on=None)
        hand.hover(176, 28)
        words = why(hand, "nets").words
    assert "whole nets of 50 m: 150 m, so 3. 50 m stands already; its nets are left: 1." in words


def test_the_area_is_that_of_the_nets_that_were_chosen(hand: Hand) -> None:
    hand.stage.placing.choose(nets_long=2)
    hand._see()
    assert why(hand, "area").words == "2 by 1 nets of 50 m, on the ground: 100 m \u00d7 50 m = 0.50 ha."


def test_the_stay_names_the_days_before_and_the_weight_on_the_ground(hand: Hand) -> None:
    weight = live_weight(hand.stage.session.farm, "group0", day(8))
    assert (weight.pigs, weight.mean_kg) == (8, 80.0)
    found = why(hand, "stay")
    assert found.words == (
        "5 days: the middle one of the last 2 stays (5, 5). 25 % is rooted after about 11 days (7 to 22). Nitrogen "
        "comes to 170 kg/ha, the most for a year, after 108 days; 0 kg/ha lie there now. Rooting would come first, "
        "after 11 days. 8 pigs \u00d7 80 kg over 0.25 ha: 2560 kg/ha."
    )
    assert found.source == "; ".join(
        str(each) for each in (source.OWN_RECORDS, sources.ROUGH_FIT, sources.UK_MANURE, sources.NITROGEN_CAP)
    )


def test_the_keepers_own_days_lead_on_the_plate_and_the_ground_only_says_what_it_would(hand: Hand) -> None:
    own = OwnDays(uid="own", group_uid="group0", days=14.0)
    hand.stage.session.do(Edit(Text("Own days."), lambda farm: [add(own)])).result()
    hand._see()
    words = plate(hand).words
    assert words is not None
    (stays,) = (row for row in figures_of(words) if row.about == "stay")
    assert stays.figure == "14 days"
    assert why(hand, "stay").words.startswith("14 days, as you said. Your own days lead. 25 % is rooted after about 11")


def test_without_a_past_stay_the_days_are_those_of_common_practice(hand: Hand) -> None:
    for uid in ("group0s0", "group0s1"):
        hand.stage.session.do(remove("stays", uid)).result()
    found = why(hand, "stay")
    assert found.words.startswith("5 days, since nobody told how long a paddock lasts them and no past stay tells.")
    assert found.source.startswith("common practice; ")


def test_the_rooting_names_the_stay_that_lay_there(hand: Hand) -> None:
    hand.stage.placing.choose(in_on=day(0), group_uid="")
    hand.tool.hold_at(hand.tool.row[0].centred_at(75, 25))
    assert "8 pigs \u00d7 80 kg \u00d7 5 days over 0.25 ha." in why(hand, "ground").words
    hand.tool.hold_at(hand.tool.row[0].centred_at(62.5, 25))
    assert why(hand, "ground").words.endswith(
        "8 pigs \u00d7 80 kg \u00d7 5 days over 0.25 ha, on 75 % of this; "
        "8 pigs \u00d7 80 kg \u00d7 5 days over 0.25 ha, on 25 % of this."
    )
    assert why(hand, "rest").words.endswith("60 days wanted, typed for its purpose (graze lightly).")


@pytest.mark.parametrize(
    ("on", "begins"), [(-2, "0 days: from Mon 11 May 2026"), (-3, "A stay covers Sun 10 May. Rest begins on the day")]
)
def test_ground_that_pigs_leave_on_the_day_is_told_from_ground_they_are_on(hand: Hand, on: int, begins: str) -> None:
    hand.stage.show_day(day(on))
    hand.stage.placing.choose(in_on=day(on), group_uid="")
    hand.hover(66, 25)
    assert why(hand, "rest").words.startswith(begins)


def test_ground_without_pigs_says_so(hand: Hand) -> None:
    assert why(hand, "ground").words == (
        "5 %: computed with no pigs on it in 12 months, from what grows there (pasture) and warmth."
    )
    words = why(hand, "rest").words
    assert "100 % of it is not known." in words
    assert "never used" not in words


def test_y_opens_the_why_and_the_keys_go_from_figure_to_figure(hand: Hand) -> None:
    high = plate(hand).height()
    hand.key(Qt.Key.Key_Y)
    assert shown(hand) == "Carry"
    assert plate(hand).height() > high
    assert "Every stretch that is still open" in plate(hand).accessibleName()
    QTest.keyClick(plate(hand), Qt.Key.Key_Down)
    assert shown(hand) == "Area"
    QTest.keyClick(plate(hand), Qt.Key.Key_Up)
    QTest.keyClick(plate(hand), Qt.Key.Key_Up)
    assert shown(hand) == "Ground"
    QTest.keyClick(plate(hand), Qt.Key.Key_Return)
    assert shown(hand) == ""
    QTest.keyClick(plate(hand), Qt.Key.Key_Space)
    assert shown(hand) == "Ground"
    QTest.keyClick(plate(hand), Qt.Key.Key_Escape)
    assert plate(hand).height() == high
    assert hand.map.hasFocus()


def test_while_a_why_is_open_the_ghost_stays_and_then_follows_again(hand: Hand) -> None:
    before = tool(hand).row
    hand.key(Qt.Key.Key_Y)
    hand.hover(280, 50)
    assert tool(hand).row == before
    hand.key(Qt.Key.Key_Escape)
    hand.hover(281, 50)
    assert tool(hand).row != before


def test_the_other_button_asks_and_a_touched_figure_answers(hand: Hand) -> None:
    hand.map.customContextMenuRequested.emit(hand.spot(250, 55))
    assert shown(hand) == "Carry"
    touch(hand, 3)
    assert shown(hand) == "Rest"
    touch(hand, 3)
    assert shown(hand) == ""
    assert len(hand.stage.session.farm.paddocks) == 8


def test_a_plate_whose_ghost_follows_leaves_the_click_to_the_map(hand: Hand) -> None:
    touch(hand, 1)
    assert shown(hand) == ""


def test_a_ghost_that_is_turned_says_anew_what_it_rests_on(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Y)
    QTest.keyClick(plate(hand), Qt.Key.Key_Plus)
    hand._see()
    assert "300 m, so 6." in plate(hand).accessibleName()


def test_a_press_on_the_map_puts_the_why_away_and_sets_the_paddock(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Y)
    hand.click(250, 55)
    assert shown(hand) == ""
    assert len(hand.stage.session.farm.paddocks) == 9


def test_a_refused_place_tells_what_its_figures_rest_on_too(hand: Hand) -> None:
    hand.hover(310, 10)
    hand.key(Qt.Key.Key_Y)
    words = plate(hand).words
    assert words is not None
    assert words.against
    assert shown(hand) == "Carry"
    hand.key(Qt.Key.Key_O)
    assert plate(hand).asking
    assert shown(hand) == ""


def test_on_a_low_map_what_is_told_is_in_sight(hand: Hand) -> None:
    hand.map.resize(800, 330)
    hand.settle()
    hand.hover(310, 10)
    hand.key(Qt.Key.Key_Y)
    for _ in range(4):
        QTest.keyClick(plate(hand), Qt.Key.Key_Down)
        hand._see()
        at = plate(hand)._room.asked(plate(hand)._asked).at
        box = plate(hand)._drawing.boxes[at].translated(0, plate(hand).y() + SHADOW_PX)
        assert box.bottom() <= hand.map.height()
        assert box.top() >= 0
    assert shown(hand) == "Ground"


def test_another_verb_leaves_no_menu_of_this_one(hand: Hand) -> None:
    hand.take_up("measure")
    assert hand.map.contextMenuPolicy() == Qt.ContextMenuPolicy.DefaultContextMenu
    hand.map.customContextMenuRequested.emit(hand.spot(250, 55))


def test_the_volts_at_the_far_end_are_shown_where_an_energizer_is_told_of(hand: Hand) -> None:
    assert [row.about for row in figures_of(words_of(hand))] == ["nets", "area", "stay", "rest", "ground"]
    unit = Energizer(uid="unit", name="Shed", output_j=1.0, rods=2)
    hand.stage.session.do(Edit(Text("Told."), lambda farm: [add(unit)])).result()
    hand.hover(250, 56)
    (row,) = [row for row in words_of(hand).rows if row.about == "volts"]
    assert row == ("Far end", "about 6.5 to 7.5 kV", "if mown", "volts")
    found = why(hand, "volts")
    assert found.source == str(source.METER_DECIDES)
    assert found.words == (
        "In long grass 4 to 5.5 kV. Nets: 4 of 50 m, ends joined all round; the far end is 100 m along them from the "
        "feed. Fed by Shed (1.0 J); 2 earth stakes of 1.0 m. In usual grass one joule more adds 0.7 kV, one earth "
        "stake more adds 0.1 kV, one net more takes 0.4 kV."
    )


def test_a_fence_that_would_be_weak_is_a_care_but_refuses_nothing(hand: Hand) -> None:
    unit = Energizer(uid="unit", name="Shed", output_j=0.05)
    hand.stage.session.do(Edit(Text("Told."), lambda farm: [add(unit)])).result()
    hand.hover(250, 56)
    words = words_of(hand)
    assert words.cares[-1].startswith("Under 2 kV is reckoned at the far end once grass grows in: do not rely on it.")
    assert not words.against


def words_of(hand: Hand) -> PlateWords:
    words = plate(hand).words
    assert words is not None
    return words


def test_a_side_that_a_permanent_fence_closes_takes_no_nets_and_opens_the_ring(hand: Hand) -> None:
    unit = Energizer(uid="unit", name="Unit", group_uid="group0", output_j=1.0)
    fence = add_way(WayKind.PERMANENT_FENCE, shapely.LineString([(150, 30), (400, 30)]), name="Lane fence")
    hand.stage.session.do(Edit(Text("Told."), lambda _: [add(unit)])).result()
    hand.stage.session.do(fence).result()
    hand.stage.placing.choose(snap_fence=True)
    hand.hover(250, 54)
    tool(hand).judge_now()
    words = plate(hand).words
    assert words is not None
    assert words.head == "Carry 3 nets"
    assert words.cares[0].startswith("Lane fence closes 50 m of it and is not electric, so the last net is a far end.")
    assert "50 m is closed by permanent fences and takes no nets." in why(hand, "nets").words
    assert "150 m along them" in why(hand, "volts").words
