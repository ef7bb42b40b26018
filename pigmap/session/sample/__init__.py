"""The sample farm: invented, made by a script, the same each time for the same day."""

from __future__ import annotations

from pigmap.session.sample.story import sample_farm
from pigmap.session.sample.writing import SamplePaths, write_sample

__all__ = ["SamplePaths", "sample_farm", "write_sample"]
