"""The sample farm: invented, made by a script, the same each time for the same day."""

from __future__ import annotations

from pigmap.session.sample.story import sample_farm

__all__ = ["sample_farm"]
