from __future__ import annotations

import importlib.metadata
import os
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from pigmap.paths import cache_folder
from pigmap.plugins import Registry, declared

LONG_AGO = time.time() - 3600


@pytest.fixture
def packages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the one folder that Python looks through; it has one distribution, and changed long ago."""
    folder = tmp_path / "packages"
    _install(folder, "first", "amber")
    monkeypatch.setattr(sys, "path", [str(folder)])
    return folder


def _install(folder: Path, distribution: str, tint: str) -> None:
    home = folder / f"{distribution}-1.0.dist-info"
    home.mkdir(parents=True)
    (home / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {distribution}\nVersion: 1.0\n", encoding="utf-8")
    (home / "entry_points.txt").write_text(
        f"[pigmap.tints]\n{tint} = {distribution}:tint\n[others]\nno = no:no\n", encoding="utf-8"
    )
    _age(folder)


def _age(folder: Path, after: float = 0.0) -> None:
    os.utime(folder, (LONG_AGO + after, LONG_AGO + after))


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Count how often all distributions are looked through."""
    counted: list[int] = []
    real = importlib.metadata.distributions

    def distributions() -> Iterator[importlib.metadata.Distribution]:
        counted.append(1)
        return iter(real())

    monkeypatch.setattr(importlib.metadata, "distributions", distributions)
    return counted


def test_what_is_declared_is_looked_for_once(packages: Path, looks: list[int]) -> None:
    found = [declared.declared(cache_folder()) for _ in range(3)]
    assert found[0] == [declared.Declared("pigmap.tints", "amber", "first:tint", "first")]
    assert found[0] == found[1] == found[2]
    assert len(looks) == 1


def test_a_plugin_that_was_installed_or_removed_since_is_seen_at_the_next_start(packages: Path) -> None:
    def tints() -> list[str]:
        return [part.name for part in Registry(kept_in=cache_folder()).parts("tints")]

    assert tints() == ["amber"]
    _install(packages, "second", "blue")
    _age(packages, after=1.0)
    assert tints() == ["amber", "blue"]
    shutil.rmtree(packages / "first-1.0.dist-info")
    _age(packages, after=2.0)
    assert tints() == ["blue"]


def test_a_folder_that_changed_just_now_is_looked_through_again(packages: Path, looks: list[int]) -> None:
    os.utime(packages)
    declared.declared(cache_folder())
    declared.declared(cache_folder())
    assert len(looks) == 2


def test_a_folder_more_to_look_through_is_seen(packages: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    declared.declared(cache_folder())
    _install(tmp_path / "more", "third", "red")
    monkeypatch.setattr(sys, "path", [*sys.path, str(tmp_path / "more"), str(tmp_path / "none")])
    assert [each.name for each in declared.declared(cache_folder())] == ["amber", "red"]


@pytest.mark.parametrize("garbled", ["", "[]", "{}", '{"places": 1, "declared": 2}', "\ud800"])
def test_what_was_kept_and_cannot_be_read_is_looked_for_anew(packages: Path, garbled: str) -> None:
    whole = declared.declared(cache_folder())
    (kept,) = cache_folder().iterdir()
    kept.write_bytes(garbled.encode("utf-8", "surrogatepass"))
    assert declared.declared(cache_folder()) == whole


def test_a_cache_folder_that_takes_nothing_is_no_trouble(packages: Path, looks: list[int]) -> None:
    cache_folder().parent.mkdir(parents=True, exist_ok=True)
    cache_folder().write_text("a file where the folder would be", encoding="utf-8")
    assert len(declared.declared(cache_folder())) == len(declared.declared(cache_folder())) == 1
    assert len(looks) == 2
