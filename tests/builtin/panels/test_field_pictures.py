from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.course_scale import Scale, span_of, stays_on
from pigmap.builtin.panels.field_pictures import FieldPictures
from pigmap.document.edits import amend
from pigmap.drawing.tokens import GROUP_SIGNS, REST_COLOURS, THEMES
from pigmap.qt.stage import Picked, Stage
from tests.qt.window_farm import TODAY, day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 900)) as made:
        assert isinstance(made, Card)
        stage.pick(Picked("fields", "field"))
        yield made
        made.close_down()


def _pictures(card: Card) -> FieldPictures:
    assert card._pictures.field is not None
    return card._pictures.field


def _colours(widget: QWidget) -> set[str]:
    image = widget.grab().toImage()
    return {QColor(image.pixel(x, y)).name().upper() for x in range(image.width()) for y in range(image.height())}


def test_only_the_card_of_a_field_has_pictures(card: Card, stage: Stage) -> None:
    pictures = _pictures(card)
    assert pictures.course.isVisible()
    assert pictures.shares.isVisible()
    assert card._body.below_head > 100
    stage.pick(Picked("paddocks", "group0p0"))
    assert not pictures.course.isVisible()
    assert card._body.below_head == 0


def test_pictures_lie_above_and_below_the_figures_and_cover_none(card: Card) -> None:
    pictures = _pictures(card)
    course, shares = pictures.course.geometry(), pictures.shares.geometry()
    card._body.grab()
    rows = [box.toRect() for box in card._body._boxes.values()]
    assert all(row.top() >= course.bottom() for row in rows)
    assert all(row.bottom() <= shares.top() for row in rows)


def test_the_course_is_drawn_in_the_colours_of_the_map_and_the_season(card: Card) -> None:
    colours = _colours(_pictures(card).course)
    assert THEMES["light"].plan in colours
    assert REST_COLOURS[0] in colours
    assert GROUP_SIGNS[0].colour in colours  # the running stay


def test_a_screen_reader_is_told_the_day_the_share_and_what_is_marked(card: Card, stage: Stage) -> None:
    words = _pictures(card).course.accessibleName()
    assert words.startswith("Green share and rest of Top Field, Wed 13 May: ")
    assert "8 stays, 2 daily checks" in words
    stage.show_day(day(-6))
    assert "Thu 7 May: " in _pictures(card).course.accessibleName()
    spoken = _pictures(card).shares.accessibleName()
    assert spoken.startswith("Ground of Top Field by days of rest: ")
    assert "not known" in spoken
    assert "Rooted: hardly" in spoken


def test_a_click_and_the_arrow_keys_show_another_day(card: Card, stage: Stage) -> None:
    course = _pictures(card).course
    scale = course._scale()
    assert scale is not None
    at = QPoint(round(scale.x_of(day(-30).toordinal())), 40)
    QTest.mouseClick(course, Qt.MouseButton.LeftButton, pos=at)
    assert abs((stage.day - day(-30)).days) <= 1
    shown = stage.day
    QTest.keyClick(course, Qt.Key.Key_Right)
    assert (stage.day - shown).days == 1
    QTest.keyClick(course, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert (stage.day - shown).days == -6


def test_the_course_follows_an_edit_and_never_shows_that_of_the_ground_before(card: Card, stage: Stage) -> None:
    before = _pictures(card).course.course
    assert before is not None
    stage.session.do(amend("checks", "group0c", rooting_score=4)).result()
    after = _pictures(card).course.course
    assert after is not None
    state = stage.session.ground.state("field", stage.day, stage.today)
    assert state is not None
    assert after.ground is state.ground
    assert after.mean.min() < before.mean.min()


def test_the_shares_follow_the_day_and_on_a_day_to_come_nothing_was_seen(card: Card, stage: Stage) -> None:
    shares = _pictures(card).shares
    assert shares.shares is not None
    assert shares.shares.rooted[0].sum() > 0
    stage.show_day(day(5))
    assert shares.shares.rooted[0].sum() == 0
    assert shares.shares.rest.sum() == pytest.approx(1.0)


@pytest.mark.parametrize("theme", THEMES)
def test_both_pictures_can_be_drawn_in_every_theme(card: Card, stage: Stage, theme: str) -> None:
    stage.show_theme(theme)
    assert THEMES[theme].plan in _colours(_pictures(card).course)
    assert not _pictures(card).shares.grab().isNull()


def test_the_plot_goes_two_years_back_at_most_and_as_far_ahead_as_plans(stage: Stage) -> None:
    farm = stage.session.farm
    stays = stays_on(farm, farm.fields["field"], TODAY)
    assert len(stays) == 8
    first, last = span_of(day(-20), stays, TODAY)
    assert (first, last) == (day(-90), day(42))
    first, last = span_of(day(-2000), stays, TODAY)
    assert (TODAY - first).days == 730
    scale = Scale(10.0, 110.0, first, last)
    assert scale.day_at(scale.x_of(TODAY.toordinal())) == TODAY
    assert scale.day_at(-5.0) == first
