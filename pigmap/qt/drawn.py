"""The window drawn off screen: made, waited for until it is complete, rendered, thrown away."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from pigmap.errors import DisplayError
from pigmap.qt.following import follow
from pigmap.qt.panel import Panel
from pigmap.qt.starting import application, let_go, stage_for, take_down
from pigmap.qt.window import Window
from pigmap.session import Session
from pigmap.text import Text

START = "start"
"""The page that starts a farm, which has a signal of its own."""


def draw(
    session: Session,
    path: Path,
    *,
    day: date,
    show: str,
    theme: str,
    size: tuple[int, int],
    density: float,
    panel: str,
) -> Text:
    """Draw it; parameters and result as for `pigmap.qt.picture.write`."""
    app = application()
    stage = stage_for(session, date.today(), theme=theme)
    if show:
        stage.show_tint(show)
    stage.show_day(day)
    if panel:
        loaded: Panel = session.registry.load("panels", panel)
        stage.take_up(loaded.verb or "pick")
    stop = follow(stage)
    window = Window(stage)
    try:
        window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        window.resize(*size)
        window.show()
        _settle(app, window)
        part = _open(app, window, panel) if panel else window
        _save(_render(part if part is not None else window, density), path)
    finally:
        stop()
        window.close_down()
        take_down(window)
        let_go(stage)
    if part is not None:
        return Text("")
    words = "The panel {panel} has nothing to show now, so the whole window is drawn."
    return Text(words, {"panel": panel})


def _open(app: QApplication, window: Window, panel: str) -> QWidget | None:
    """Return a panel that is shown, opened if it is a plate that is closed; None where it has nothing to show."""
    if (part := window.panel(panel)) is None or part.isHidden():
        window.stage.plate_asked.emit(panel)
        if panel == START:
            window.stage.start_asked.emit(None)
        _settle(app, window)
        part = window.panel(panel)
    return part if part is not None and not part.isHidden() else None


def _settle(app: QApplication, window: Window) -> None:
    """Wait for the ground, the tiles and whatever asked to be done soon; twice, since one may start the other."""
    for _ in range(2):
        app.processEvents()
        window.map.settle()
    app.processEvents()
    window.map.settle()


def _render(widget: QWidget, density: float) -> QImage:
    image = QImage(widget.size() * density, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(density)
    image.fill(widget.palette().window().color())
    with QPainter(image) as painter:
        widget.render(painter, QPoint(0, 0))
    return image


def _save(image: QImage, path: Path) -> None:
    part = path.with_name(f".{path.stem}.{os.getpid()}.part.png")
    if not path.parent.is_dir():
        raise DisplayError(
            "The folder {folder} is not there, so {file} cannot be written.",
            remedy="Make the folder, or name another one.",
            folder=str(path.parent),
            file=path.name,
        )
    done = image.save(str(part))
    if done:
        try:
            part.replace(path)
        except OSError:
            done = False
    if not done:
        part.unlink(missing_ok=True)
        raise DisplayError(
            "{file} cannot be written into {folder}.",
            remedy="Name another folder, or make room on the disk.",
            file=path.name,
            folder=str(path.parent),
        )
