"""The farm's own flat coordinates."""

from __future__ import annotations

import re
from typing import Any

from pigmap.records.frozen import dataclass

_ORIGIN = re.compile(r'"latitude_of_origin",\s*([-+.\deE]+)')


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
        """Whether it is a UTM zone south of the equator (EPSG 32701 to 32760): its seasons are turned.

        One that no register numbers lies south where the latitude it is drawn from does.
        """
        if self.authority.upper() == "EPSG":
            return 32701 <= self.code <= 32760
        origin = _ORIGIN.search(self.definition)
        return origin is not None and float(origin[1]) < 0

    @property
    def has_place(self) -> bool:
        """Whether its metres lie somewhere on earth."""
        return self.definition != NO_PLACE.definition

    def to_json(self) -> dict[str, Any]:
        """Return what a setting keeps of it."""
        return {
            "name": self.name,
            "authority": self.authority,
            "code": self.code,
            "definition": self.definition,
            "ground_per_grid": self.ground_per_grid,
        }

    @classmethod
    def from_json(cls, kept: Any) -> Projection | None:
        """Return the projection that a setting keeps; None where it keeps none."""
        try:
            return cls(
                name=str(kept["name"]),
                authority=str(kept["authority"]),
                code=int(kept["code"]),
                definition=str(kept["definition"]),
                ground_per_grid=float(kept["ground_per_grid"]),
            )
        except (KeyError, TypeError, ValueError):
            return None


NO_PLACE = Projection(
    name="grid without a place",
    authority="NONE",
    code=100_002,
    definition='LOCAL_CS["grid without a place",UNIT["metre",1],AXIS["East",EAST],AXIS["North",NORTH]]',
)
"""Metres east and north of a corner that lies nowhere on earth."""

PROJECTION_SETTING = "projection"
"""Setting of a farm that was given its place, or another one, after it was begun: the same grid metres, there."""

INSTEAD_OF = "instead_of"
"""What that setting keeps of a farm that was begun at another place: where its metres lay."""

PLACE_SETTING = "place"
"""Setting under which a farm keeps the place that was typed: east and north [grid m]."""


def projection_changed(before: Any, after: Any) -> Projection | None:
    """Return the projection that a change of a row of settings brings; None where it brings none.

    Parameters
    ----------
    before, after
        The row (a `Setting`) on each side, None where it is not there.
    """
    if after is not None:
        return Projection.from_json(after.value) if after.key == PROJECTION_SETTING else None
    if before is None or before.key != PROJECTION_SETTING:
        return None
    return begun_with(before.value) or NO_PLACE


def begun_with(kept: Any) -> Projection | None:
    """Return where the metres of a farm lay when it was begun, by what the setting keeps; None if nowhere."""
    return Projection.from_json(kept.get(INSTEAD_OF)) if isinstance(kept, dict) else None
