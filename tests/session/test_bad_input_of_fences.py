"""What cannot be, or harms, is said with the number that is wrong and with the nearest thing that works."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import NamedTuple

import pytest
import shapely

from pigmap.builtin.panels.bays_typed import bays_typed
from pigmap.builtin.panels.nets_typed import kind_typed
from pigmap.builtin.panels.sides_typed import side_typed
from pigmap.builtin.rules.facts_agree import rule as facts_agree
from pigmap.builtin.rules.ground_inside import rule as ground_inside
from pigmap.builtin.rules.overhead_lines import rule as overhead_lines
from pigmap.document.edits import (
    add_keep_out,
    add_net_kind,
    add_nets,
    add_way,
    amend,
    number_net,
    place_paddock,
    plan_stay,
    record_net_use,
    record_stay,
    tell_energizer_of,
)
from pigmap.document.edits.net_list import matched
from pigmap.drawing.words import render
from pigmap.errors import PigmapError
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.planning.rule import Breach, Rule
from pigmap.records import Edit, Farm, NetKind, Reason, WayKind
from pigmap.session.net_list_reading import read_net_list
from pigmap.session.placing import judge
from tests.document.example_farm import DAY, GROUP, KIND, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
HALF = "half"


def farm(*edits: Edit) -> Farm:
    halves = add_net_kind("25 m nets", (5_000,) * 5, nets=4, uid=HALF)
    return done(example(), record_stay(GROUP, PADDOCK, DAY), halves, *edits)


class Said(NamedTuple):
    """What is said, and what to do."""

    words: str
    remedy: str


def refused(does: Callable[[], object]) -> Said:
    with pytest.raises(PigmapError) as error:
        does()
    words, _, remedy = str(error.value).partition("\n")
    return Said(words, remedy or words)


def at_the_ghost(on: Farm, placed: Placed) -> Said:
    found = judge(on, {}, placed, on.net_kinds[KIND], MOVE, group_uid=GROUP)
    worst = found.warnings[0]
    return Said(render(worst.text), render(worst.remedy))


def verified(rule: Rule, on: Farm) -> Said:
    breach: Breach = next(iter(rule.breaches(on, DAY)))
    return Said(str(breach.words), str(breach.remedy))


def planned(on: Farm, east: int) -> Farm:
    return done(on, place_paddock(square(east), net_kind_uid=KIND, uid="b"), plan_stay(GROUP, "b", MOVE))


POND = add_keep_out(shapely.box(75, 40, 90, 60), Reason.POND, name="Duck pond", net_m=5.0)
WIRE = add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(85, -50), (85, 200)]), name="Line 3")


def test_a_paddock_across_a_keep_out_at_the_ghost() -> None:
    said = at_the_ghost(farm(POND), square(1))
    assert said.words == "The north side touches Duck pond. Keep 5 m off."
    assert said.remedy.startswith("Set it ")


def test_a_paddock_across_a_keep_out_that_was_planned_all_the_same() -> None:
    said = verified(ground_inside, planned(farm(POND), 1))
    assert said.words.endswith("reaches into the keep-out Duck pond, from which nets stay 5 m away.")
    assert said.remedy == "Set the paddock farther off, or correct the keep-out if it is drawn too wide."


def test_a_paddock_under_a_line_of_unknown_height_at_the_ghost() -> None:
    said = at_the_ghost(farm(WIRE), square(1))
    assert said.words == (
        "Line 3 passes over it, and nothing tells how high it hangs. Keep at least 8 m off; its owner can tell you the "
        "distance."
    )
    assert said.remedy.startswith("Set it ")
    (way,) = farm(WIRE).ways
    low = done(farm(WIRE), amend("ways", way, height_m=8.0))
    assert at_the_ghost(low, square(1)).words.startswith("Line 3 passes over it. Keep at least 3.")


def test_a_paddock_under_a_line_of_unknown_height_that_was_planned() -> None:
    said = verified(overhead_lines, planned(farm(WIRE), 1))
    assert "lies under Line 3, and nothing tells how high that hangs" in said.words
    assert "Set it 8 m or more to one side." in said.remedy


ODD = FreeOutline(((60.0, 10.0), (90.0, 10.0), (90.0, 41.3), (60.0, 41.3)))


def test_sides_that_close_in_no_whole_bays_at_the_ghost() -> None:
    on = farm()
    found = judge(on, {}, ODD, on.net_kinds[KIND], MOVE, group_uid=None)
    odd = next(each for each in found.warnings if "whole bay" in render(each.text))
    assert render(odd.text).startswith("Round to where its nets end it is 25 whole bays and 2.0 m")
    assert "leave " in render(odd.remedy)
    assert " of the last bay slack." in render(odd.remedy)


class Row(NamedTuple):
    """One input that cannot be."""

    name: str
    does: Callable[[], object]
    words: str
    """With the number that is wrong."""
    remedy: str
    """With the nearest thing that works."""


ROWS = (
    Row(
        "sides typed that cannot close",
        lambda: side_typed(farm(), "1 of 50 m and 1 of 25 m / 1 of 50 m", farm().net_kinds[KIND], "metric"),
        "One side would be 75 m, the one across from it 50 m: such sides do not close",
        "Make both as long: 1 of 50 m and 1 of 25 m are 75 m.",
    ),
    Row(
        "sides told that cannot close",
        lambda: done(farm(), place_paddock(square(1), net_kind_uid=KIND, side_nets=(((KIND, 1),), ((HALF, 1),)) * 2)),
        "do not close it: they are 50 m, 25 m, 50 m, 25 m, the sides 50 m, 50 m, 50 m, 50 m",
        "Give each side nets that are as long as it; opposite sides have one length.",
    ),
    Row(
        "nets of no length",
        lambda: kind_typed(farm(), "4 x 0 m", "metric"),
        "The length of a net is 0 m",
        "Give a length from 2 m to 500 m.",
    ),
    Row(
        "a net of no length",
        lambda: bays_typed("14 x 3.57", 0.0),
        "The net is 0 m long",
        "Give its length from the first post to the last, such as 50 m.",
    ),
    Row(
        "a kind without bays",
        lambda: NetKind(name="50 m nets", bays_mm=()),
        "Net kind 50 m nets has no bays, or one of no length",
        "Give the length of each bay between two posts.",
    ),
    Row(
        "bays that do not add up",
        lambda: bays_typed("13 x 3.81", 50.0),
        "The bays add up to 49.53 m: 0.47 m less than the 50 m of the net",
        "Give 13 x 3.846, or 49.53 m as the length of the net.",
    ),
    Row(
        "two nets with one number",
        lambda: _second_number_7(),
        "Another of the 50 m nets has the number 7 already",
        "Give it one that is free, such as 8, or change that of the other first.",
    ),
    Row(
        "an energizer above 5 J",
        lambda: done(farm(), tell_energizer_of(GROUP, output_j=7.5)),
        "would give 7.5 J into 500 Ω; energizers for livestock give at most 5 J",
        "Give the output from its data sheet; what a unit stores is more than it gives.",
    ),
)


def _second_number_7() -> Farm:
    on = farm(add_nets(KIND, 2, numbers=["7", ""]))
    bare = next(uid for uid, net in on.nets.items() if not net.number and net.net_kind_uid == KIND)
    return done(on, number_net(bare, "7"))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_what_cannot_be_is_refused_with_what_would_do(row: Row) -> None:
    said = refused(row.does)
    assert row.words in said.words
    assert row.remedy in f"{said.words} {said.remedy}"


def test_a_net_in_two_places_goes_in_and_is_flagged() -> None:
    on = farm(add_nets(KIND, 1, numbers=["7"]), place_paddock(square(1), net_kind_uid=KIND, uid="b"))
    seven = next(uid for uid, net in on.nets.items() if net.number == "7")
    first, second = shapely.LineString([(10, 10), (60, 10)]), shapely.LineString([(110, 10), (110, 60)])
    on = done(
        on,
        record_net_use(PADDOCK, KIND, first, DAY, net_uid=seven),
        record_net_use("b", KIND, second, DAY, net_uid=seven),
    )
    said = next(each for each in facts_agree.breaches(on, DAY) if "7" in str(each.words))
    assert "Net 7 stands at" in str(said.words)
    assert str(said.remedy)


def test_a_list_with_two_nets_of_one_number_says_which_lines(tmp_path: Path) -> None:
    path = tmp_path / "nets.csv"
    path.write_text("kind,number,length_m\n50 m nets,7,50\n50 m nets,7,50\n50 m nets,9,0\n", encoding="utf-8")
    read = read_net_list(path)
    left_out = [render(each) for each in (*read.left_out, *matched(farm(), read.listed).left_out)]
    assert left_out == [
        "Line 4: a net cannot be 0 m long. Give its length in metres, such as 50.",
        "Line 3: two nets with number 7, the other in line 2.",
    ]
