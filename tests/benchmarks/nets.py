"""The arithmetic of nets: each module ``nets_NAME.py`` beside this one measures some goals by its ``measure_NAME``."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from tests.benchmarks.sticks import Measured


def measure_nets(*, quick: bool) -> dict[str, Measured]:
    """Measure every goal of the nets."""
    found: dict[str, Measured] = {}
    for path in sorted(Path(__file__).parent.glob("nets_*.py")):
        module = import_module(f"tests.benchmarks.{path.stem}")
        found |= getattr(module, path.stem.replace("nets_", "measure_"))(quick=quick)
    return found
