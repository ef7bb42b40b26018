"""The loop a keeper walks every week: open, look round, step through days, place."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.loop_start import measure_start
from tests.benchmarks.sticks import Measured, child_environment, run

DISPLAYS = {"offscreen": "", "xvfb": "xvfb-run"}


def measure_loop(*, quick: bool) -> dict[str, Measured]:
    """Measure every goal of the loop; those that need what this machine lacks are left out."""
    with sample_farm() as (farm, environment):
        found = measure_start(farm, environment, repeats=3 if quick else 10)
        for name, wrapper in DISPLAYS.items():
            if not wrapper or shutil.which(wrapper):
                found |= _drag(name, farm, environment, seconds=2.0 if quick else 10.0)
        found |= child("loop_ghost", environment, str(farm), "100" if quick else "1000")
        found |= child("loop_date", environment, "60" if quick else "600")
    return found


@contextmanager
def sample_farm() -> Iterator[tuple[Path, dict[str, str]]]:
    """Make the sample farm with the picture of its image in a cache of its own."""
    with child_environment() as environment, tempfile.TemporaryDirectory() as folder:
        run(["-m", "pigmap", "sample", f"{folder}/sample"], environment)
        (farm,) = Path(folder, "sample").glob("*.gpkg")
        run(["-m", "tests.benchmarks.loop_start", str(farm)], environment)
        yield farm, environment


def child(module: str, environment: dict[str, str], *arguments: str) -> dict[str, Measured]:
    """Run a module that measures and prints its figures as JSON."""
    _, printed = run(["-m", f"tests.benchmarks.{module}", *arguments], environment)
    return {name: Measured(**figures) for name, figures in json.loads(printed.splitlines()[-1]).items()}


def _drag(display: str, farm: Path, environment: dict[str, str], seconds: float) -> dict[str, Measured]:
    if display == "offscreen":
        return child("loop_drag", environment, display, str(farm), f"{seconds:g}")
    on_screen = {**environment, "QT_QPA_PLATFORM": "xcb"}
    code = (
        "import subprocess, sys; sys.exit(subprocess.call(['xvfb-run', '-a', '-s', '-screen 0 1920x1200x24', "
        "sys.executable, '-m', 'tests.benchmarks.loop_drag', *sys.argv[1:]]))"
    )
    _, printed = run(["-c", code, display, str(farm), f"{seconds:g}"], on_screen)
    return {name: Measured(**figures) for name, figures in json.loads(printed.splitlines()[-1]).items()}
