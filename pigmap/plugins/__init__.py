"""The door for contributions: knows the kinds of parts, and none of the parts."""

from __future__ import annotations

from pigmap.plugins.kinds import API, KINDS, Kind
from pigmap.plugins.registry import Fault, Part, Registry

__all__ = ["API", "KINDS", "Fault", "Kind", "Part", "Registry"]
