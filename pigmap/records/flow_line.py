"""Flow lines: where water runs over the ground when it rains hard, as the keeper drew it."""

from __future__ import annotations

from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_shape
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowLine(Record):
    """A line along which water runs off, dry at other times."""

    TABLE: ClassVar[str] = "flow_lines"

    name: str = ""
    line: shapely.LineString
    note: str = ""

    def __post_init__(self) -> None:
        need_shape(f"The flow line {self.name}".rstrip(), self.line)
