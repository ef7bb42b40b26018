from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from pigmap.records import Record
from tests.store.made import whole_farm


@pytest.fixture(scope="session")
def made_farm(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Record]]:
    """Return a farm file that no test may change, and the row of every table that is in it."""
    path = tmp_path_factory.mktemp("made") / "farm.gpkg"
    return path, whole_farm(path)


@pytest.fixture
def farm_path(tmp_path: Path, made_farm: tuple[Path, dict[str, Record]]) -> Path:
    """Return a farm file of one's own with a row of every table in it."""
    return Path(shutil.copy(made_farm[0], tmp_path / "farm.gpkg"))


@pytest.fixture
def farm_rows(farm_path: Path, made_farm: tuple[Path, dict[str, Record]]) -> tuple[Path, dict[str, Record]]:
    """Return a farm file of one's own, and the row of every table that is in it."""
    return farm_path, made_farm[1]
