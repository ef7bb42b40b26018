"""Move the ghost of a paddock about the sample farm; time its outline and its figures."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from time import perf_counter

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from pigmap.qt.canvas import MapView
from tests.benchmarks.loop_window import shown_window
from tests.benchmarks.sticks import quantile


def path(canvas: MapView, moves: int) -> list[QPointF]:
    """Return a walk of the pointer over fields, keep-outs and beyond, some pixels at a time."""
    rng = np.random.default_rng(7)
    turns = np.cumsum(rng.normal(0.0, 0.35, moves))
    way = np.cumsum(np.stack([np.cos(turns), np.sin(turns)], axis=1) * 6.0, axis=0)
    room = np.array([canvas.width() - 80, canvas.height() - 80])
    folded = np.abs((way + room / 2) % (2 * room) - room) + 40
    return [QPointF(x, y) for x, y in folded.tolist()]


def main(farm: str, moves: str) -> None:
    """Measure and print."""
    outlines: list[float] = []
    figures: list[float] = []
    with shown_window(Path(farm)) as window:
        canvas, stage = window.map, window.stage
        stage.take_up("place")
        canvas.zoom_by(2.0)
        canvas.settle()
        for spot in path(canvas, int(moves) + 20):
            event = QMouseEvent(
                QEvent.Type.MouseMove,
                spot,
                canvas.mapToGlobal(spot),
                Qt.MouseButton.NoButton,
                Qt.MouseButton.NoButton,
                Qt.KeyboardModifier.NoModifier,
            )
            began = perf_counter()
            QCoreApplication.sendEvent(canvas, event)
            canvas.repaint(canvas.preview_changed)
            outlines.append((perf_counter() - began) * 1000)
            QApplication.processEvents()
            figures.append((perf_counter() - began) * 1000)
    outlines, figures = outlines[20:], figures[20:]
    half, most = quantile(outlines, 0.5), quantile(figures, 0.5)
    print(
        json.dumps(
            {
                "ghost-outline": {"value": quantile(outlines, 0.99), "note": f"half of them within {half:.2f} ms"},
                "ghost-figures": {"value": quantile(figures, 0.99), "note": f"half of them within {most:.1f} ms"},
            }
        )
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
