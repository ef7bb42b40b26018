from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_body import CardBody
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import remove
from pigmap.fence.tables import OVERHEAD_SOURCE
from pigmap.qt.pigs_why import laid_on
from pigmap.qt.stage import Picked
from pigmap.qt.why import Why
from pigmap.qt.window import Window
from pigmap.records import Edit, GroupEvent, GroupEventKind, add, change
from pigmap.text import Text, source
from tests.qt.window_farm import TODAY, _box, day, made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        made.map.settle()
        yield made


SOURCES = [*(str(text) for name, text in vars(source).items() if name.isupper()), str(OVERHEAD_SOURCE)]


def why_of(window: Window, table: str, uid: str, label: str) -> Why:
    """Return what a figure of a card rests on."""
    card = card_of(window.stage, Picked(table, uid))
    assert card is not None
    (found,) = [fact.why for fact in card.facts if fact.label == label]
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("table", "uid"),
    [
        ("fields", "field"),
        ("groups", "group0"),
        ("groups", "group1"),
        ("paddocks", "group0p1"),
        ("paddocks", "group0p2"),
        ("paddocks", "group0p3"),
        ("keep_outs", "pond"),
        ("places", "tap"),
        ("ways", "line"),
        ("checks", "group0c"),
    ],
)
def test_every_figure_has_a_why_with_a_source(window: Window, table: str, uid: str) -> None:
    card = card_of(window.stage, Picked(table, uid))
    assert card is not None
    assert card.facts
    assert [fact.label for fact in card.facts if fact.why is None] == []
    for fact in card.facts:
        assert fact.why is not None
        assert fact.why.words
        assert any(words in fact.why.source for words in SOURCES), fact.why.source


def test_the_rest_of_a_paddock_says_from_when_and_who_wants_how_much(window: Window) -> None:
    why = why_of(window, "paddocks", "group0p1", "Rest")
    assert why.words == (
        "2 days: from Mon 11 May 2026, when pigs last left any of it, to Wed 13 May. "
        "60 days wanted, typed for its purpose (graze lightly)."
    )
    assert why.source == "your own records; typed by you"


def test_the_rest_that_is_usual_says_for_what_ground(window: Window) -> None:
    window.stage.session.do(remove("purposes", "purpose")).result()
    why = why_of(window, "fields", "field", "Rest")
    assert why.words == "30 days wanted, as is usual on pasture; its purpose (graze lightly) asks no more."
    assert why.source == str(source.REST_30_TO_90)


def test_stocking_adds_up_from_the_stays_it_names(window: Window) -> None:
    why = why_of(window, "paddocks", "group0p1", "Stocking")
    assert "8 pigs \u00d7 80 kg \u00d7 5 days over 0.25 ha." in why.words
    (laid,) = laid_on(window.stage.session.farm, _box(1, 0), TODAY, TODAY)
    assert (laid.weight.pigs, laid.weight.mean_kg, laid.days, laid.ground_m2) == (8, 80.0, 5, 2500.0)
    state = window.stage.session.ground.state("field", TODAY, TODAY)
    under = state.under(_box(1, 0)) if state is not None else None
    assert under is not None
    assert laid.load_kg_d_m2 == pytest.approx(under.load_kg_d_m2)
    assert laid.load_kg_d_m2 == pytest.approx(8 * 80 * 5 / 2500)
    assert why.words.startswith("128 pig-days/ha in the twelve months before ")  # 8 x 80 kg x 5 / 100 kg / 0.25 ha
    assert "(1.3 kg\u00b7d/m\u00b2)" in why.words


def test_a_stay_says_how_much_weight_is_on_how_much_ground(window: Window) -> None:
    why = why_of(window, "paddocks", "group0p2", "Stay")
    assert why.words == (
        "From Mon 11 May 2026 to Sat 16 May 2026, the day they leave. 8 pigs \u00d7 80 kg over 0.25 ha: 2560 kg/ha."
    )


def test_the_pigs_of_a_group_are_those_that_came_less_those_that_went(window: Window) -> None:
    assert why_of(window, "groups", "group0", "Pigs").words == "8 came and none went, as told up to Wed 13 May 2026."
    gone = GroupEvent(uid="gone", group_uid="group0", happened_on=day(-3), kind=GroupEventKind.SOLD, pigs=3)
    window.stage.session.do(Edit(Text("Sold."), lambda farm: [add(gone)])).result()
    why = why_of(window, "groups", "group0", "Pigs")
    assert why.words == "8 came, less 3 that went, as told up to Wed 13 May 2026."
    assert why_of(window, "groups", "group0", "Weight").words.endswith("5 pigs \u00d7 80 kg = 400 kg.")


def test_a_weight_between_two_weighings_names_both(window: Window) -> None:
    heavier = GroupEvent(uid="w", group_uid="group0", happened_on=day(10), kind=GroupEventKind.WEIGHED, mean_kg=90)
    window.stage.session.do(Edit(Text("Weighed."), lambda farm: [add(heavier)])).result()
    assert why_of(window, "groups", "group0", "Weight").words == (
        "80 kg as told on Thu 12 Feb 2026, 90 kg on Sat 23 May 2026: even steps between them. "
        "8 pigs \u00d7 89 kg = 712 kg."
    )


def test_a_weight_that_nobody_told_is_the_usual_one_and_says_so(window: Window) -> None:
    window.stage.session.do(remove("group_events", "group0in")).result()
    came = GroupEvent(uid="c", group_uid="group0", happened_on=day(-9), kind=GroupEventKind.BOUGHT, pigs=4)
    window.stage.session.do(Edit(Text("Came."), lambda farm: [add(came)])).result()
    why = why_of(window, "groups", "group0", "Weight")
    assert why.words == (
        "Nobody told a weight: 200 kg is usual for such pigs (gestating sow) and counts until you type one "
        "under Weigh or count. 4 pigs \u00d7 200 kg = 800 kg."
    )
    assert why.source == "common practice"


def test_the_nets_of_a_planned_paddock_say_how_far_it_is_round(window: Window) -> None:
    why = why_of(window, "paddocks", "group0p3", "Nets")
    assert why.words == (
        "200 m all round, nets of 50 m. 1 stand already along its sides; whole nets close the rest: 3."
    )


def test_a_keep_out_says_who_told_its_distance(window: Window) -> None:
    why = why_of(window, "keep_outs", "pond", "Nets")
    assert why == ("Nets keep 6 m off the pond.", "typed by you")
    assert why_of(window, "keep_outs", "pond", "Area").words == "Measured from its 4 corners, on the ground."


def test_the_distance_from_a_line_stands_beside_the_least_in_print(window: Window) -> None:
    why = why_of(window, "ways", "line", "Keep off")
    assert why.words == (
        "9 m, as it was told of this overhead line. The least in print where the voltage is not known is 8 m."
    )
    assert why.source == f"typed by you; {OVERHEAD_SOURCE}"
    row = replace(window.stage.session.farm.ways["line"], voltage_kv=11.0)
    before = window.stage.session.farm.ways["line"]
    window.stage.session.do(Edit(Text("Told."), lambda farm: [change(before, row)])).result()
    assert why_of(window, "ways", "line", "Keep off").words.endswith("The least in print for 11.0 kV is 4 m.")


def test_a_daily_check_says_when_and_by_whom_and_what_a_count_stands_against(window: Window) -> None:
    before = window.stage.session.farm.checks["group0c"]
    row = replace(before, seen_by="Kim", pigs_seen=7)
    window.stage.session.do(Edit(Text("Seen."), lambda farm: [change(before, row)])).result()
    assert why_of(window, "checks", "group0c", "Ground").words == (
        "Seen at the daily check of Tue 12 May 2026 by Kim: 1 of 4 quarters rooted."
    )
    assert why_of(window, "checks", "group0c", "Pigs").words == (
        "7 counted on Tue 12 May 2026, 8 told: 8 came and none went, as told up to Tue 12 May 2026."
    )


def _body(window: Window) -> CardBody:
    window.stage.pick(Picked("fields", "field"))
    card = window.panel("card")
    assert isinstance(card, Card)
    card.grab()
    return card._body


def test_a_row_that_is_touched_says_what_it_rests_on_and_again_hides_it(window: Window) -> None:
    body = _body(window)
    high = body.heightForWidth(300)
    spot = body._boxes[0].center().toPoint()
    QTest.mouseClick(body, Qt.MouseButton.LeftButton, pos=QPoint(spot))
    assert body.heightForWidth(300) > high
    assert "Measured from the outline" in body.accessibleName()
    QTest.mouseClick(body, Qt.MouseButton.LeftButton, pos=QPoint(spot))
    assert body.heightForWidth(300) == high


def test_the_keys_choose_a_row_and_ask_it(window: Window) -> None:
    body = _body(window)
    high = body.heightForWidth(300)
    body.setFocus()
    QTest.keyClick(body, Qt.Key.Key_Down)
    assert body.accessibleName() == f"Paddocks: {body.facts.facts[1].figure}"
    QTest.keyClick(body, Qt.Key.Key_Return)
    assert body.heightForWidth(300) > high
    QTest.keyClick(body, Qt.Key.Key_Space)
    assert body.heightForWidth(300) == high


def test_what_a_low_row_rests_on_comes_into_sight(window: Window) -> None:
    window.resize(1280, 620)
    body = _body(window)
    body.ask(len(body.facts.facts) - 1)
    card = window.panel("card")
    assert isinstance(card, Card)
    top = card._scroll.verticalScrollBar().value()
    assert top <= body.asked_box().bottom() <= top + card._scroll.viewport().height() + 1
