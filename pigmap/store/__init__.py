"""The farm file: one GeoPackage, one transaction an edit, and a change log that everything is read back from."""

from __future__ import annotations

from pigmap.store.edit_writing import whose
from pigmap.store.farm_file import FarmFile
from pigmap.store.history import HistoryEntry, Reach, Step
from pigmap.store.log import LogEntry

__all__ = ["FarmFile", "HistoryEntry", "LogEntry", "Reach", "Step", "whose"]
