from __future__ import annotations

from pathlib import Path

import pytest

from pigmap.records import Record
from tests.store.made import whole_farm


@pytest.fixture
def farm_path(tmp_path: Path) -> Path:
    """Return a farm file with a row of every table in it."""
    whole_farm(tmp_path / "farm.gpkg")
    return tmp_path / "farm.gpkg"


@pytest.fixture
def farm_rows(tmp_path: Path) -> tuple[Path, dict[str, Record]]:
    """Return a farm file, and the row of every table that is in it."""
    path = tmp_path / "farm.gpkg"
    return path, whole_farm(path)
