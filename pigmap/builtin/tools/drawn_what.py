"""What can be drawn: fields, keep-outs, lines, places and gear, the choices of each, and the edit that comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum, StrEnum, auto
from typing import NamedTuple

import shapely

from pigmap.document.edits import add_field, add_flow_line, add_keep_out, add_place, add_way
from pigmap.errors import EditError
from pigmap.geometry.outlines import vet_outline
from pigmap.qt.fed_by import NOT_ELECTRIC
from pigmap.records import Edit, GearKind, GroundCover, PlaceKind, Reason, WayKind
from pigmap.records.frozen import dataclass
from pigmap.text import Text

Point = tuple[float, float]


class Drawn(Enum):
    """What is drawn."""

    FIELD = auto()
    KEEP_OUT = auto()
    LINE = auto()
    PLACE = auto()
    GEAR = auto()

    @property
    def is_area(self) -> bool:
        """Whether it closes round ground."""
        return self in (Drawn.FIELD, Drawn.KEEP_OUT)

    @property
    def is_point(self) -> bool:
        """Whether one click sets it."""
        return self in (Drawn.PLACE, Drawn.GEAR)


class OtherLine(StrEnum):
    """Lines that are no ways."""

    FLOW = "flow line"


class Offer(NamedTuple):
    """The list to choose from for one of them."""

    what: tuple[StrEnum, ...]
    says: str


OFFERS = {
    Drawn.FIELD: Offer(tuple(GroundCover), "What grows there"),
    Drawn.KEEP_OUT: Offer(tuple(Reason), "Why to keep off"),
    Drawn.LINE: Offer((*WayKind, OtherLine.FLOW), "What the line is"),
    Drawn.PLACE: Offer(tuple(PlaceKind), "What stands there"),
    Drawn.GEAR: Offer(tuple(GearKind), "What the pigs have there"),
}


@dataclass(frozen=True, slots=True)
class Meant:
    """All that the plate says of what is drawn."""

    drawn: Drawn
    what: StrEnum
    own_name: str
    name: str
    """The name that was typed, or one that is free."""
    volts: str = ""
    """Of an overhead line, as it was typed [kV]."""
    fed_by: str = NOT_ELECTRIC
    """Of a permanent fence: uid of the place of its energizer, nothing where it is not told, or `NOT_ELECTRIC`."""


def drawing_edit(meant: Meant, points: Sequence[Point]) -> Edit:
    """Return the edit that adds what was drawn.

    Raises
    ------
    PigmapError
        If the corners close round nothing or cross each other, a line has one corner, or a voltage is no number.
    """
    if meant.drawn is Drawn.PLACE:
        return add_place(PlaceKind(meant.what), shapely.Point(points[0]), name=meant.own_name)
    if meant.drawn is Drawn.LINE:
        return _line(meant, points)
    shape = shapely.Polygon(points) if len(points) >= 3 else shapely.LineString([*points, points[-1]])
    outline = vet_outline(meant.name, shape).outline
    if meant.drawn is Drawn.FIELD:
        return add_field(meant.name, outline, ground_cover=GroundCover(meant.what))
    return add_keep_out(outline.geoms[0], Reason(meant.what), name=meant.own_name)


def _line(meant: Meant, points: Sequence[Point]) -> Edit:
    kind = meant.what
    if len(points) < 2:
        raise EditError(
            "The {what} has one corner.",
            remedy="Set a second one, then close it with Enter or a double click.",
            what=Text(str(kind)),
        )
    if not isinstance(kind, WayKind):
        return add_flow_line(shapely.LineString(points), name=meant.own_name)
    fed = kind is WayKind.PERMANENT_FENCE and meant.fed_by != NOT_ELECTRIC
    return add_way(
        kind,
        shapely.LineString(points),
        name=meant.own_name,
        voltage_kv=_kilovolts(meant.volts) if kind is WayKind.OVERHEAD_LINE else None,
        electric=fed,
        energizer_uid=(meant.fed_by or None) if fed else None,
    )


def _kilovolts(typed: str) -> float | None:
    """Return a voltage as it was typed, with a comma or a point; None where nothing was."""
    bare = typed.lower().removesuffix("kv").strip().replace(",", ".")
    if not bare:
        return None
    try:
        return float(bare)
    except ValueError:
        raise EditError(
            "{typed} is no voltage.",
            remedy="Type the kilovolts alone, such as 11, or leave it empty: then the widest distance is kept.",
            typed=typed.strip(),
        ) from None
