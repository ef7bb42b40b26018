from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import feed_paddock, record_check
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from pigmap.records import Edit, Energizer, EnergizerReading, Record, Soil, add, change
from pigmap.text import Text
from pigmap.text.source import METER_DECIDES, OWN_RECORDS
from tests.qt.window_farm import TODAY, day, made_window

MAINS = Energizer(uid="mains", name="Shed", output_j=1.0, rods=3, soil=Soil.CLAY)


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        made.map.settle()
        yield made


def tell(window: Window, *rows: Record) -> None:
    window.stage.session.do(Edit(Text("Told."), lambda farm: [add(row) for row in rows])).result()


def read(window: Window, kilovolts: float, *, soil: bool | None = None) -> None:
    edit = record_check("group0p2", TODAY, fence_kv=kilovolts, soil_on_net=soil)
    window.stage.session.do(edit).result()


def card(window: Window, paddock: str = "group0p2") -> CardFacts:
    found = card_of(window.stage, Picked("paddocks", paddock))
    assert found is not None
    return found


def row(window: Window, label: str, paddock: str = "group0p2") -> Fact | None:
    return next((fact for fact in card(window, paddock).facts if fact.label == label), None)


def far_end(window: Window, paddock: str = "group0p2") -> Fact:
    found = row(window, "Far end", paddock)
    assert found is not None
    return found


def why_words(window: Window, label: str, paddock: str = "group0p2") -> str:
    found = row(window, label, paddock)
    assert found is not None
    assert found.why is not None
    return found.why.words


def test_without_an_energizer_the_card_says_nothing_of_volts_but_what_was_read(window: Window) -> None:
    assert row(window, "Far end") is None
    checked = row(window, "Checked")
    assert checked is not None
    assert (checked.figure, checked.rests_on) == ("5.9 kV on Tuesday", "")
    assert card(window).warnings == ()


def test_a_reading_that_is_too_little_says_so_though_nothing_is_told_of_the_energizer(window: Window) -> None:
    read(window, 1.9)
    checked = row(window, "Checked")
    assert checked is not None
    assert checked.rests_on == "too little"
    assert why_words(window, "Checked").endswith(
        "Under 2 kV at the far end: do not rely on this fence. Walk the fence: the bottom strand first, then the "
        "clips, then the earth stakes."
    )
    read(window, 2.9)
    assert "Under 3 kV at the far end is little for pigs. Walk the fence" in why_words(window, "Checked")
    read(window, 3.1)
    checked = row(window, "Checked")
    assert checked is not None
    assert checked.rests_on == ""


def test_an_energizer_of_which_no_output_is_told_says_nothing_either(window: Window) -> None:
    tell(window, replace(MAINS, output_j=None))
    assert row(window, "Far end") is None


def test_the_far_end_says_what_it_should_read_and_that_it_is_computed(window: Window) -> None:
    tell(window, MAINS)
    found = far_end(window)
    assert found.figure == "about 6 to 7.5 kV if mown"
    assert found.rests_on == "computed; 3.5 to 4.5 kV in long grass"
    assert found.why is not None
    assert found.why.source == str(METER_DECIDES)
    assert found.why.words == (
        "Nets: 4 of 50 m, ends joined all round; the far end is 100 m along them from the feed. Fed by Shed (1.0 J), "
        "with 3 nets of other fences on it; 3 earth stakes of 1.0 m. In usual grass one joule more adds 1.0 kV, one "
        "net more takes 0.3 kV."
    )


def test_the_energizer_that_is_told_of_the_paddock_goes_before(window: Window) -> None:
    tell(window, MAINS, Energizer(uid="unit", name="Own unit", output_j=0.3, group_uid="group0"))
    assert "Fed by Own unit (0.3 J); nothing told of its earth stakes, so usual ones are taken." in why_words(
        window, "Far end"
    )
    window.stage.session.do(feed_paddock("group0p2", "mains")).result()
    assert "Fed by Shed (1.0 J)" in why_words(window, "Far end")


def test_what_reads_as_it_should_raises_no_word(window: Window) -> None:
    tell(window, MAINS)
    assert card(window).warnings == ()
    checked = row(window, "Checked")
    assert checked is not None
    assert checked.rests_on == ""


def test_a_low_reading_says_what_is_likely_and_what_to_look_at_first(window: Window) -> None:
    tell(window, MAINS)
    read(window, 2.5)
    warning = card(window).warnings[0]
    assert warning.startswith("Lower than long grass alone would make it. Likely soil or wet branches are on the")
    assert warning.endswith("Walk the fence: the bottom strand first, then the clips, then the earth stakes.")
    checked = row(window, "Checked")
    assert checked is not None
    assert checked.rests_on == "less than it should be"
    assert checked.why is not None
    assert checked.why.words.endswith(warning)
    assert checked.why.source == f"{OWN_RECORDS}; {METER_DECIDES}"


def test_soil_that_was_seen_is_named(window: Window) -> None:
    tell(window, MAINS)
    read(window, 2.5, soil=True)
    assert card(window).warnings[0] == (
        "Soil lies on the net: that likely takes most of it. Clear the bottom strand, then read again."
    )


def test_a_test_of_the_stakes_explains_it_while_it_is_not_too_old(window: Window) -> None:
    tell(window, MAINS, EnergizerReading(uid="test", energizer_uid="mains", read_on=day(-20), earth_kv=0.9))
    read(window, 2.5)
    warning = card(window).warnings[0]
    assert warning.startswith("The earth stakes read 0.9 kV, more than 0.3 kV")
    before = window.stage.session.farm.energizer_readings["test"]
    older = replace(before, read_on=day(-200))
    window.stage.session.do(Edit(Text("Told."), lambda farm: [change(before, older)])).result()
    warning = card(window).warnings[0]
    assert warning.startswith("Lower than long grass")


def test_a_high_reading_is_told_as_such(window: Window) -> None:
    tell(window, MAINS)
    read(window, 9.6)
    checked = row(window, "Checked")
    assert checked is not None
    assert checked.rests_on == "more than it should be"
    assert card(window).warnings[0].startswith("Higher than the whole fence should read.")


def test_a_fence_that_is_weak_by_itself_says_so_before_anyone_reads_it(window: Window) -> None:
    tell(window, replace(MAINS, output_j=0.05))
    assert card(window, "group0p3").warnings[0] == (
        "Under 2 kV is reckoned at the far end once grass grows in: do not rely on it. Mow the line first, and use "
        "fewer nets or a stronger energizer."
    )
    before = window.stage.session.farm.energizers["mains"]
    better = replace(before, output_j=0.3)
    window.stage.session.do(Edit(Text("Told."), lambda farm: [change(before, better)])).result()
    assert card(window, "group0p3").warnings[0] == (
        "Under 3 kV is reckoned at the far end once grass grows in. Keep the line mown, and read it every day."
    )


def test_a_planned_paddock_is_reckoned_for_the_day_they_come_and_a_past_one_not_at_all(window: Window) -> None:
    tell(window, MAINS)
    # The other group moves on the same day: the nets that it leaves are up no more.
    assert "with 3 nets of other fences" in why_words(window, "Far end", "group0p3")
    assert row(window, "Far end", "group0p1") is None
