from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels import season_ground
from pigmap.builtin.panels.date_handle import flag_box, today_box
from pigmap.builtin.panels.day_scale import DayScale
from pigmap.builtin.panels.season import Season
from pigmap.builtin.panels.season_edges import EDGE_PX, STEP_MS, step_at
from pigmap.builtin.panels.season_rows import bars
from pigmap.drawing.tokens import GROUP_SIGNS, LIGHT
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import Book
from pigmap.records import StayState
from tests.qt.window_farm import TODAY, day, made_panel, made_stage

SIZE = (1600, 206)
LEFT = Qt.MouseButton.LeftButton
NO = Qt.KeyboardModifier.NoModifier


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def season(stage: Stage) -> Iterator[Season]:
    with made_panel(stage, "season", SIZE) as made:
        assert isinstance(made, Season)
        yield made


def _spot(season: Season, days: float, row: int) -> QPoint:
    """Return a spot in the middle of a row, so many days from the beginning of today."""
    strip = season.strip
    x = strip.scale.x_of(TODAY) + days * strip.scale.px_per_day
    return QPoint(round(x), round(strip.top + (row + 0.5) * strip.row))


def _drag(season: Season, start: QPoint, end: QPoint) -> None:
    QTest.mousePress(season, LEFT, NO, start)
    for step in (0.3, 0.7, 1.0):
        QTest.mouseMove(season, start + (end - start) * step)
    QTest.mouseRelease(season, LEFT, NO, end)


def test_a_day_lies_where_it_is_found_again() -> None:
    scale = DayScale(TODAY.toordinal() - 20.5, 15.0, 292, 1600)
    assert scale.day_at(scale.middle_of(TODAY)) == TODAY
    assert scale.day_at(scale.x_of(TODAY) + 0.1) == TODAY
    assert scale.day_at(scale.x_of(TODAY) - 0.1) == day(-1)


def test_zooming_keeps_the_day_under_the_pointer() -> None:
    scale = DayScale(TODAY.toordinal() - 20.5, 15.0, 292, 1600)
    x = scale.middle_of(day(4))
    assert scale.zoomed(2.0, x).middle_of(day(4)) == pytest.approx(x, abs=8.0)
    assert scale.zoomed(100.0, x).px_per_day == 60.0


def test_the_calendar_ends_and_the_strip_does_not_fall_off_it() -> None:
    assert DayScale(-1e6, 15.0, 0, 100).day_at(0).year == 1
    assert DayScale(1e8, 15.0, 0, 100).day_at(0).year == 9999


def test_each_group_has_a_row_of_bars_that_touch(season: Season, stage: Stage) -> None:
    shown = list(bars(Book(stage.session.farm), season.strip, TODAY))
    assert [bar.words for bar in shown if bar.stay.group_uid == "group1"] == ["11", "12", "13", "14"]
    first, second = shown[0].box, shown[1].box
    assert second.left() - first.right() == pytest.approx(1.0)


def test_a_bar_runs_on_until_the_pigs_have_left_and_lies_over_plans_that_came_to_nothing(
    season: Season, stage: Stage
) -> None:
    late = day(9)
    book = Book(stage.session.farm, late)
    shown = [bar for bar in bars(book, season.strip, late) if bar.stay.group_uid == "group0"]
    really = book.lasting("group0")
    (running,) = (bar for bar in shown if bar.stay.state is StayState.RUNNING)
    assert running.box.right() == pytest.approx(season.strip.scale.x_of(late + timedelta(days=1)) - 0.5)
    (nothing,) = (bar for bar in shown if bar.stay.uid not in {each.stay.uid for each in really})
    assert shown.index(nothing) < shown.index(running)


def test_past_bars_have_the_group_s_colour_and_planned_ones_the_plan_s(season: Season) -> None:
    image = season.grab().toImage()
    past = QColor(image.pixel(_spot(season, -9.5, 0) + QPoint(0, -7)))
    planned = QColor(image.pixel(_spot(season, 4.5, 0) + QPoint(0, -7)))
    colour = QColor(GROUP_SIGNS[0].colour)
    assert abs(past.hue() - colour.hue()) < 6
    assert past.saturation() < colour.saturation()
    assert planned == QColor(LIGHT.planbg)


def test_dragging_the_handle_shows_the_day_under_it(season: Season, stage: Stage) -> None:
    head = flag_box(season.strip, stage).center().toPoint() - QPoint(45, 0)
    post = QPoint(round(season.strip.scale.middle_of(TODAY)), head.y())
    target = QPoint(round(season.strip.scale.middle_of(day(-12))), head.y())
    _drag(season, post, target)
    assert stage.day == day(-12)


def test_the_strip_scrolls_while_the_handle_is_held_at_its_edge(season: Season, stage: Stage, qtbot: QtBot) -> None:
    head = round(flag_box(season.strip, stage).center().y())
    edge = QPoint(round(season.strip.scale.left) + 2, head)
    first = season.strip.scale.day_at(season.strip.scale.left)
    QTest.mousePress(season, LEFT, NO, QPoint(round(season.strip.scale.middle_of(TODAY)), head))
    QTest.mouseMove(season, edge)
    qtbot.waitUntil(lambda: stage.day < first - timedelta(days=20), timeout=3000)
    QTest.mouseRelease(season, LEFT, NO, edge)
    scale, shown = season.strip.scale, stage.day
    assert scale.left + EDGE_PX < scale.middle_of(shown) < scale.right, "the handle stays in sight"
    qtbot.wait(4 * STEP_MS)
    assert (season.strip.scale, stage.day) == (scale, shown), "nothing scrolls once it is let go"


def test_the_nearer_to_the_edge_the_faster_it_scrolls() -> None:
    scale = DayScale(700_000.0, 14.0, 200.0, 1000.0)
    assert step_at(scale, 600) == step_at(scale, 200 + EDGE_PX) == step_at(scale, 1000 - EDGE_PX) == 0
    assert 0 > step_at(scale, 215) > step_at(scale, 205) > step_at(scale, 200) == step_at(scale, 50)
    assert 0 < step_at(scale, 985) < step_at(scale, 995) < step_at(scale, 1000) == step_at(scale, 1200)


def test_the_arrows_of_the_flag_step_a_day(season: Season, stage: Stage) -> None:
    box = flag_box(season.strip, stage)
    QTest.mouseClick(season, LEFT, NO, QPoint(round(box.left()) + 10, round(box.center().y())))
    assert stage.day == day(-1)


def test_a_drag_that_begins_on_an_arrow_of_the_flag_is_a_drag(season: Season, stage: Stage) -> None:
    box = flag_box(season.strip, stage)
    arrow = QPoint(round(box.left()) + 10, round(box.center().y()))
    _drag(season, arrow, QPoint(round(season.strip.scale.middle_of(day(-9))), arrow.y()))
    assert stage.day == day(-9)


def test_a_click_beside_the_bars_shows_that_day(season: Season, stage: Stage) -> None:
    QTest.mouseClick(season, LEFT, NO, _spot(season, 20.5, 0))
    assert stage.day == day(20)


def test_a_click_on_a_bar_picks_its_stay(season: Season, stage: Stage) -> None:
    QTest.mouseClick(season, LEFT, NO, _spot(season, 5.5, 1))
    assert stage.picked == Picked("stays", "group1s3")


def test_a_click_on_a_label_picks_the_group(season: Season, stage: Stage) -> None:
    QTest.mouseClick(season, LEFT, NO, QPoint(80, _spot(season, 0, 1).y()))
    assert stage.picked == Picked("groups", "group1")


def test_dragging_the_end_of_a_planned_bar_changes_its_day_out_by_one_edit(season: Season, stage: Stage) -> None:
    before = stage.session.farm.revision
    out = stage.session.farm.stays["group0s3"].out_on
    assert out is not None
    _drag(season, _spot(season, (out - TODAY).days, 0), _spot(season, (out - TODAY).days + 3.1, 0))
    assert stage.session.farm.stays["group0s3"].out_on == out + timedelta(days=3)
    assert stage.session.farm.revision == before + 1


def test_a_planned_bar_keeps_a_day(season: Season, stage: Stage) -> None:
    stay = stage.session.farm.stays["group0s3"]
    assert stay.out_on is not None
    _drag(season, _spot(season, (stay.out_on - TODAY).days, 0), _spot(season, -30, 0))
    assert stage.session.farm.stays["group0s3"].out_on == stay.in_on + timedelta(days=1)


def test_what_follows_a_dragged_end_moves_with_it(season: Season, stage: Stage) -> None:
    from pigmap.document.edits import plan_stay

    out = stage.session.farm.stays["group0s3"].out_on
    assert out is not None
    stage.session.do(plan_stay("group0", "group0p0", out, out + timedelta(days=4), uid="next")).result()
    _drag(season, _spot(season, (out - TODAY).days, 0), _spot(season, (out - TODAY).days + 2, 0))
    assert stage.session.farm.stays["next"].in_on == out + timedelta(days=2)
    assert stage.session.farm.stays["next"].out_on == out + timedelta(days=6)


def test_the_end_of_a_running_stay_moves_the_next_one_and_never_before_today(season: Season, stage: Stage) -> None:
    stays = stage.session.farm.stays
    revision, after = stage.session.farm.revision, stays["group0s3"]
    assert after.out_on is not None
    _drag(season, _spot(season, 3, 0), _spot(season, 5, 0))
    farm = stage.session.farm
    assert farm.stays["group0s2"].out_on == farm.stays["group0s3"].in_on == day(5)
    assert farm.stays["group0s3"].out_on == after.out_on + timedelta(days=2)
    assert farm.revision == revision + 1
    _drag(season, _spot(season, 5, 0), _spot(season, -9, 0))
    assert stage.session.farm.stays["group0s2"].out_on == TODAY


def _wheel(season: Season, turned: int, modifier: Qt.KeyboardModifier = NO) -> None:
    at = QPointF(900, 90)
    event = QWheelEvent(
        at,
        season.mapToGlobal(at),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        modifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(season, event)


def test_the_wheel_scrolls_time_and_with_control_zooms_days(season: Season) -> None:
    scale = season.strip.scale
    _wheel(season, -120)
    assert season.strip.scale.first > scale.first
    assert season.strip.scale.px_per_day == scale.px_per_day
    _wheel(season, 120, Qt.KeyboardModifier.ControlModifier)
    assert season.strip.scale.px_per_day > scale.px_per_day


def test_a_day_far_away_is_scrolled_into_view(season: Season, stage: Stage) -> None:
    stage.show_day(day(300))
    scale = season.strip.scale
    assert scale.left < scale.middle_of(stage.day) < scale.right


def test_a_farm_without_stays_says_how_to_begin(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "season", SIZE) as season:
        assert season.grab().toImage().width() == SIZE[0]
        assert season.sizeHint().height() > 60


def test_nine_groups_scroll_and_the_spare_set_stays(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, 9) as stage, made_panel(stage, "season", (1600, 206)) as season:
        assert isinstance(season, Season)
        assert len(season.strip.rows) < 9
        assert season.strip.foot <= season.height()
        stage.pick(Picked("groups", "group8"))
        assert "group8" in [group.uid for group in season.strip.rows]


@pytest.mark.parametrize("beyond", [2.0, 5.0, 15.0])
def test_a_day_that_would_be_cut_at_an_edge_has_no_number(
    season: Season, stage: Stage, beyond: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[tuple[str, float, float]] = []

    def note(painter: object, box: QRectF, words: str, *look: object) -> None:
        written.append((words, box.left(), box.right()))

    monkeypatch.setattr(season_ground, "write", note)
    stage.text_scale = 1.5
    scale = season.strip.scale
    monday = day(-TODAY.weekday())
    for edge in (scale.left, scale.right):
        season._scale = scale.moved(scale.x_of(monday) - edge + beyond * (1 if edge == scale.left else 3))
        written.clear()
        season._redraw()
        season.grab()
        numbers = [each for each in written if each[0].isdigit()]
        assert len(numbers) > 3
        for words, left, right in numbers:
            assert left >= scale.left, words
            assert right <= scale.right + 1, words


@pytest.mark.parametrize("away", [*range(-16, 0), 1, 5, 30])
def test_the_word_today_never_lies_under_the_flag(season: Season, stage: Stage, away: int) -> None:
    stage.show_day(TODAY + timedelta(days=away))
    flag = flag_box(season.strip, stage)
    box = today_box(season.strip, stage, flag, season.height())
    assert box.height() > 0
    assert not box.intersects(flag)
    assert box.left() <= season.strip.scale.middle_of(TODAY) <= box.right()
    assert box.bottom() <= season.height()


def test_where_the_flag_covers_todays_line_the_word_stands_below_the_rows(season: Season, stage: Stage) -> None:
    stage.show_day(TODAY - timedelta(days=4))
    flag = flag_box(season.strip, stage)
    assert today_box(season.strip, stage, flag, season.height()).top() >= season.strip.foot
    assert today_box(season.strip, stage, flag, season.strip.foot).height() == 0  # no room: the line alone
    stage.show_day(TODAY - timedelta(days=30))
    flag = flag_box(season.strip, stage)
    assert today_box(season.strip, stage, flag, season.height()).bottom() < season.strip.top


def test_days_and_months_are_not_written_where_the_flag_lies(
    season: Season, stage: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[QRectF] = []

    def note(painter: QPainter, box: QRectF, *rest: object) -> float:
        written.append(QRectF(box))
        return 0.0

    monkeypatch.setattr(season_ground, "write", note)
    for away in range(-10, 10):
        written.clear()
        stage.show_day(TODAY + timedelta(days=away))
        season.grab()
        assert len(written) > 8
        assert not [box for box in written if box.intersects(flag_box(season.strip, stage))]
