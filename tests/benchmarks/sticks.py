"""Measuring sticks: what the machine can do at best, measured beside what we do."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter, thread_time
from typing import Any, NamedTuple

import numpy as np

ROOT = Path(__file__).resolve().parents[2]

BARE_WINDOW = """
import os, sqlite3
import numpy, shapely
from PySide6.QtWidgets import QApplication, QWidget
app = QApplication([])
window = QWidget()
window.resize(1600, 1000)
window.show()
app.processEvents()
os._exit(0)
"""


@dataclass(frozen=True)
class Measured:
    """One figure, and how it stands to a stick of the same run."""

    value: float
    ratio: float | None = None
    stick: str = ""
    note: str = ""


def quantile(values: Sequence[float], share: float) -> float:
    """Return the value that a share of all values is at most."""
    return float(np.quantile(np.asarray(values, dtype=np.float64), share, method="higher"))


class Spent(NamedTuple):
    """How long something took: by the clock, and of this thread's time on a processor [ms]."""

    wall: float
    cpu: float


class Watch:
    """Measures from when it is made."""

    def __init__(self) -> None:
        self._wall, self._cpu = perf_counter(), thread_time()

    def spent(self) -> Spent:
        """Return what was spent since."""
        return Spent((perf_counter() - self._wall) * 1000, (thread_time() - self._cpu) * 1000)


def walls(spent: Sequence[Spent]) -> list[float]:
    """Return the times by the clock."""
    return [each.wall for each in spent]


def note_of(spent: Sequence[Spent]) -> str:
    """Return how times are spread, by the clock and by the processor: what a busy machine adds is the difference."""
    wall, cpu = walls(spent), [each.cpu for each in spent]
    return (
        f"half of them within {quantile(wall, 0.5):.2f} ms, 99 of 100 within {quantile(wall, 0.99):.1f} ms; "
        f"processor {quantile(cpu, 0.5):.2f} and {quantile(cpu, 0.99):.1f} ms"
    )


@contextmanager
def child_environment(**more: str) -> Iterator[dict[str, str]]:
    """Give an environment for child processes: offscreen, no person's folders, byte code kept from run to run."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {
            **{name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"},
            "QT_QPA_PLATFORM": "offscreen",
            "PYTHONPYCACHEPREFIX": f"{folder}/bytecode",
            "PIGMAP_DATA": f"{folder}/data",
            "PIGMAP_CACHE": f"{folder}/cache",
            **more,
        }
        yield environment


def run(arguments: Sequence[str], environment: Mapping[str, str]) -> tuple[float, str]:
    """Run a child of this Python to its end; return wall time [s] and what it printed."""
    began = perf_counter()
    done = subprocess.run(
        [sys.executable, *arguments], env=dict(environment), cwd=ROOT, check=True, capture_output=True, text=True
    )
    return perf_counter() - began, done.stdout


class Blit:
    """A copy of 1920 by 1080 pixels, RGB32 to RGB32: the floor of a frame.

    Both pictures begin with a page of memory, half a page apart. Where they lie otherwise, the same copy takes up to
    six times as long on some processors (glibc bug 30994), which is no floor.
    """

    def __init__(self) -> None:
        from PySide6.QtGui import QImage

        wide, high, page = 1920, 1080, 4096
        self._kept = [np.full(wide * high * 4 + 2 * page, 128, dtype=np.uint8) for _ in range(2)]
        self._images = []
        for buffer, apart in zip(self._kept, (0, page // 2), strict=True):
            start = -int(buffer.ctypes.data) % page + apart
            pixels: Any = buffer[start : start + wide * high * 4].data
            self._images.append(QImage(pixels, wide, high, wide * 4, QImage.Format.Format_RGB32))

    def once(self) -> float:
        """Copy them; return how long that took [ms]."""
        from PySide6.QtGui import QPainter

        source, target = self._images
        with QPainter(target) as painter:
            began = perf_counter()
            painter.drawImage(0, 0, source)
            return (perf_counter() - began) * 1000


def blit_ms(repeats: int = 200) -> list[float]:
    """Return times of copying 1920 by 1080 pixels again and again [ms]: both pictures are in the processor's cache."""
    blit = Blit()
    return [blit.once() for _ in range(repeats)]
