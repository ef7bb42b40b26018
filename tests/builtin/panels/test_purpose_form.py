from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.purpose_form import PurposeForm
from pigmap.builtin.panels.purpose_row import PurposeRow
from pigmap.builtin.panels.purpose_words import USE_WORDS
from pigmap.document.edits import remove, set_purpose
from pigmap.qt.stage import Notice, Picked, Stage
from pigmap.records import Purpose, Use
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        stage.pick(Picked("fields", "field"))
        made._do("purposes")
        QApplication.processEvents()
        yield made


def form(card: Card) -> PurposeForm:
    (found,) = (each for each in card.findChildren(PurposeForm) if each.isVisible())
    return found


def rows(card: Card) -> list[PurposeRow]:
    its = [each for each in card.findChildren(PurposeRow) if each.isVisible()]
    return sorted(its, key=lambda row: row.y())


def parts(stage: Stage) -> list[Purpose]:
    return sorted(stage.session.farm.purposes.values(), key=lambda part: part.from_month_day)


def type_into(line: QLineEdit, words: str) -> None:
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, words)
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()


def choose(row: PurposeRow, use: Use) -> None:
    row.use.setCurrentIndex(list(USE_WORDS).index(use))
    row.use.activated.emit(row.use.currentIndex())
    QApplication.processEvents()


def test_every_part_of_the_year_has_a_row_and_the_card_makes_room(card: Card) -> None:
    (row,) = rows(card)
    assert (row.first.text(), row.last.text(), row.use.currentText()) == ("1 Jan", "31 Dec", "graze lightly")
    assert row.wanted.text() == "60 days of rest wanted (typed); up to 25 % rooted is welcome (usual)."
    assert form(card).unclear.text() == ""
    assert not [button.text() for button in card._deeds.buttons if button.isVisible()]


def test_a_purpose_is_chosen_and_undone(card: Card, stage: Stage) -> None:
    choose(rows(card)[0], Use.TURN_OVER)
    assert [part.purpose for part in parts(stage)] == [Use.TURN_OVER]
    assert rows(card)[0].wanted.text() == "60 days of rest wanted (typed); rooting is welcome, all of it (usual)."
    stage.session.undo().result()
    assert rows(card)[0].use.currentText() == "graze lightly"


def test_days_are_typed_in_words(card: Card, stage: Stage) -> None:
    type_into(rows(card)[0].first, "16 march")
    type_into(rows(card)[0].last, "11-30")
    assert [(part.from_month_day, part.to_month_day) for part in parts(stage)] == [("03-16", "11-30")]
    assert (rows(card)[0].first.text(), rows(card)[0].last.text()) == ("16 Mar", "30 Nov")


def test_days_that_are_left_out_are_said_with_the_remedy(card: Card) -> None:
    type_into(rows(card)[0].last, "31 October")
    assert form(card).unclear.text() == (
        "Nothing is said of 1 Nov to 31 Dec: it counts as graze lightly. Let a part reach over it, or add one."
    )
    assert form(card).unclear.isVisible()


def test_a_part_is_added_where_nothing_is_said_and_taken_out_again(card: Card, stage: Stage) -> None:
    type_into(rows(card)[0].last, "31 October")
    form(card).add.click()
    QApplication.processEvents()
    assert [(part.from_month_day, part.to_month_day) for part in parts(stage)] == [
        ("01-01", "10-31"),
        ("11-01", "12-31"),
    ]
    assert len(rows(card)) == 2
    assert rows(card)[1].first.hasFocus()
    choose(rows(card)[1], Use.WINTER_GROUND)
    assert rows(card)[1].wanted.text() == "90 days of rest wanted (usual); rooting is welcome, all of it (usual)."
    rows(card)[1].out.click()
    QApplication.processEvents()
    assert len(parts(stage)) == len(rows(card)) == 1


def test_parts_that_overlap_are_said_with_the_remedy_and_not_refused(card: Card, stage: Stage) -> None:
    stage.session.do(set_purpose("field", "05-01", "05-31", Use.TURN_OVER)).result()
    QApplication.processEvents()
    assert form(card).unclear.text() == (
        "1 May to 31 May is for graze lightly and turn over. The longest rest and the least rooting count; "
        "let one part end before the other begins."
    )
    stage.session.do(set_purpose("field", "12-01", "12-31", Use.GRAZE_LIGHTLY)).result()
    assert form(card).unclear.text().splitlines()[1] == (
        "1 Dec to 31 Dec is in two parts. The longer rest and the lesser rooting count; let one end sooner."
    )


def test_a_field_of_which_nothing_is_said_is_grazed_lightly_all_year_in_words(card: Card, stage: Stage) -> None:
    stage.session.do(remove("purposes", "purpose")).result()
    QApplication.processEvents()
    assert rows(card) == []
    assert form(card).usual.text() == (
        "Graze lightly, all year: nothing else is said. "
        "30 days of rest wanted (usual); up to 25 % rooted is welcome (usual)."
    )
    form(card).add.click()
    assert [(part.from_month_day, part.to_month_day) for part in parts(stage)] == [("01-01", "12-31")]
    assert form(card).usual.text() == ""


def test_rest_and_rooting_are_typed_under_more_and_emptied_again(card: Card, stage: Stage) -> None:
    (row,) = rows(card)
    assert not row.rest.isVisible()
    row.more.click()
    assert row.rest.isVisible()
    type_into(row.rest, "85")
    type_into(row.rooting, "40")
    assert [(part.rest_days_wanted, part.rooting_wanted) for part in parts(stage)] == [(85, 0.4)]
    assert row.wanted.text() == "85 days of rest wanted (typed); up to 40 % rooted is welcome (typed)."
    for line in (row.rest, row.rooting):
        line.setFocus()
        line.selectAll()
        QTest.keyClick(line, Qt.Key.Key_Delete)
        QTest.keyClick(line, Qt.Key.Key_Return)
    assert [(part.rest_days_wanted, part.rooting_wanted) for part in parts(stage)] == [(None, None)]
    assert row.rest.placeholderText() == "30, usual"
    assert "ATTRA" in row._source.text()


@pytest.mark.parametrize(
    ("line", "typed", "said"),
    [
        (
            "first",
            "30 February",
            "30 February is not a day of the year. Give day and month, such as 16 March or 03-16.",
        ),
        ("rest", "-4", "The rest wanted in days is -4. Give a number from 0 to 3650."),
        ("rooting", "140", "140 % of the ground cannot be rooted. Give a percentage from 0 to 100, such as 25."),
    ],
)
def test_what_cannot_be_is_said_and_stays_typed(card: Card, stage: Stage, line: str, typed: str, said: str) -> None:
    (row,) = rows(card)
    row.more.click()
    before = parts(stage)
    type_into(getattr(row, line), typed)
    assert row.said.text() == said
    assert row.said.isVisible()
    assert getattr(row, line).text() == typed
    assert parts(stage) == before


def test_each_change_is_named_and_can_be_undone(card: Card, stage: Stage) -> None:
    said: list[Notice] = []
    stage.noticed.connect(said.append)
    choose(rows(card)[0], Use.CLOSED)
    assert (stage.words(said[-1].text), said[-1].deed) == ("Purpose changed.", "undo")


@pytest.mark.parametrize("by", ["done", "esc", "pick"])
def test_the_card_comes_back(card: Card, stage: Stage, by: str) -> None:
    if by == "done":
        form(card).done.click()
    elif by == "esc":
        QTest.keyClick(rows(card)[0].first, Qt.Key.Key_Escape)
    else:
        stage.pick(Picked("keep_outs", "pond"))
    QApplication.processEvents()
    assert not [each for each in card.findChildren(PurposeForm) if each.isVisible()]
    assert [button.text() for button in card._deeds.buttons if button.isVisible()]


def test_everything_in_it_has_a_name_and_is_reached_by_tab(card: Card) -> None:
    (row,) = rows(card)
    row.more.click()
    for each in (
        row.first,
        row.last,
        row.use,
        row.rest,
        row.rooting,
        row.more,
        row.out,
        form(card).add,
        form(card).done,
    ):
        assert each.accessibleName()
        assert each.focusPolicy() & Qt.FocusPolicy.TabFocus
    row.first.setFocus()
    seen = []
    for _ in range(9):
        here = QApplication.focusWidget()
        assert here is not None
        seen.append(here)
        QTest.keyClick(here, Qt.Key.Key_Tab)
    assert seen[:3] == [row.first, row.last, row.use]
    assert form(card).done in seen


def test_the_card_is_as_high_as_the_form(card: Card) -> None:
    one = card.heightForWidth(360)
    rows(card)[0].more.click()
    assert card.heightForWidth(360) > one + 60
