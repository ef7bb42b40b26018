from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels import message
from pigmap.builtin.panels.close_button import CloseButton
from pigmap.builtin.panels.message import MessageBar
from pigmap.document.edits import rename
from pigmap.qt.following import tell
from pigmap.qt.opened_file import DEED
from pigmap.qt.stage import Stage
from pigmap.session import Session
from pigmap.text import Text
from tests.qt.window_farm import TODAY, day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def bar(stage: Stage) -> Iterator[MessageBar]:
    with made_panel(stage, "message", (700, 44)) as made:
        assert isinstance(made, MessageBar)
        made.move(40, 300)  # not under the pointer, which would keep messages
        yield made


def _words(bar: QWidget) -> str:
    return bar.accessibleName() if not bar.isHidden() else ""


def test_nothing_is_said_on_today_until_something_happens(bar: MessageBar) -> None:
    assert bar.isHidden()


def test_an_edit_is_told_and_its_button_takes_it_back(bar: MessageBar, stage: Stage) -> None:
    edit = rename("paddocks", "group0p3", "By the oak")
    tell(stage, stage.session.do(edit), edit.label)
    assert _words(bar) == "Renamed to By the oak."
    bar._deed.click()
    assert stage.session.farm.paddocks["group0p3"].name == "Top Field 4"
    assert _words(bar) == "Taken back: Renamed to By the oak."


def test_what_another_program_did_since_is_not_taken_back_by_a_button_that_stands_by_another_sentence(
    bar: MessageBar, stage: Stage
) -> None:
    edit = rename("paddocks", "group0p3", "By the oak")
    tell(stage, stage.session.do(edit), edit.label)
    with Session.open(stage.session.path) as other:
        other.do(rename("paddocks", "group0p3", "By the gate")).result()
    bar._deed.click()
    assert stage.session.farm.paddocks["group0p3"].name == "By the gate"
    assert _words(bar) == (
        "Another program came in between: it did “Renamed to By the gate.”. "
        "Undo once more takes back “Renamed to By the gate.”."
    )
    assert not bar._deed.isHidden()
    bar._deed.click()
    assert stage.session.farm.paddocks["group0p3"].name == "By the oak"


def test_the_button_leaves_once_it_would_take_back_something_else(bar: MessageBar, stage: Stage) -> None:
    edit = rename("paddocks", "group0p3", "By the oak")
    tell(stage, stage.session.do(edit), edit.label)
    assert not bar._deed.isHidden()
    with Session.open(stage.session.path) as other:
        other.do(rename("paddocks", "group0p3", "By the gate")).result()
    assert stage.session.poll()
    assert _words(bar) == "Renamed to By the oak."
    assert bar._deed.isHidden()


def test_a_message_leaves_by_itself_and_a_refusal_stays(
    bar: MessageBar, stage: Stage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(message, "STAYS_MS", 20)
    stage.notice(Text("Printed."))
    qtbot.waitUntil(bar.isHidden, timeout=2000)
    stage.notice(Text("The disk is full."), "refused")
    assert not bar._timer.isActive()
    close = bar.findChild(CloseButton)
    assert close is not None
    close.click()
    assert bar.isHidden()


def test_what_was_refused_goes_when_another_verb_is_taken_up_but_not_what_that_refuses(
    bar: MessageBar, stage: Stage, qtbot: QtBot
) -> None:
    stage.notice(Text("The disk is full."), "refused")
    qtbot.wait(5)
    assert _words(bar) == "The disk is full."
    stage.take_up("draw")
    assert bar.isHidden()
    stage.notice(Text("Nothing stands to be put right."), "refused")
    stage.take_up("pick")
    assert _words(bar) == "Nothing stands to be put right."


def test_away_from_today_it_says_what_the_map_shows(bar: MessageBar, stage: Stage) -> None:
    stage.show_day(day(2))
    assert _words(bar) == "The plan on Fri 15 May. No move that day."
    stage.show_day(day(3))
    assert _words(bar) == "The plan on Sat 16 May. To move: Dry sows, Weaners."
    stage.show_day(day(-2))
    assert _words(bar) == "As recorded on Mon 11 May. Moved: Dry sows, Weaners."
    bar._deed.click()
    assert stage.day == TODAY
    assert bar.isHidden()


def test_a_long_refusal_takes_more_lines_not_more_breadth(bar: MessageBar, stage: Stage) -> None:
    stage.notice(Text("The folder is full. " * 12), "refused")
    assert bar.heightForWidth(500) > 80
    assert bar.sizeHint().width() < 900


def test_the_last_fifty_are_kept(bar: MessageBar, stage: Stage) -> None:
    for at in range(60):
        stage.notice(Text("Message {number}.", {"number": at}))
    assert len(bar.past) == 50
    assert str(bar.past[-1].text) == "Message 59."


@pytest.mark.parametrize("verb", ["draw", "stand", "here", "place"])
def test_what_was_left_half_done_is_gone_on_with(bar: MessageBar, stage: Stage, verb: str) -> None:
    stage.notice(Text("2 corners wait where you left them."), "care", verb)
    assert bar._deed.text() == "Go on"
    bar._deed.click()
    assert stage.verb == verb


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Take what is opened; nothing opens sheets but folders."""
    asked: list[str] = []

    def open_url(url: QUrl) -> bool:
        asked.append(url.toLocalFile())
        return not url.toLocalFile().endswith(".none")

    monkeypatch.setattr(QDesktopServices, "openUrl", open_url)
    return asked


def test_a_file_that_was_written_is_opened_from_the_message(
    bar: MessageBar, stage: Stage, tmp_path: Path, opened: list[str]
) -> None:
    path = tmp_path / "Top Field.pdf"
    path.write_text("a page", encoding="utf-8")
    stage.notice(Text("Printed."), "done", DEED, path)
    assert bar._deed.text() == "Open it"
    assert bar._timer.interval() == message.STAYS_WITH_FILE_MS
    bar._deed.click()
    assert opened == [str(path)]
    assert bar.isHidden()
    stage.notice(Text("Moved."))
    assert bar._timer.interval() == message.STAYS_MS


def test_where_nothing_opens_a_file_its_folder_is_shown(
    bar: MessageBar, stage: Stage, tmp_path: Path, opened: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "cards.none"
    path.write_text("a page", encoding="utf-8")
    stage.notice(Text("Printed."), "done", DEED, path)
    bar._deed.click()
    assert opened == [str(path), str(tmp_path)]
    assert _words(bar) == "Nothing on this computer opens cards.none; here is its folder."
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: False)
    stage.notice(Text("Printed."), "done", DEED, path)
    bar._deed.click()
    assert _words(bar) == f"Nothing on this computer opens cards.none. Look for it in {tmp_path}."


def test_a_file_that_went_meanwhile_is_told(bar: MessageBar, stage: Stage, tmp_path: Path, opened: list[str]) -> None:
    stage.notice(Text("Printed."), "done", DEED, tmp_path / "gone.pdf")
    bar._deed.click()
    assert opened == []
    assert _words(bar) == f"gone.pdf is no longer in {tmp_path}. Print it again."
