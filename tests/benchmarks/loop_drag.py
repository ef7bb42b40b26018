"""Drag and fling the map by a script, and time every frame."""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter

from PySide6.QtCore import QCoreApplication, QEvent, QEventLoop, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from pigmap.qt.ground_view import GroundView
from tests.benchmarks.loop_window import shown_window
from tests.benchmarks.sticks import Spent, Watch, blit_ms, note_of, quantile

FRAME_S = 1 / 60
OVER_MS = 16.7


def steps(seconds: float) -> Iterator[tuple[str, float, float]]:
    """Yield what the hand does in each frame: ``move`` by pixels, ``let go`` (a fling), or ``rest``."""
    frames = int(seconds / FRAME_S)
    for at in range(frames):
        turn = at % 150
        if turn < 90:
            yield "move", 9 * math.cos(at / 40), 9 * math.sin(at / 40)
        elif turn < 102:
            yield "move", 40 * (1 if at // 150 % 2 else -1), 14 * (1 if at // 300 % 2 else -1)
        elif turn == 102:
            yield "let go", 0.0, 0.0
        else:
            yield "rest", 0.0, 0.0


def drag(canvas: GroundView, seconds: float) -> list[Spent]:
    """Do it; return the time of each frame from event to pixels."""
    app = QApplication.instance()
    assert app is not None
    at = QPointF(canvas.width() / 2, canvas.height() / 2)
    held = False
    times = []
    for kind, dx, dy in steps(seconds):
        began, watch = perf_counter(), Watch()
        if kind == "move":
            if not held:
                at = QPointF(canvas.width() / 2, canvas.height() / 2)
                send(canvas, QEvent.Type.MouseButtonPress, at)
                held = True
            at = at + QPointF(dx, dy)
            send(canvas, QEvent.Type.MouseMove, at)
        elif kind == "let go":
            send(canvas, QEvent.Type.MouseButtonRelease, at)
            held = False
        QCoreApplication.processEvents()
        times.append(watch.spent())
        idle(began + FRAME_S)
    return times


def send(canvas: GroundView, kind: QEvent.Type, at: QPointF) -> None:
    middle, none = Qt.MouseButton.MiddleButton, Qt.MouseButton.NoButton
    held = none if kind == QEvent.Type.MouseButtonRelease else middle
    button = none if kind == QEvent.Type.MouseMove else middle
    event = QMouseEvent(kind, at, canvas.mapToGlobal(at), button, held, Qt.KeyboardModifier.NoModifier)
    QCoreApplication.sendEvent(canvas, event)


def idle(until: float) -> None:
    """Let the event loop turn until the next frame is due, as it does between two moves of a mouse."""
    left = (until - perf_counter()) * 1000
    if left >= 1:
        loop = QEventLoop()
        timer = QTimer(singleShot=True, interval=int(left))
        timer.setTimerType(Qt.TimerType.PreciseTimer)
        timer.timeout.connect(loop.quit)
        timer.start()
        loop.exec()


def main(display: str, farm: str, seconds: str) -> None:
    """Measure and print."""
    with shown_window(Path(farm)) as window:
        canvas = window.map
        canvas.zoom_by(3.0)
        canvas.settle()
        bare, coarse = canvas.picture.bare_frames, canvas.picture.coarse_frames
        times = drag(canvas, float(seconds))
        bare, coarse = canvas.picture.bare_frames - bare, canvas.picture.coarse_frames - coarse
    floor = quantile(blit_ms(), 0.5)
    over = sum(each.wall > OVER_MS for each in times) / len(times)
    over_cpu = sum(each.cpu > OVER_MS for each in times) / len(times)
    note = f"{len(times)} frames, {note_of(times)}; {over_cpu:.1%} over by the processor; blit {floor:.2f} ms"
    figures = {
        f"drag-{display}": {"value": over, "note": note},
        f"drag-{display}-blank": {"value": bare, "note": f"{coarse} frames were coarser than usual in part"},
    }
    print(json.dumps(figures))


if __name__ == "__main__":
    main(*sys.argv[1:])
