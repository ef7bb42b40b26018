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
from time import perf_counter

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


def blit_ms(repeats: int = 200) -> list[float]:
    """Return times of copying 1920 by 1080 pixels, RGB32 to RGB32 [ms]: the floor of a frame."""
    from PySide6.QtGui import QImage, QPainter

    source, target = (QImage(1920, 1080, QImage.Format.Format_RGB32) for _ in range(2))
    source.fill(0x808080)
    times = []
    for _ in range(repeats):
        painter = QPainter(target)
        began = perf_counter()
        painter.drawImage(0, 0, source)
        times.append((perf_counter() - began) * 1000)
        painter.end()
    return times
