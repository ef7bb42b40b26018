"""The sample farm that a person meets first: where it is kept, and whether an open farm is it."""

from __future__ import annotations

from pathlib import Path

from pigmap.paths import data_folder


def sample_folder() -> Path:
    """Return the folder in which the sample farm is kept; it may not exist yet."""
    return data_folder() / "sample"


def is_sample(farm: Path) -> bool:
    """Whether a farm file is the sample farm that came with the first start."""
    return farm.resolve().parent == sample_folder().resolve()
