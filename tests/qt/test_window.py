from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.focus_ring import FocusRing
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from tests.qt.window_farm import TODAY, made_window

NO, SHIFT, CONTROL = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def _press(window: Window, key: Qt.Key, modifier: Qt.KeyboardModifier = NO) -> None:
    QTest.keyClick(window, key, modifier)
    QApplication.processEvents()


def test_every_declared_panel_is_made_from_the_registry(window: Window) -> None:
    names = {part.name for part in window.stage.session.registry.parts("panels")}
    assert names >= {"card", "groups", "key", "message", "moves", "season", "start", "start-foot", "tray", "verbs"}
    assert names >= {"about", "find", "history", "messages"}
    assert all(window.panel(name) is not None for name in names)


@pytest.mark.parametrize(("size", "room"), [((1600, 1000), "usual"), ((1280, 800), "small"), ((2560, 1440), "wide")])
def test_the_parts_share_the_window_without_gap_or_overlap(window: Window, size: tuple[int, int], room: str) -> None:
    window.resize(*size)
    QApplication.processEvents()
    assert window.stage.room.name == room
    verbs, column, season = (window.part(place) for place in ("verbs", "column", "season"))
    assert verbs is not None
    assert column is not None
    assert season is not None
    assert verbs.geometry().bottom() + 1 == window.map.y() == column.y()
    assert column.geometry().right() + 1 == window.map.x()
    assert window.map.geometry().bottom() + 1 == season.y()
    assert season.geometry().bottom() + 1 == window.height()
    assert window.map.geometry().right() + 1 == window.width()


def test_in_a_narrow_window_the_groups_are_a_row_under_the_verbs(window: Window) -> None:
    window.resize(960, 760)
    QApplication.processEvents()
    column = window.part("column")
    assert column is not None
    assert window.stage.room.name == "narrow"
    assert column.width() == window.width()
    assert column.geometry().bottom() + 1 == window.map.y()


def test_keys_step_the_day_the_week_and_home(window: Window) -> None:
    stage = window.stage
    _press(window, Qt.Key.Key_Left)
    assert stage.day == TODAY - timedelta(days=1)
    _press(window, Qt.Key.Key_Right, SHIFT)
    assert stage.day == TODAY + timedelta(days=6)
    _press(window, Qt.Key.Key_Home)
    assert stage.day == TODAY


def test_figures_choose_how_the_ground_is_shown(window: Window) -> None:
    _press(window, Qt.Key.Key_1)
    assert window.stage.tint == "rest"
    _press(window, Qt.Key.Key_8)
    assert window.stage.tint == "wet"
    _press(window, Qt.Key.Key_0)
    assert window.stage.tint == "none"


def test_letters_take_verbs_up_and_esc_ends_them(window: Window) -> None:
    _press(window, Qt.Key.Key_P)
    tray, column = window.panel("tray"), window.panel("groups")
    assert tray is not None
    assert column is not None
    assert window.stage.verb == "place"
    assert tray.isVisible()
    assert not column.isVisible()
    _press(window, Qt.Key.Key_Escape)
    assert window.stage.verb == "pick"
    assert column.isVisible()
    assert not tray.isVisible()


def test_esc_without_a_verb_picks_nothing(window: Window) -> None:
    window.stage.pick(Picked("groups", "group0"))
    _press(window, Qt.Key.Key_Escape)
    assert window.stage.picked is None


def test_letters_typed_into_a_field_of_text_are_no_keys(window: Window) -> None:
    field = QLineEdit(window)
    field.show()
    window.activateWindow()
    field.setFocus()
    QTest.keyClicks(field, "p1")
    assert field.text() == "p1"
    assert window.stage.verb == "pick"
    assert window.stage.tint == "rest-and-rooting"


def test_down_and_up_go_from_group_to_group(window: Window) -> None:
    _press(window, Qt.Key.Key_Down)
    assert window.stage.picked == Picked("groups", "group0")
    _press(window, Qt.Key.Key_Down)
    assert window.stage.picked == Picked("groups", "group1")
    _press(window, Qt.Key.Key_Up)
    assert window.stage.picked == Picked("groups", "group0")


def test_keys_that_the_map_does_not_want_reach_the_window(window: Window) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_M)
    assert window.stage.verb == "measure"
    QTest.keyClick(window.map, Qt.Key.Key_Escape)
    assert window.stage.verb == "pick"
    QTest.keyClick(window.map, Qt.Key.Key_2)
    assert window.stage.tint == "rooting"


def test_f11_leaves_the_map_alone_and_brings_the_rest_back(window: Window) -> None:
    window.stage.pick(Picked("groups", "group0"))
    _press(window, Qt.Key.Key_F11)
    assert window.map.geometry() == window.rect()
    hidden = [window.panel(name) for name in ("verbs", "groups", "season", "key", "card")]
    assert not any(panel is not None and panel.isVisible() for panel in hidden)
    _press(window, Qt.Key.Key_F11)
    card = window.panel("card")
    assert card is not None
    assert card.isVisible()


def test_undo_and_redo_by_key_say_what_they_did(window: Window) -> None:
    said: list[str] = []
    window.stage.noticed.connect(lambda notice: said.append(str(notice.text)))
    _press(window, Qt.Key.Key_Z, CONTROL)
    assert not window.stage.session.farm.groups
    _press(window, Qt.Key.Key_Z, CONTROL | SHIFT)
    assert len(window.stage.session.farm.groups) == 2
    assert said == ["Taken back: Made for a test.", "Done again: Made for a test."]


def test_dragging_the_column_moves_its_edge_and_a_double_click_puts_it_back(window: Window) -> None:
    edge = window._edges[0]
    edge.moved.emit(400)
    assert window.map.x() == 400
    assert window.stage.room.column_px == 400
    edge.put_back.emit()
    assert window.map.x() == 292


def test_no_control_is_without_a_name_for_screen_readers(window: Window) -> None:
    window.stage.pick(Picked("stays", "group0s3"))
    QApplication.processEvents()
    focusable = [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
    ]
    assert len(focusable) > 15
    assert [widget for widget in focusable if not widget.accessibleName()] == []


def test_a_panel_that_cannot_be_loaded_is_told_and_the_rest_stands(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pigmap.errors import PluginError
    from pigmap.plugins import Registry

    usual = Registry.load

    def load(self: Registry, kind: str, name: str) -> object:
        if (kind, name) == ("panels", "key"):
            raise PluginError("The key cannot be used.", remedy="Everything else works without it.")
        return usual(self, kind, name)

    monkeypatch.setattr(Registry, "load", load)
    with made_window(tmp_path) as window:
        assert window.panel("key") is None
        assert window.panel("season") is not None
        message = window.panel("message")
        assert message is not None
        assert message.accessibleName().startswith("The key cannot be used.")


@pytest.mark.parametrize("verb", ["place", "check", "moves"])
def test_in_a_narrow_window_a_card_makes_room_for_what_a_verb_brings(window: Window, verb: str) -> None:
    window.resize(940, 800)
    QApplication.processEvents()
    window.stage.pick(Picked("groups", "group0"))
    card = window.panel("card")
    assert card is not None
    assert not card.isHidden()
    window.stage.take_up(verb)
    assert card.isHidden()
    window.stage.take_up("pick")
    assert not card.isHidden()


def test_in_a_small_window_the_card_of_a_group_makes_room_while_its_paddock_is_placed(window: Window) -> None:
    window.resize(1280, 800)
    QApplication.processEvents()
    window.stage.pick(Picked("groups", "group0"))
    card = window.panel("card")
    assert card is not None
    window.stage.take_up("place")
    assert card.isHidden()
    window.stage.pick(Picked("paddocks", next(iter(window.stage.session.farm.paddocks))))
    assert not card.isHidden()
    window.resize(1600, 1000)
    QApplication.processEvents()
    window.stage.pick(Picked("groups", "group0"))
    assert not card.isHidden()


def test_no_card_lies_over_the_ground_that_is_drawn_on(window: Window) -> None:
    window.stage.pick(Picked("groups", "group0"))
    card = window.panel("card")
    assert card is not None
    window.stage.take_up("draw")
    assert card.isHidden()
    window.stage.pick(Picked("fields", next(iter(window.stage.session.farm.fields))))  # as drawing one does
    assert card.isHidden()
    window.stage.take_up("pick")
    assert not card.isHidden()


def test_no_ring_is_drawn_round_the_whole_window(window: Window) -> None:
    (ring,) = window.findChildren(FocusRing)
    ring.follow(None, window.panel("groups"))
    assert not ring.isHidden()
    ring.follow(None, window)
    assert ring.isHidden()


def test_f6_brings_the_keys_from_part_to_part_and_back(window: Window) -> None:
    window.stage.take_up("draw")
    window.stage.take_up("pick")
    window.map.setFocus()
    parts = []
    for _ in range(4):
        _press(window, Qt.Key.Key_F6)
        focused = QApplication.focusWidget()
        assert focused is not None
        parts.append(next(name for name in ("column", "season", "verbs", "map") if _is_in(window, name, focused)))
    assert parts == ["column", "season", "verbs", "map"]
    _press(window, Qt.Key.Key_F6, Qt.KeyboardModifier.ShiftModifier)
    focused = QApplication.focusWidget()
    assert focused is not None
    assert _is_in(window, "verbs", focused)


def _is_in(window: Window, name: str, widget: QWidget) -> bool:
    part = window.map if name == "map" else window.part(name)
    return part is not None and (part is widget or part.isAncestorOf(widget))


@pytest.mark.parametrize(("key", "verb"), [(Qt.Key.Key_C, "check"), (Qt.Key.Key_V, "moves")])
def test_a_list_that_a_key_brings_has_the_keys_and_gives_them_to_the_groups_when_it_ends(
    window: Window, key: Qt.Key, verb: str
) -> None:
    window.activateWindow()
    QTest.keyClick(window, key)
    panel, groups = window.panel(verb), window.part("column")
    focused = window.focusWidget()
    assert panel is not None
    assert groups is not None
    assert focused is not None
    assert panel.isAncestorOf(focused)
    QTest.keyClick(focused, Qt.Key.Key_Escape)
    assert window.stage.verb == "pick"
    assert window.focusWidget() is groups
