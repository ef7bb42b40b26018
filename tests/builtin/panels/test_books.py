"""The books of the farm are looked at, put right, printed and saved on a plate of their own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.books import Books
from pigmap.builtin.panels.happened_form import HappenedForm
from pigmap.builtin.panels.phones_form import PhonesForm
from pigmap.builtin.panels.register_form import RegisterForm
from pigmap.document.edits import book_slaughter, pigs_bought, record_escape, serve, treat
from pigmap.planning.farm_books import BookPage
from pigmap.qt.stage import Stage
from pigmap.qt.window import Window
from pigmap.records import Edit
from pigmap.records.phones import PHONES
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import TODAY, made_panel, made_stage, made_window


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[Books]:
    with made_panel(stage, "books", (1200, 800)) as made:
        assert isinstance(made, Books)
        yield made


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def do(stage: Stage, *edits: Edit) -> None:
    for edit in edits:
        stage.session.do(edit).result()
    QApplication.processEvents()


def opened(books: Books, page: BookPage = BookPage.MEDICINE) -> Books:
    books.open_plate()
    QApplication.processEvents()
    books.pages[page].click()
    return books


def shown(books: Books) -> list[list[str]]:
    model = books.table.model()
    return [
        [str(model.index(row, column).data()) for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]


TREATED = treat("group0", TODAY, "Wormer", withdrawal_days=28, uid="t")


def test_k_opens_the_books_and_esc_puts_them_away(window: Window) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_K)
    (books,) = window.findChildren(Books)
    assert books.isVisible()
    assert "No treatment is written down" in books.empty.text()
    assert "local rules come first" in books.rules.text()
    QTest.keyClick(books.pages[BookPage.MEDICINE], Qt.Key.Key_Escape)
    assert not books.isVisible()


def test_a_page_has_its_lines_without_empty_columns(stage: Stage, plate: Books) -> None:
    do(stage, TREATED)
    books = opened(plate)
    assert shown(books) == [["13 May 2026", "Dry sows", "all", "Wormer", "28", "11 Jun 2026"]]
    assert books.table.accessibleName() == "Medicine"


def test_lines_are_of_one_group_and_year_where_that_is_chosen(stage: Stage, plate: Books) -> None:
    do(stage, TREATED, treat("group1", TODAY - timedelta(days=300), "Iron"))
    books = opened(plate)
    assert len(shown(books)) == 2
    books.group.setCurrentIndex(books.group.findData("group1"))
    assert [row[3] for row in shown(books)] == ["Iron"]
    books.year.setCurrentIndex(books.year.findData("2026"))
    assert books.empty.text() == "Nothing of this group and year."


def test_a_line_is_put_right_and_the_table_follows(stage: Stage, plate: Books) -> None:
    do(stage, TREATED)
    books = opened(plate)
    books.table.setFocus()
    QTest.keyClick(books.table, Qt.Key.Key_Return)
    (form,) = books.findChildren(HappenedForm)
    assert form.entry is not None
    assert form.entry.row.uid == "t"
    form.lines["withdrawal"].setText("35")  # type: ignore[union-attr]
    form.take_it()
    assert comes(lambda: stage.session.farm.treatments["t"].withdrawal_days == 35)
    assert comes(lambda: bool(shown(books)) and shown(books)[0][4] == "35")
    assert books.form is None


def test_esc_leaves_a_form_first(stage: Stage, plate: Books) -> None:
    do(stage, TREATED)
    books = opened(plate)
    books._put_right()
    QTest.keyClick(books, Qt.Key.Key_Escape)
    assert books.form is None
    assert books.isVisible()
    assert books.table.isVisibleTo(books)


def test_a_line_is_removed_and_can_be_taken_back(stage: Stage, plate: Books) -> None:
    do(stage, TREATED)
    books = opened(plate)
    books.out.click()
    assert comes(lambda: not stage.session.farm.treatments)
    assert comes(lambda: books.empty.isVisibleTo(books))
    stage.session.undo().result()
    assert comes(lambda: len(shown(books)) == 1)


def test_a_line_is_added_to_the_register_and_put_right(stage: Stage, plate: Books) -> None:
    books = opened(plate, BookPage.REGISTER)
    books.add.click()
    (form,) = books.findChildren(RegisterForm)
    form.pigs.setText("none")
    form.take_it()
    assert "The number of pigs is 'none': that is no number." in form.said.text()
    form.pigs.setText("4")
    form.from_where.setText("A fair")
    form.take_it()
    assert comes(lambda: len(stage.session.farm.register_entries) == 1)
    books._put_right()
    again = books.findChildren(RegisterForm)[-1]
    assert again.from_where.text() == "A fair"
    again.pigs.setText("5")
    again.take_it()
    assert comes(lambda: [row.pigs for row in stage.session.farm.register_entries.values()] == [5])


@pytest.mark.parametrize("page", list(BookPage))
def test_each_page_shows_what_was_told(stage: Stage, plate: Books, page: BookPage) -> None:
    do(
        stage,
        TREATED,
        pigs_bought("group0", TODAY, 2, mark="XX 1"),
        serve("group0", "Berta", TODAY),
        book_slaughter(TODAY, group_uid="group0", pigs=2),
        record_escape("group0", TODAY, pigs_out=1),
    )
    books = opened(plate, page)
    assert len(shown(books)) == 1
    assert books.right.isVisibleTo(books)
    assert books.add.isVisibleTo(books) is (page is BookPage.REGISTER)


def test_a_page_is_saved_as_a_list(stage: Stage, plate: Books, tmp_path: Path) -> None:
    do(stage, TREATED)
    books = opened(plate)
    books.paper.save(books.asked, tmp_path / "medicine")
    assert "Wormer" in (tmp_path / "medicine.csv").read_text(encoding="utf-8-sig")
    assert str(stage.notices[-1].text) == "1 line is in the list medicine.csv."
    books.paper.save(books.asked, tmp_path / "gone" / "medicine.csv")
    assert "medicine.csv cannot be written: No such file or directory." in str(stage.notices[-1].text)


def test_a_page_is_printed_beside_the_farm(stage: Stage, plate: Books) -> None:
    do(stage, TREATED)
    books = opened(plate)
    books.print.click()
    folder = stage.session.path.parent
    assert comes(lambda: bool(list(folder.glob("*Medicine*.pdf"))))
    assert comes(lambda: any("is saved, in" in str(each.text) for each in stage.notices))


def test_on_a_farm_that_can_only_be_read_nothing_is_changed(
    stage: Stage, plate: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    do(stage, TREATED)
    monkeypatch.setattr(stage.session, "read_only", True)
    books = opened(plate)
    assert not books.out.isVisibleTo(books)
    books._put_right()
    assert books.form is None
    assert books.print.isVisibleTo(books)


def test_cards_for_the_pocket_are_printed_with_the_numbers_that_were_typed(stage: Stage, plate: Books) -> None:
    books = opened(plate, BookPage.ESCAPES)
    books.phones.click()
    form = books.form
    assert isinstance(form, PhonesForm)
    form.lines[0].setText("Vet 01234")
    form.take_it()
    assert comes(lambda: stage.session.farm.setting(PHONES) == ["Vet 01234"])
    assert comes(lambda: books.form is None)
    books.cards.click()
    folder = stage.session.path.parent
    assert comes(lambda: bool(list(folder.glob("*cards*.pdf"))))
    assert comes(lambda: any("is saved, in" in str(each.text) for each in stage.notices))
    books.pages[BookPage.MEDICINE].click()
    assert not books.cards.isVisibleTo(books)


def test_the_line_that_was_put_right_stays_chosen_and_deeds_stay_in_sight(window: Window) -> None:
    do(window.stage, *(treat("group0", TODAY + timedelta(days=at), f"Drench {at}") for at in range(15)))
    window.resize(1280, 800)
    window.stage.plate_asked.emit("books")
    QApplication.processEvents()
    (books,) = window.findChildren(Books)
    assert books.table.line is not None
    assert books.table.line.row.product == "Drench 14"  # type: ignore[attr-defined]
    books.table.selectRow(3)
    books._put_right()
    books._leave_form()
    assert books.table.line.row.product == "Drench 3"  # type: ignore[attr-defined]
    books.fit()
    QApplication.processEvents()
    port = books.tall.viewport()
    assert port.rect().contains(books.save.mapTo(port, books.save.rect().bottomLeft()))


@pytest.mark.parametrize("deed", ["print", "save"])
def test_esc_puts_the_plate_away_after_a_press_on_what_prints_or_saves(
    window: Window, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot, deed: str
) -> None:
    stage = window.stage
    do(stage, TREATED)
    path = str(stage.session.path.with_name("list.csv"))
    monkeypatch.setattr("pigmap.builtin.panels.book_paper.choose_new_file", lambda *_: path)
    stage.plate_asked.emit("books")
    QApplication.processEvents()
    plate = window.panel("books")
    assert isinstance(plate, Books)
    said = len(stage.notices)
    QTest.mouseClick(getattr(plate, deed), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: len(stage.notices) > said, timeout=8000)
    QTest.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Escape)
    assert plate.isHidden()
