"""An hour of aimless use: ``python -m tests.soak [--minutes N] [--log FILE]`` pans, zooms, drags, places, steps days.

It runs the real window on the sample farm under an image of 0.9 gigapixels, on whatever display there is, and logs the
memory of the process each minute. It ends with 1 where Qt or Python warned, where a fault was caught, or where memory
still grew in the second half.
"""

from __future__ import annotations

import argparse
import sys
import warnings
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from time import monotonic

import numpy as np
from PySide6.QtCore import QEventLoop, QPoint, QPointF, Qt, QTimer, qInstallMessageHandler
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from pigmap.qt.window import Window
from tests.benchmarks.loop_window import shown_window
from tests.benchmarks.map_start import large_farm

GROWS_MB = 40.0
"""The second half may end with so much more than it began with: caches that are not full yet."""
LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


def resident_mb() -> float:
    """Return the memory of this process; Linux only."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096 / 1e6


class Hand:
    """Does one aimless thing after the other, from a seed."""

    def __init__(self, window: Window, seed: int) -> None:
        self.window = window
        self.rng = np.random.default_rng(seed)
        self.done = 0

    def act(self) -> None:
        """Do one thing."""
        chances: list[tuple[float, Callable[[], None]]] = [
            (0.35, self.drag),
            (0.25, self.zoom),
            (0.15, self.day),
            (0.10, self.hover),
            (0.08, self.pick),
            (0.07, self.whole),
        ]
        shares = np.array([share for share, _ in chances])
        chances[int(self.rng.choice(len(chances), p=shares / shares.sum()))][1]()
        self.done += 1

    def spot(self) -> QPoint:
        """Return a place on the map."""
        size = self.window.map.size()
        return QPoint(int(self.rng.integers(60, size.width() - 60)), int(self.rng.integers(60, size.height() - 60)))

    def drag(self) -> None:
        """Move the map in many small steps, and let go while it moves, or not."""
        at = self.spot()
        QTest.mousePress(self.window.map, MIDDLE, pos=at)
        step = self.rng.integers(-18, 19, 2)
        for _ in range(int(self.rng.integers(5, 30))):
            at = at + QPoint(int(step[0]), int(step[1]))
            QTest.mouseMove(self.window.map, at, 8)
        QTest.mouseRelease(self.window.map, MIDDLE, pos=at)

    def zoom(self) -> None:
        """Turn the wheel."""
        spot = QPointF(self.spot())
        canvas, none = self.window.map, Qt.MouseButton.NoButton
        way = int(self.rng.choice([-1, 1]))
        for _ in range(int(self.rng.integers(1, 8))):
            event = QWheelEvent(
                spot, canvas.mapToGlobal(spot), QPoint(), QPoint(0, 30 * way), none,
                Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
            )  # fmt: skip
            QApplication.sendEvent(canvas, event)
            QTest.qWait(10)

    def day(self) -> None:
        """Go through some days."""
        stage = self.window.stage
        way = int(self.rng.choice([-3, -1, 1, 3]))
        for _ in range(int(self.rng.integers(1, 20))):
            stage.show_day(stage.day + timedelta(days=way))
            QTest.qWait(16)
        if abs((stage.day - stage.today).days) > 300:
            stage.show_day(stage.today)

    def hover(self) -> None:
        """Place a paddock here and there without setting it down."""
        self.window.stage.take_up("place")
        for _ in range(20):
            QTest.mouseMove(self.window.map, self.spot(), 10)
        self.window.stage.take_up("pick")

    def pick(self) -> None:
        """Look at a card."""
        QTest.mouseClick(self.window.map, LEFT, pos=self.spot())

    def whole(self) -> None:
        """Show all of the farm."""
        self.window.map.show_whole()


def use(minutes: float, log: Path, warned: list[str]) -> list[float]:
    """Use the window; return its memory at each minute [MB]."""
    memory: list[float] = []
    with large_farm() as (farm, _), shown_window(farm, (1600, 1000)) as window, log.open("w", encoding="utf-8") as out:
        hand = Hand(window, 12)
        began, due = monotonic(), 60.0
        while monotonic() - began < minutes * 60:
            hand.act()
            _rest(20)
            if monotonic() - began >= due:
                memory.append(resident_mb())
                print(f"{due / 60:.0f} min, {hand.done} deeds, {memory[-1]:.0f} MB, {len(warned)} warnings", file=out)
                out.flush()
                due += 60.0
    return memory


def _note(warned: list[str], warning: str) -> None:
    """Note a warning of our own code; libraries may warn each other."""
    if "site-packages" not in warning:
        warned.append(warning)


def _rest(milliseconds: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def main() -> int:
    """Use the window for a while and say how it went."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak", description=__doc__)
    parser.add_argument("--minutes", type=float, default=60.0)
    parser.add_argument("--log", type=Path, default=Path("soak.log"))
    asked = parser.parse_args()
    warned: list[str] = []
    warnings.simplefilter("always")
    warnings.showwarning = lambda message, _, file, line, *__: _note(warned, f"{file}:{line}: {message}")
    qInstallMessageHandler(lambda _kind, _where, message: warned.append(message))
    sys.excepthook = lambda _kind, fault, _trace: warned.append(repr(fault))
    memory = use(asked.minutes, asked.log, warned)
    half = memory[len(memory) // 2 :]
    grown = half[-1] - half[0] if len(half) > 1 else 0.0
    print(f"{len(memory)} minutes; {memory[0] if memory else 0:.0f} MB to {max(memory, default=0):.0f} MB; ", end="")
    print(f"second half {grown:+.0f} MB; {len(warned)} warnings", *warned[:5], sep="\n")
    return int(bool(warned) or grown > GROWS_MB)


if __name__ == "__main__":
    sys.exit(main())
