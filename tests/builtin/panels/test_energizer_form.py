"""An energizer is told of on its own card or on that of its group, with mouse or keys."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.energizer_form import EnergizerForm
from pigmap.builtin.panels.energizer_typed import EnergizerTyped
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import add_place, change_setting
from pigmap.errors import EditError
from pigmap.qt.stage import Picked, Stage
from pigmap.records import PlaceKind, PowerSource, Soil
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yard = add_place(PlaceKind.ENERGIZER, shapely.Point(5, 5), name="Yard", uid="yard")
        made.session.do(yard).result()
        QApplication.processEvents()
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def form_of(stage: Stage, card: Card, table: str, uid: str) -> EnergizerForm:
    stage.pick(Picked(table, uid))
    card._do("gives" if table == "places" else "energizer")
    QApplication.processEvents()
    return card.findChildren(EnergizerForm)[-1]


def told(stage: Stage) -> Any:
    (row,) = stage.session.farm.energizers.values()
    return row


def facts(stage: Stage, table: str, uid: str) -> dict[str, tuple[str, str]]:
    found = card_of(stage, Picked(table, uid))
    assert found is not None
    return {fact.label: (fact.figure, fact.rests_on) for fact in found.facts}


def test_output_stakes_and_battery_are_typed_and_stand_on_the_card(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "places", "yard")
    form.output.setText("0,5")
    form.stakes.setText("3")
    form.battery.setText("12.4")
    QTest.keyClick(form.battery, Qt.Key.Key_Return)
    assert comes(lambda: bool(stage.session.farm.energizer_readings))
    assert (told(stage).output_j, told(stage).rods, told(stage).place_uid) == (0.5, 3, "yard")
    said = facts(stage, "places", "yard")
    assert said["Gives"][0] == "0.5 J"
    assert said["Earth"][0] == "3 stakes"
    assert said["Battery"][0] == "12.4 V"
    stage.session.undo().result()
    assert not stage.session.farm.energizers
    assert not stage.session.farm.energizer_readings


def test_what_is_told_again_changes_what_was_told(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "places", "yard")
    form.output.setText("0.5")
    form.take.click()
    assert comes(lambda: bool(stage.session.farm.energizers))
    again = form_of(stage, card, "places", "yard")
    assert again.output.text() == "0.5"
    again.more.click()
    assert not again.soil.isHidden()
    again.soil.setCurrentIndex(again.soil.findData(Soil.CLAY))
    again.stakes.setText("2")
    again.stake_long.setText("1.2")
    again.take.click()
    assert comes(lambda: told(stage).soil is Soil.CLAY)
    assert (told(stage).rods, told(stage).rod_m, told(stage).output_j) == (2, 1.2, 0.5)
    assert facts(stage, "places", "yard")["Earth"] == ("2 stakes", "of 1.2 m, in clay")


def test_a_group_has_a_unit_that_moves_with_it(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "groups", "group0")
    form.source.setCurrentIndex(form.source.findData(PowerSource.SOLAR))
    form.output.setText("0.3")
    form.more.click()
    form.swap_on.setText("2026-06-01")
    form.take.click()
    assert comes(lambda: bool(stage.session.farm.energizers))
    assert (told(stage).group_uid, told(stage).place_uid) == ("group0", None)
    assert facts(stage, "groups", "group0")["Runs on"] == ("a solar panel", "next one Mon 1 Jun")


@pytest.mark.parametrize(
    ("line", "typed", "said"),
    [
        (
            "output",
            "15",
            "This energizer would give 15 J into 500 Ω; energizers for livestock give at most 5 J. "
            "Give the output from its data sheet; what a unit stores is more than it gives.",
        ),
        ("output", "strong", "The output is 'strong': that is no number. Give a number, such as 0.5."),
        ("stakes", "2.5", "The number of earth stakes is '2.5': that is no number. Give a number, such as 3."),
        (
            "swap_on",
            "Friday",
            "Friday is not a day of the calendar. Give year, month and day, such as 2026-03-01.",
        ),
        ("battery", "230", "The voltage of the battery in V is 230. Give a number from 0 to 60."),
    ],
)
def test_what_cannot_be_is_said_and_stays_typed(stage: Stage, card: Card, line: str, typed: str, said: str) -> None:
    form = form_of(stage, card, "places", "yard")
    getattr(form, line).setText(typed)
    form.take.click()
    QApplication.processEvents()
    assert form.said.text() == said
    assert getattr(form, line).text() == typed
    assert not stage.session.farm.energizers


def test_feet_are_feet_where_people_measure_so(stage: Stage, card: Card) -> None:
    stage.session.do(change_setting("units", "us")).result()
    QApplication.processEvents()
    form = form_of(stage, card, "places", "yard")
    form.output.setText("1")
    form.stake_long.setText("6")
    form.take.click()
    assert comes(lambda: bool(stage.session.farm.energizers))
    assert told(stage).rod_m == pytest.approx(1.8288)


def test_what_is_left_empty_is_not_known() -> None:
    typed = EnergizerTyped(PowerSource.BATTERY, output=" 0.5 ")
    columns = typed.columns("metric")
    assert columns["output_j"] == 0.5
    assert [name for name, value in columns.items() if value is None] == [
        "open_kv",
        "kv_500",
        "rods",
        "rod_m",
        "soil",
        "swap_on",
    ]
    assert typed.reading() == (None, None)
    with pytest.raises(EditError, match="The lead-out is 'far'"):
        EnergizerTyped(PowerSource.BATTERY, lead="far").columns("metric")
    assert EnergizerTyped(PowerSource.MAINS, swap_on="2026-05-01").columns("metric")["swap_on"] == date(2026, 5, 1)


def test_every_line_has_a_name_and_esc_leaves_things_as_they_were(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "places", "yard")
    lines = (form.output, form.stakes, form.battery, form.stake_long, form.earth, form.lead, form.open_kv, form.kv_500)
    assert all(line.accessibleName() for line in (*lines, form.swap_on, form.source, form.soil))
    form.output.setText("3")
    QTest.keyClick(form.output, Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert not stage.session.farm.energizers
    assert card._form is None


def test_tab_goes_from_above_to_the_buttons(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "places", "yard")
    form.more.click()
    order: list[QWidget | None] = [form.source]
    for _ in range(60):
        assert order[-1] is not None
        order.append(order[-1].nextInFocusChain())
    at = [order.index(part) for part in (form.output, form.battery, form.swap_on, form.take, form.leave)]
    assert at == sorted(at)
