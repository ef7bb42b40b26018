"""The window's keys as a table; single letters count only where no field of text has the focus."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QSpinBox, QTextEdit, QWidget

from pigmap.qt.stage import Stage
from pigmap.session.personal import load_personal

TINT_ORDER = ("rest", "rooting", "rest-and-rooting", "ready", "stocking", "nitrogen", "since-pigs", "wet", "slope")
"""Ways to show the ground in the order of their keys, from 1 on; others follow by name, up to 9."""
NO_TINT = "none"
"""The photo alone comes last and has the key 0."""

VERB_KEYS: Mapping[str, tuple[str, Qt.Key]] = {
    "pick": ("Esc", Qt.Key.Key_Escape),
    "draw": ("D", Qt.Key.Key_D),
    "place": ("P", Qt.Key.Key_P),
    "measure": ("M", Qt.Key.Key_M),
    "stand": ("W", Qt.Key.Key_W),
    "before": ("H", Qt.Key.Key_H),
    "pin": ("I", Qt.Key.Key_I),
    "here": ("X", Qt.Key.Key_X),
}
"""What the key of each verb is called, and which it is."""

LISTING_KEYS: Mapping[str, tuple[str, Qt.Key]] = {"check": ("C", Qt.Key.Key_C), "moves": ("V", Qt.Key.Key_V)}
"""The same of verbs that bring a panel and leave the pointer to picking."""


class Deeds(NamedTuple):
    """What keys do besides changing the stage."""

    sheet: Callable[[], None]
    sheet_by_letter: Callable[[], None]
    undo: Callable[[], None]
    redo: Callable[[], None]
    map_only: Callable[[], None]
    step_group: Callable[[int], None]
    focus: Callable[[str], None]
    plate: Callable[[str], None]
    pane: Callable[[int], None]


def tints_in_order(stage: Stage) -> tuple[str, ...]:
    """Return the names of the contributed tints in the order of their keys."""
    names = [part.name for part in stage.session.registry.parts("tints")]
    usual = [name for name in TINT_ORDER if name in names]
    others = sorted(name for name in names if name not in (*usual, NO_TINT))
    return (*usual, *others, *(name for name in names if name == NO_TINT))


def take_key(event: QKeyEvent, stage: Stage, deeds: Deeds, focused: QWidget | None) -> bool:
    """Do what a key asks for; return whether it asked for anything."""
    plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    key = Qt.Key(event.key())
    if plain == Qt.KeyboardModifier.ControlModifier:
        return _do(_control(deeds), key)
    if plain == Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier:
        return _do({Qt.Key.Key_Z: deeds.redo}, key)
    if plain not in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier):
        return False
    days = 7 if plain == Qt.KeyboardModifier.ShiftModifier else 1
    if _do(_always(stage, deeds, days), key):
        return True
    if plain or isinstance(focused, (QLineEdit, QTextEdit, QPlainTextEdit, QSpinBox, QComboBox)):
        return False
    return load_personal().letters and _do(_letters(stage, deeds), key)


def _do(table: Mapping[Qt.Key, Callable[[], None]], key: Qt.Key) -> bool:
    if key not in table:
        return False
    table[key]()
    return True


def _control(deeds: Deeds) -> dict[Qt.Key, Callable[[], None]]:
    return {Qt.Key.Key_Z: deeds.undo, Qt.Key.Key_Y: deeds.redo, Qt.Key.Key_P: deeds.sheet}


def _always(stage: Stage, deeds: Deeds, days: int) -> dict[Qt.Key, Callable[[], None]]:
    return {
        Qt.Key.Key_Escape: lambda: end_all(stage),
        Qt.Key.Key_Left: lambda: stage.show_day(stage.day - timedelta(days=days)),
        Qt.Key.Key_Right: lambda: stage.show_day(stage.day + timedelta(days=days)),
        Qt.Key.Key_Home: lambda: stage.show_day(stage.today),
        Qt.Key.Key_Up: lambda: deeds.step_group(-1),
        Qt.Key.Key_Down: lambda: deeds.step_group(1),
        Qt.Key.Key_F11: deeds.map_only,
        Qt.Key.Key_F6: lambda: deeds.pane(1 if days == 1 else -1),
        Qt.Key.Key_F1: lambda: deeds.plate("manual"),
    }


def end_all(stage: Stage) -> None:
    """End whatever runs; where nothing runs, pick nothing."""
    if stage.verb == "pick":
        stage.pick(None)
    else:
        stage.take_up("pick")


def _letters(stage: Stage, deeds: Deeds) -> dict[Qt.Key, Callable[[], None]]:
    table: dict[Qt.Key, Callable[[], None]] = {
        Qt.Key.Key_S: deeds.sheet_by_letter,
        Qt.Key.Key_G: lambda: deeds.focus("groups"),
        Qt.Key.Key_B: lambda: deeds.focus("season"),
        Qt.Key.Key_Slash: lambda: deeds.plate("find"),
        Qt.Key.Key_Y: stage.playback.toggle,
        Qt.Key.Key_N: lambda: deeds.plate("stock"),
        Qt.Key.Key_R: lambda: deeds.plate("weather"),
        Qt.Key.Key_K: lambda: deeds.plate("books"),
    }
    tools = {part.name for part in stage.session.registry.parts("tools")}
    for verb, (_, key) in VERB_KEYS.items():
        if verb in tools and key != Qt.Key.Key_Escape:
            table[key] = lambda verb=verb: stage.take_up(verb)  # type: ignore[misc]
    panels = {part.name for part in stage.session.registry.parts("panels")}
    for verb, (_, key) in LISTING_KEYS.items():
        if verb in panels:
            table[key] = lambda verb=verb: stage.take_up(verb)  # type: ignore[misc]
    coloured = [name for name in tints_in_order(stage) if name != NO_TINT]
    for at, name in enumerate(coloured[:9]):
        table[Qt.Key(Qt.Key.Key_1 + at)] = lambda name=name: stage.show_tint(name)  # type: ignore[misc]
    table[Qt.Key.Key_0] = lambda: stage.show_tint(NO_TINT)
    return table
