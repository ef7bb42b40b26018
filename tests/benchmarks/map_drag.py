"""Drag, fling and zoom the whole map by a script; time every frame and every slice of painting."""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from time import perf_counter
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent

from pigmap.qt.ground_view import GroundView
from tests.benchmarks.loop_drag import FRAME_S, OVER_MS, idle, send
from tests.benchmarks.map_case import everything, shown
from tests.benchmarks.sticks import Blit, Spent, Watch, blit_ms, note_of, quantile, walls


def steps(seconds: float) -> Iterator[tuple[str, float, float]]:
    """Yield what the hand does in each frame: ``move`` by pixels, ``let go``, ``zoom`` by notches, ``rest``."""
    for at in range(int(seconds / FRAME_S)):
        turn = at % 150
        if turn < 70:
            yield "move", 9 * math.cos(at / 40), 9 * math.sin(at / 40)
        elif turn < 82:
            yield "move", 40.0 * (1 if at // 150 % 2 else -1), 14.0 * (1 if at // 300 % 2 else -1)
        elif turn == 82:
            yield "let go", 0.0, 0.0
        elif 110 <= turn < 120:
            yield "zoom", 0.25 if at // 150 % 2 else -0.25, 0.0
        else:
            yield "rest", 0.0, 0.0


def act(view: GroundView, seconds: float) -> dict[str, list[Spent]]:
    """Do it; return the time of each frame from event to pixels, by what was done."""
    at = QPointF(view.width() / 2, view.height() / 2)
    held = False
    times: dict[str, list[Spent]] = {"move": [], "let go": [], "zoom": [], "rest": [], "blit": []}
    blit = Blit()
    for kind, dx, dy in steps(seconds):
        began, watch = perf_counter(), Watch()
        if kind == "move":
            if not held:
                at = QPointF(view.width() / 2, view.height() / 2)
                send(view, QEvent.Type.MouseButtonPress, at)
                held = True
            at = at + QPointF(dx, dy)
            send(view, QEvent.Type.MouseMove, at)
        elif kind == "let go":
            send(view, QEvent.Type.MouseButtonRelease, at)
            held = False
        elif kind == "zoom":
            _turn(view, dx)
        QCoreApplication.sendPostedEvents(view, QEvent.Type.UpdateRequest)
        times[kind].append(watch.spent())
        QCoreApplication.processEvents()
        times.setdefault("frames", []).append(watch.spent())
        watch = Watch()
        blit.once()
        times["blit"].append(watch.spent())
        idle(began + FRAME_S)
    return times


def _turn(view: GroundView, notches: float) -> None:
    spot = QPointF(view.width() / 2 + 100, view.height() / 2 - 60)
    none, plain = Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier
    angle = QPoint(0, round(120 * notches))
    event = QWheelEvent(spot, view.mapToGlobal(spot), QPoint(), angle, none, plain, Qt.ScrollPhase.NoScrollPhase, False)
    QCoreApplication.sendEvent(view, event)


def timed_slices(view: GroundView) -> list[Spent]:
    """Have every slice of painting timed from now on; the list grows."""
    slices: list[Spent] = []
    work = view.picture.work

    def timed(seconds: float) -> bool:
        watch = Watch()
        more = work(seconds)
        slices.append(watch.spent())
        return more

    view.picture.work = timed  # type: ignore[method-assign]
    return slices


def main(seconds: str) -> None:
    """Measure and print."""
    with shown(everything(), 0.1) as view:
        act(view, 1.0)
        view.settle()
        slices = timed_slices(view)
        bare, coarse = view.picture.bare_frames, view.picture.coarse_frames
        times = act(view, float(seconds))
        bare, coarse = view.picture.bare_frames - bare, view.picture.coarse_frames - coarse
    floor = quantile(walls(times["blit"]), 0.5)
    frames = times["frames"]
    stick = "a blit of 1920 by 1080 pixels after each frame"
    figures: dict[str, Any] = {
        "drag": {
            "value": sum(each.wall > OVER_MS for each in frames) / len(frames),
            "note": f"{len(frames)} frames, {note_of(frames)}; "
            f"{sum(each.cpu > OVER_MS for each in frames) / len(frames):.1%} over by the processor",
        },
        "drag-blank": {"value": bare, "note": f"{coarse} frames were coarser than usual in part"},
        "drag-worst": {
            "value": max(walls(frames)),
            "note": f"by the processor {max(each.cpu for each in frames):.1f} ms",
        },
        "pan-frame": _ratio(times["move"], floor, stick),
        "zoom-frame": _ratio(times["zoom"], floor, stick),
        "refill-slice": {
            "value": quantile([each.cpu for each in slices], 0.99),
            "note": f"{len(slices)} slices, half of them within {quantile([each.cpu for each in slices], 0.5):.2f} ms, "
            f"the longest {max(each.cpu for each in slices):.1f} ms",
        },
    }
    print(json.dumps(figures))


def _ratio(times: list[Spent], floor: float, stick: str) -> dict[str, Any]:
    half = quantile(walls(times), 0.5)
    note = f"{len(times)} frames, {note_of(times)}; the blit alone, again and again, {quantile(blit_ms(), 0.5):.2f} ms"
    return {"value": half, "ratio": half / floor, "stick": stick, "note": note}


if __name__ == "__main__":
    main(*sys.argv[1:])
