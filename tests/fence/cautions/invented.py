"""An invented piece of ground, 50 by 50 m, that a live fence stands round, and what may lie beside it."""

from __future__ import annotations

import shapely

from pigmap.drawing.words import render
from pigmap.fence.cautions.caution import LiveGround
from pigmap.records import Energizer, Farm, Projection, Record, Way, WayKind, add

GROUND = shapely.box(0, 0, 50, 50)
HERE = LiveGround("North 3", GROUND)


def farm_with(*rows: Record, ground_per_grid: float = 1.0) -> Farm:
    """Return a farm with some rows and nothing else."""
    flat = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=ground_per_grid)
    return Farm(document_uid="farm", projection=flat).after(add(row) for row in rows)


def fed_by(energizer: Energizer | None, ground: shapely.Polygon = GROUND, called: str = "North 3") -> LiveGround:
    """Return ground whose fence an energizer feeds."""
    return LiveGround(called, ground, energizer)


def upright(kind: WayKind, east: float, **more: object) -> Way:
    """Return a way from south to north, past the ground, so far east of its corner."""
    line = shapely.LineString([(east, -200), (east, 250)])
    return Way(kind=kind, line=line, **more)  # type: ignore[arg-type]


def said(*cautions: object) -> list[tuple[str, str]]:
    """Return the words and remedies of cautions."""
    return [(render(each.words), render(each.remedy)) for each in cautions]  # type: ignore[attr-defined]
