"""Move the ghost of a paddock about the sample farm; time its outline and its figures."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QEventLoop, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from pigmap.builtin.tools.place import FIGURES_APART_MS, Place
from pigmap.qt.canvas import MapView
from tests.benchmarks.loop_window import shown_window
from tests.benchmarks.sticks import Spent, Watch, note_of, quantile, walls


def path(canvas: MapView, moves: int) -> list[QPointF]:
    """Return a walk of the pointer over fields, keep-outs and beyond, some pixels at a time."""
    rng = np.random.default_rng(7)
    turns = np.cumsum(rng.normal(0.0, 0.35, moves))
    way = np.cumsum(np.stack([np.cos(turns), np.sin(turns)], axis=1) * 6.0, axis=0)
    room = np.array([canvas.width() - 80, canvas.height() - 80])
    folded = np.abs((way + room / 2) % (2 * room) - room) + 40
    return [QPointF(x, y) for x, y in folded.tolist()]


def move(canvas: MapView, spot: QPointF) -> None:
    """Move the pointer to a spot and have what changed of the map painted, with all that lies over it."""
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        spot,
        canvas.mapToGlobal(spot),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QCoreApplication.sendEvent(canvas, event)
    canvas.repaint(canvas.preview_changed)


def wait_for_figures(canvas: MapView) -> None:
    """Turn the event loop until the figures of the ghost are found and painted."""
    tool = canvas.gestures.tool
    assert isinstance(tool, Place)
    while tool.figures_due:
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    QApplication.processEvents()


def main(farm: str, moves: str) -> None:
    """Measure and print."""
    outlines: list[Spent] = []
    figures: list[Spent] = []
    with shown_window(Path(farm)) as window:
        canvas, stage = window.map, window.stage
        stage.take_up("place")
        canvas.zoom_by(2.0)
        canvas.settle()
        canvas.picture.complete(margin=True)  # the map rests before a hand begins to place
        for spot in path(canvas, int(moves) + 20):
            watch = Watch()
            move(canvas, spot)
            outlines.append(watch.spent())
            wait_for_figures(canvas)
            figures.append(watch.spent())
    outlines, figures = outlines[20:], figures[20:]
    print(
        json.dumps(
            {
                "ghost-outline": {"value": quantile(walls(outlines), 0.99), "note": note_of(outlines)},
                "ghost-figures": {
                    "value": quantile(walls(figures), 0.99),
                    "note": f"{note_of(figures)}; they keep {FIGURES_APART_MS:g} ms apart",
                },
            }
        )
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
