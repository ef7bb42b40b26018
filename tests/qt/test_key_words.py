from __future__ import annotations

from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import QEvent, QKeyCombination, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from pigmap.builtin.tools.place_keys import Placing, _deed
from pigmap.builtin.tools.place_keys import take_key as take_placing_key
from pigmap.qt.key_words import CORNERS, EVERYWHERE, GROUND, PLACING, TABLES, VERBS
from pigmap.qt.keys import LISTING_KEYS, VERB_KEYS, Deeds, take_key
from tests.qt.window_farm import made_stage

NAMES = {"Esc": "Escape", "Enter": "Return"}


def _code(key: str) -> int:
    combined: QKeyCombination = QKeySequence(key)[0]  # type: ignore[index]
    return combined.toCombined()


def _event(words: str) -> QKeyEvent:
    *held, key = words.split(" ")
    modifiers = Qt.KeyboardModifier.NoModifier
    for each in held:
        modifiers |= {"Ctrl": Qt.KeyboardModifier.ControlModifier, "Shift": Qt.KeyboardModifier.ShiftModifier}[each]
    code = QKeyCombination.fromCombined(_code(NAMES.get(key, key))).key()
    return QKeyEvent(QEvent.Type.KeyPress, code, modifiers, key if len(key) == 1 else "")


@pytest.mark.parametrize("words", [key for table in (EVERYWHERE, VERBS, GROUND) for row in table for key in row.keys])
def test_every_key_in_the_table_does_something(tmp_path: Path, words: str) -> None:
    done: list[str] = []
    with made_stage(tmp_path) as stage:
        deeds = Deeds(*[lambda *_, name=name: done.append(name) for name in Deeds._fields])
        assert take_key(_event(words), stage, deeds, None)


def test_the_table_names_every_key_of_a_verb() -> None:
    named = {key for row in (*VERBS, *EVERYWHERE) for key in row.keys}
    assert {key for key, _ in (*VERB_KEYS.values(), *LISTING_KEYS.values())} <= named


def test_every_key_of_the_window_stands_in_the_table(tmp_path: Path) -> None:
    named = {_event(key).key() for table in (EVERYWHERE, VERBS, GROUND) for row in table for key in row.keys}
    with made_stage(tmp_path) as stage:
        deeds = Deeds(*[lambda *_: None for _ in Deeds._fields])
        for code in [*range(0x20, 0x7F), *range(0x01000000, 0x01000060)]:
            event = QKeyEvent(QEvent.Type.KeyPress, code, Qt.KeyboardModifier.NoModifier)
            if take_key(event, stage, deeds, None):
                assert code in named, Qt.Key(code)


class _Placing:
    """Stands in for the tool: whatever is asked of it is well."""

    row = ()
    ghost = None

    def __getattr__(self, name: str) -> object:
        return lambda *_, **__: True


@pytest.mark.parametrize("words", [key for row in PLACING for key in row.keys])
def test_every_key_of_placing_is_taken(words: str) -> None:
    tool = cast(Placing, _Placing())
    if words in ("Q", "E", "+", "-", "Left", "Right", "Up", "Down", "N", "L"):
        assert _deed(tool, Qt.Key(_event(words).key()), False) is not None
    else:
        assert take_placing_key(tool, _event(words))


def test_no_key_stands_twice_in_one_table() -> None:
    for _, rows in TABLES:
        keys = [key for row in rows for key in row.keys]
        assert len(keys) == len(set(keys))
    assert CORNERS
