"""What all records of the farm have in common."""

from __future__ import annotations

from dataclasses import field
from typing import ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.uid import new_uid


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One row of one table of the farm; frozen, and known by its `uid`.

    Every attribute of a child is a column of its table: text, numbers, dates, truth values, a shape, or a tuple
    of whole numbers or words. A column that may be empty holds None.
    """

    TABLE: ClassVar[str] = ""
    """Name of the table in the farm file, and of the mapping in `Farm`."""

    uid: str = field(default_factory=new_uid)
