"""A place that touches ground that is kept out goes round it, as free corners."""

from __future__ import annotations

import shapely

from pigmap.builtin.tools.ghost import Ghost
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.go_round import gone_round
from pigmap.qt.stage import Stage
from pigmap.session.placing.obstacles import Obstacle, ObstacleKind
from pigmap.text import Text

CLEAR = Text("Nothing is in its way that it could go round.")
TOO_LITTLE = Text("Too little of it would be left beside that. Set it elsewhere.")


def in_the_way(ghost: Ghost, placed: Placed) -> list[Obstacle]:
    """Return what a place touches and can go round: ponds, wells, trees, wet corners."""
    _, touched = ghost.ground.touched([placed.outline])
    found = (ghost.ground.obstacles[number] for number in sorted(touched.tolist()))
    return [each for each in found if each.kind is ObstacleKind.KEEP_OUT]


def round_it(stage: Stage, ghost: Ghost, placed: Placed) -> FreeOutline | None:
    """Return a place as it goes round what it touches; None, with a word why, where it cannot."""
    kept = in_the_way(ghost, placed)
    ground = gone_round(placed.outline, [each.shape for each in kept]) if kept else None
    if ground is None:
        stage.notice(TOO_LITTLE if kept else CLEAR, "care")
        return None
    corners = shapely.get_coordinates(ground.exterior)[:-1].tolist()
    return FreeOutline(tuple((float(x), float(y)) for x, y in corners), ghost.ground.ground_per_grid)
