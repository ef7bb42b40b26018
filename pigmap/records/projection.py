"""The farm's own flat coordinates."""

from __future__ import annotations

from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Projection:
    """A metric coordinate system, and how long a metre of it is on the ground.

    Net lengths and paper scale are ground metres; shapes are stored in grid metres. UTM is 0.9996 on its axis,
    so a 50 m net is 49.98 m of grid there.
    """

    name: str
    authority: str
    """``EPSG``, or ``NONE`` where only the definition is known."""
    code: int
    definition: str
    """Well-known text (WKT) of the coordinate system."""
    ground_per_grid: float = 1.0
    """Ground metres in one grid metre at the middle of the farm."""

    @property
    def lies_south(self) -> bool:
        """Whether it is a UTM zone south of the equator (EPSG 32701 to 32760): its seasons are turned."""
        return self.authority.upper() == "EPSG" and 32701 <= self.code <= 32760
