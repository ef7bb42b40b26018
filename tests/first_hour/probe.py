"""The program as a person starts it, with one ear for questions about where its controls are; it answers, no more."""

from __future__ import annotations

import json
import socket
import sys
import threading
import time
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

import numpy as np
from PySide6.QtCore import QPoint, QRect, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget

from pigmap.cli.main import main
from pigmap.qt.window import Window


def rect_of(widget: QWidget) -> dict[str, Any]:
    """Return where the part of a widget that can be seen is on the screen, and what it is."""
    seen = widget.visibleRegion().boundingRect()
    corner = widget.mapToGlobal(seen.topLeft())
    shown = [] if seen.isEmpty() else [corner.x(), corner.y(), seen.width(), seen.height()]
    whole = QRect(widget.mapToGlobal(QPoint(0, 0)), widget.size())
    return {
        "kind": type(widget).__name__,
        "seen": shown,
        "whole": [whole.x(), whole.y(), whole.width(), whole.height()],
        "enabled": widget.isEnabled(),
        "has_focus": widget.hasFocus(),
    }


def names_of(widget: QWidget) -> set[str]:
    """Return all that a person could call a widget by."""
    names = {widget.accessibleName()}
    text = getattr(widget, "text", None)
    if callable(text) and not isinstance(widget, (QLabel, QLineEdit)):
        names.add(str(text()))
    if isinstance(widget, QLineEdit):
        names.add(widget.placeholderText())
    return {name for name in names if name}


def shown_widgets() -> Iterator[QWidget]:
    """Yield every widget that is shown."""
    for top in QApplication.topLevelWidgets():
        if top.isVisible():
            yield top
            yield from (each for each in top.findChildren(QWidget) if each.isVisible())


def window() -> Window | None:
    """Return the program's window once it is there."""
    return next(
        (each for each in QApplication.topLevelWidgets() if isinstance(each, Window) and each.isVisible()), None
    )


class Answers:
    """One method a question; each runs on the window's thread."""

    def controls(self, name: str) -> list[dict[str, Any]]:
        """Return the shown controls of a name, or one that begins so; what only holds others is none."""
        found = [each for each in shown_widgets() if each.focusPolicy()]
        begun = name.removesuffix("*")
        if begun != name:
            return [rect_of(each) for each in found if any(its.startswith(begun) for its in names_of(each))]
        return [rect_of(each) for each in found if name in names_of(each)]

    def named(self) -> list[list[str]]:
        """Return the names of all shown controls that take the focus, by kind."""
        return [
            [type(each).__name__, *sorted(names_of(each))]
            for each in shown_widgets()
            if each.focusPolicy() and not each.visibleRegion().isEmpty()
        ]

    def words(self) -> list[str]:
        """Return every label's words."""
        return [each.text() for each in shown_widgets() if isinstance(each, QLabel) and each.text()]

    def focus(self) -> list[str]:
        """Return what has the focus."""
        widget = QApplication.focusWidget()
        return [] if widget is None else [type(widget).__name__, *sorted(names_of(widget))]

    def ground(self, east_m: float, north_m: float) -> list[int]:
        """Return the pixel of the screen over a place, from the middle of what the map shows at first [ground m]."""
        shown = window()
        assert shown is not None
        if not hasattr(self, "_middle"):
            self._middle = shown.map.view.centre_x_m, shown.map.view.centre_y_m
        scale = shown.stage.session.farm.projection.ground_per_grid
        place = self._middle[0] + east_m / scale, self._middle[1] + north_m / scale
        x, y = shown.map.view.to_device(np.array([place]))[0].tolist()
        at = shown.map.mapToGlobal(QPoint(round(x), round(y)))
        return [at.x(), at.y()]

    def bare(self, east_m: float, north_m: float) -> bool:
        """Whether a place of the ground lies on the map with nothing over it."""
        shown = window()
        assert shown is not None
        at = QPoint(*self.ground(east_m, north_m))
        inside = shown.map.rect().adjusted(8, 8, -8, -8).contains(shown.map.mapFromGlobal(at))
        return inside and QApplication.widgetAt(at) is shown.map

    def farm(self) -> dict[str, Any]:
        """Return the farm's path, how many rows each table has, and what is picked."""
        shown = window()
        assert shown is not None
        session, stage = shown.stage.session, shown.stage
        rows = {name: len(session.farm.rows(name)) for name in ("fields", "groups", "nets", "paddocks", "stays")}
        return {
            "path": str(session.path),
            **rows,
            "verb": stage.verb,
            "picked": list(stage.picked) if stage.picked else [],
            "day": stage.day.isoformat(),
            "told": getattr(stage, "last_notice", ""),
        }

    def fits(self) -> bool:
        """Whether nothing is said against the place of the ghost."""
        shown = window()
        assert shown is not None
        plate = getattr(shown.map.gestures.tool, "plate", None)
        return plate is not None and plate.words is not None and not plate.words.against

    def picture(self, path: str) -> bool:
        """Write what the screen shows."""
        return QGuiApplication.primaryScreen().grabWindow(0).save(path)

    def settle(self) -> bool:
        """Wait until the map is whole; whether there is one."""
        shown = window()
        if shown is None or not shown.map.view:
            return False
        shown.map.settle()
        return True


def serve(ear: socket.socket) -> None:
    """Answer questions, one line of JSON each."""
    answers = Answers()
    for line in ear.makefile():
        question, *values = json.loads(line)
        found = _on_window(partial(getattr(answers, question), *values))
        ear.sendall((json.dumps(found) + "\n").encode())


def _on_window(find: Callable[[], Any]) -> Any:
    while (app := QApplication.instance()) is None:
        time.sleep(0.02)
    there = threading.Event()
    found: list[Any] = []

    def work() -> None:
        try:
            found.append(find())
        except Exception as error:  # noqa: BLE001 - the one who asked is told
            found.append({"failed": repr(error)})
        there.set()

    QTimer.singleShot(0, app, work)
    there.wait(20)
    return found[0] if found else {"failed": "no answer"}


if __name__ == "__main__":
    threading.Thread(target=serve, args=(socket.socket(fileno=int(sys.argv[1])),), daemon=True).start()
    sys.exit(main([]))
