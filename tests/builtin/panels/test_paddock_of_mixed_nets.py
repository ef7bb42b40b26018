"""What the card, the map and a table that is handed out say of a paddock whose sides have nets of two lengths."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.document.edits import add_net_kind, place_paddock
from pigmap.drawing.nets import bays_of
from pigmap.drawing.on_day import Shown
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.stage import Stage
from pigmap.session.handing_out.things import paddocks_of
from tests.qt.window_farm import TODAY, day, made_stage

SIDES = ((("fifty", 1), ("half", 1)), (("fifty", 1),)) * 2
BAYS_MM = (12_500,) * 2


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.session.do(add_net_kind("25 m nets", BAYS_MM, nets=4, uid="half")).result()
        placed = place_paddock(
            Rectangle(220, 20, 0, 75_000, 50_000), net_kind_uid="fifty", side_nets=SIDES, group_uid="group0",
            in_on=day(8), uid="mixed",
        )  # fmt: skip
        made.session.do(placed).result()
        yield made


def test_the_card_says_how_long_its_sides_are_and_of_which_nets(stage: Stage) -> None:
    facts = {fact.label: fact for fact in paddock_card(stage, stage.session.farm.paddocks["mixed"]).facts}
    assert facts["Area"].rests_on == "75 \u00d7 50 m"
    assert facts["Nets"].rests_on == "1 of 50 m, 1 of 25 m by 1 of 50 m"


def test_its_posts_stand_where_its_nets_have_them(stage: Stage) -> None:
    paddock = stage.session.farm.paddocks["mixed"]
    fifty = stage.session.farm.net_kinds["fifty"].bays_mm
    assert bays_of(stage.session.farm, Shown(paddock, None, None, paddock.outline)) == (fifty + BAYS_MM + fifty) * 2


def test_a_table_of_paddocks_names_the_nets_of_its_sides(stage: Stage) -> None:
    table = paddocks_of(stage.session.farm, date(2026, 6, 1), TODAY)
    (told,) = (column for column in table.columns if column.name == "side_nets")
    assert [each for each in told.values if each] == ["1 x 50 m + 1 x 25 m; 1 x 50 m"]
