from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from pigmap.plugins.declared import installed

ROOT = Path(__file__).resolve().parent.parent


def test_imports_run_inwards_and_qt_stays_outside() -> None:
    linter = Path(sys.executable).parent / "lint-imports"
    done = subprocess.run([linter, "--no-logo"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_declared_parts_are_the_installed_ones() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["entry-points"]
    wanted = {(group, name, target) for group, parts in declared.items() for name, target in parts.items()}
    found = {
        (entry.group, entry.name, entry.value)
        for entry in installed()
        if entry.dist is not None and entry.dist.name == "pigmap" and entry.group.startswith("pigmap.")
    }
    assert found == wanted, "install again: python -m pip install -e ."


def test_every_declared_part_loads() -> None:
    for entry in installed():
        if entry.group.startswith("pigmap."):
            assert entry.load() is not None, entry.value


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on: the test could not fail")
def test_painting_keeps_its_references_to_none(qapp: object) -> None:
    """PySide6 6.12.0 on Python 3.11 loses one reference to None in every call and aborts in the end."""
    from PySide6.QtGui import QImage

    image = QImage(4, 4, QImage.Format.Format_RGB32)
    for _ in range(5_000):
        image.fill(0)
    before = sys.getrefcount(None)
    for _ in range(5_000):
        image.fill(0)
    assert abs(sys.getrefcount(None) - before) <= 100
