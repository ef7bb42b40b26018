"""Shared by all tests: no display, a person's folders out of reach, and the printed tables."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

PUBLISHED = Path(__file__).parent / "published"


def published(name: str) -> list[dict[str, str]]:
    """Return the rows of a printed table; lines that start with ``#`` say where it was printed."""
    lines = (PUBLISHED / name).read_text(encoding="utf-8").splitlines()
    assert any(line.startswith("# Source:") for line in lines), f"{name} does not name its source"
    rows = list(csv.DictReader(line for line in lines if line and not line.startswith("#")))
    assert rows, f"{name} has no rows"
    return rows


@pytest.fixture(autouse=True)
def own_folders(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep a test away from the farms and caches of the person who runs it."""
    base = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("PIGMAP_DATA", str(base / "data"))
    monkeypatch.setenv("PIGMAP_CACHE", str(base / "cache"))


@pytest.fixture(scope="session")
def shared_data() -> Path:
    """Return the folder of real inputs, or skip: it is not part of the project."""
    named = os.environ.get("PIGMAP_SHARED_DATA")
    folder = Path(named) if named else Path(__file__).resolve().parents[2] / "shared" / "data"
    if not folder.is_dir():
        pytest.skip("the folder of real inputs is not here")
    return folder
