from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.errors import SheetError
from pigmap.plugins import Registry
from pigmap.qt.opened_file import DEED
from pigmap.qt.printing import Printing, field_of_picked, file_name, free_path
from pigmap.qt.stage import Picked, Stage
from tests.qt.window_farm import TODAY, drop, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def printing(stage: Stage) -> Iterator[Printing]:
    holder = QWidget()
    made = Printing(stage, holder)
    yield made
    made.close()
    drop(holder)


class _Report:
    def make(self, farm: Any, states: Any, request: Any) -> str:
        return f"{farm.name} {sorted(states)} {request.day} {request.field_uid} {request.tint.name}"


class _Output:
    def write(self, page: str, path: Path, *, images: Any) -> None:
        path.write_text(page, encoding="utf-8")


class _NoRoom:
    def write(self, page: str, path: Path, *, images: Any) -> None:
        raise SheetError("The folder {folder} takes no file.", remedy="Choose another.", folder=path.parent.name)


def _replaced(monkeypatch: pytest.MonkeyPatch, output: object) -> None:
    usual = Registry.load

    def load(self: Registry, kind: str, name: str) -> Any:
        parts = {("reports", "field-map"): _Report(), ("outputs", "pdf"): output}
        return parts.get((kind, name)) or usual(self, kind, name)

    monkeypatch.setattr(Registry, "load", load)


def _said(stage: Stage) -> list[str]:
    said: list[str] = []
    stage.noticed.connect(lambda notice: said.append(str(notice.text)))
    return said


def test_the_sheet_is_written_beside_the_farm_and_its_place_told(
    stage: Stage, printing: Printing, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    _replaced(monkeypatch, _Output())
    said = _said(stage)
    printing.print_sheet()
    qtbot.waitUntil(lambda: len(said) == 2, timeout=5000)
    path = stage.session.path.with_name("Top Field 2026-05-13.pdf")
    assert said == ["Making the sheet of Top Field.", f"{path.name} is saved, in {path.parent}."]
    assert (stage.notices[-1].deed, stage.notices[-1].file) == (DEED, path)
    assert path.read_text(encoding="utf-8") == f"Hill Farm ['field'] {TODAY} field rest-and-rooting"


def test_a_sheet_that_cannot_be_written_says_why(
    stage: Stage, printing: Printing, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    _replaced(monkeypatch, _NoRoom())
    said = _said(stage)
    printing.print_sheet()
    qtbot.waitUntil(lambda: len(said) == 2, timeout=5000)
    assert said[1].endswith("takes no file. Choose another.")


@pytest.mark.parametrize("picked", [("paddocks", "group0p3"), ("stays", "group0s3"), ("fields", "field"), None])
def test_the_field_is_that_of_what_is_picked_or_the_only_one(stage: Stage, picked: tuple[str, str] | None) -> None:
    stage.pick(Picked(*picked) if picked else None)
    assert field_of_picked(stage) == "field"


def test_names_of_files_are_taken_everywhere() -> None:
    assert file_name('A/B: "C"') == "A-B- -C-"
    assert file_name("...") == "field map"


def test_what_was_saved_before_stays_and_the_new_file_gets_a_number(tmp_path: Path) -> None:
    path = tmp_path / "Top Field 2026-05-13.pdf"
    assert free_path(path) == path
    path.touch()
    assert free_path(path).name == "Top Field 2026-05-13 (2).pdf"
    free_path(path).touch()
    assert free_path(path).name == "Top Field 2026-05-13 (3).pdf"


def test_the_letter_alone_prints_nothing_until_it_is_pressed_twice(
    stage: Stage, printing: Printing, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    _replaced(monkeypatch, _Output())
    said = _said(stage)
    printing.print_at_second_letter()
    assert said == ["S once more prints the field map of Top Field."]
    monkeypatch.setattr("pigmap.qt.printing.AGAIN_S", -1.0)
    printing.print_at_second_letter()  # much later
    assert said == ["S once more prints the field map of Top Field."] * 2
    monkeypatch.undo()
    _replaced(monkeypatch, _Output())
    printing.print_at_second_letter()
    qtbot.waitUntil(lambda: len(said) == 4, timeout=5000)
    assert said[2] == "Making the sheet of Top Field."
    printing.print_at_second_letter()
    assert said[4:] == ["S once more prints the field map of Top Field."]
