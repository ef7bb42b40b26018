"""An open farm: owns the writer, publishes every new state."""

from __future__ import annotations

from pigmap.session.history import HistoryEntry
from pigmap.session.session import Session
from pigmap.session.writer import Published

__all__ = ["HistoryEntry", "Published", "Session"]
