from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels import learned as panel
from pigmap.builtin.panels.field_facts import field_card
from pigmap.builtin.panels.learned import LearnedPlate
from pigmap.document.edits import change_setting, keep_pace
from pigmap.ground.fitting import Learned, Number, SeenExpected
from pigmap.qt.stage import Stage
from pigmap.records import Check, Farm
from tests.qt.window_farm import TODAY, day, drop, made_panel, made_stage

CHECK = Check(uid="x", checked_on=TODAY, paddock_uid="group0p0", rooting_score=2)
ROWS = tuple(SeenExpected(CHECK, "field", at % 5 / 4, 0.3, 0.4) for at in range(20))
FITTED = Learned(20, ROWS, Number(0.1, 0.16, 0.1), Number(0.006, 0.0045, 0.2), Number(0.68, 0.68, None), 0.21, 0.12)
FEW = Learned(2, ROWS[:2], Number(0.1, 0.1, None), Number(0.006, 0.006, None), Number(0.68, 0.68, None), 0.21, None)
Teach = Callable[[Learned], None]


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def teach(monkeypatch: pytest.MonkeyPatch) -> Teach:
    """Have the checks of a farm teach what a test says: what they really do is tested where it is fitted."""

    def taught(found: Learned) -> None:
        def learned(farm: Farm, today: date) -> Learned:
            return found

        monkeypatch.setattr(panel, "learned", learned)

    return taught


@pytest.fixture
def plate(stage: Stage, teach: Teach) -> Iterator[LearnedPlate]:
    teach(FITTED)
    with made_panel(stage, "learned", (900, 800)) as made:
        assert isinstance(made, LearnedPlate)
        made.open_plate()
        yield made
        made.close_down()


def pace(stage: Stage) -> dict[str, object]:
    return {key: stage.session.farm.setting(key) for key in ("cover loss", "cover regrowth", "wood loss")}


def test_it_says_on_what_it_rests_and_how_far_off_both_are(plate: LearnedPlate) -> None:
    assert plate.said.text() == "Fitted on 20 visits."
    assert plate.in_use.text() == "In use: the numbers from print."
    assert plate.pace.text() == (
        "Pigs wear the green 1.6 times as fast as printed, give or take 10 %.\n"
        "It comes back 0.75 times as fast as printed, give or take 20 %."
    )
    assert plate.off.text() == "Off by 12 % of the ground; the numbers from print by 21 %."
    assert plate.far.text() == ""


def test_what_the_farm_shows_is_used_by_one_edit_and_taken_back_by_one(plate: LearnedPlate, stage: Stage) -> None:
    assert not plate.use.isHidden()
    assert plate.printed.isHidden()
    plate.use.click()
    assert pace(stage) == {"cover loss": 0.16, "cover regrowth": 0.0045, "wood loss": None}
    assert plate.in_use.text() == "In use: what this farm shows."
    assert plate.use.isHidden()
    assert not plate.printed.isHidden()
    stage.session.undo().result()
    assert set(pace(stage).values()) == {None}
    stage.session.redo().result()
    plate.printed.click()
    assert set(pace(stage).values()) == {None}


def test_numbers_that_someone_typed_are_told_apart(plate: LearnedPlate, stage: Stage) -> None:
    stage.session.do(change_setting("cover loss", 0.2)).result()
    assert plate.in_use.text() == "In use: numbers of this farm, from earlier or typed."
    assert not plate.use.isHidden()
    assert not plate.printed.isHidden()


def test_a_number_far_from_print_is_doubted(plate: LearnedPlate, teach: Teach, stage: Stage) -> None:
    teach(FITTED._replace(regrowth=Number(0.006, 0.03, 0.1)))
    stage.session.do(change_setting("seen days", 30)).result()
    assert plate.far.text().startswith("That is far from print.")


def test_with_few_checks_it_says_what_it_takes_and_offers_nothing(stage: Stage, teach: Teach) -> None:
    teach(FEW)
    with made_panel(stage, "learned", (900, 800)) as made:
        assert isinstance(made, LearnedPlate)
        made.open_plate()
        assert made.said.text().startswith("There are 2 daily checks")
        assert made.use.isHidden()
        assert made.off.text() == "The numbers from print are off by 21 % of the ground."


def test_the_plot_has_a_dot_for_each_check_where_seen_and_expected_meet(plate: LearnedPlate) -> None:
    plate.plot.resize(300, plate.plot.height())
    spots, box = plate.plot.spots(), plate.plot.box()
    assert len(spots) == 20
    assert {round((spot.x() - box.left()) / box.width(), 2) for spot, _ in spots} == {0.4}  # by the fitted numbers
    heights = [(box.bottom() - spot.y()) / box.height() for spot, _ in spots]
    assert [round(4 * each) for each in heights[:5]] == [0, 1, 2, 3, 4]
    assert plate.plot.accessibleName() == "Seen against expected, 20 daily checks: off by 12 % of the ground"
    assert not plate.plot.grab().isNull()


def test_the_card_of_a_field_says_whose_pace_is_used(stage: Stage) -> None:
    def said() -> str:
        card = field_card(stage, stage.session.farm.fields["field"])
        return next(fact.figure for fact in card.facts if fact.label == "Pace")

    assert said() == "from print"
    stage.session.do(keep_pace(loss=0.16, regrowth=0.006)).result()
    assert said() == "of this farm"


def test_what_it_shows_is_computed_anew_after_a_check(plate: LearnedPlate, stage: Stage, teach: Teach) -> None:
    teach(FITTED._replace(visits=21))
    stage.session.do(change_setting("seen days", 30)).result()
    assert plate.said.text() == "Fitted on 21 visits."
    assert day(0) == TODAY
    drop(plate)
