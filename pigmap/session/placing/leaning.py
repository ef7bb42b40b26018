"""What a paddock wants that leans on permanent fences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from pigmap.fence.cautions.things import begun, way_called
from pigmap.geometry.runs import Run
from pigmap.geometry.sides import FLUSH_M
from pigmap.session.placing.ground import PlacingGround
from pigmap.session.placing.judgement import PlacingWarning
from pigmap.text import Quantity, Text, Value


def leaning_cares(ground: PlacingGround, leaning: Sequence[Run]) -> Iterator[PlacingWarning]:
    """Yield what the nets of a place want at each fence that closes some of it."""
    if not leaning:
        return
    lines = [shapely.LineString(run.line) for run in leaning]
    lengths = np.array([run.length_m for run in leaning])
    for way in ground.to_lean_on:
        metres = float(lengths[shapely.dwithin(lines, way.line, 2 * FLUSH_M)].sum())
        if metres > 0.0:
            values: dict[str, Value] = {"fence": begun(way_called(way)), "length": Quantity(metres, "m", 0)}
            yield _live(values) if way.electric else _dead(values)


def _dead(values: dict[str, Value]) -> PlacingWarning:
    said = Text("{fence} closes {length} of it and is not electric, so the last net is a far end.", values)
    remedy = Text(
        "Tie the ends of the nets to it with something that does not conduct, clear of its metal, and look whether "
        "pigs respect it."
    )
    return PlacingWarning(said, remedy, care=True)


def _live(values: dict[str, Value]) -> PlacingWarning:
    said = Text("{fence} closes {length} of it; the same energizer feeds it.", values)
    remedy = Text("Nets may be joined to it. Look that its wires are low enough for the smallest pig.")
    return PlacingWarning(said, remedy, care=True)
