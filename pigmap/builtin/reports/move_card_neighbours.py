"""Others that stand beside a move on its sketch: their ground, their sign, and the nets that stay for them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from pigmap.builtin.reports.move_card_frame import WORDS_MM, SketchFrame
from pigmap.drawing.layer import Layer, Size, Stroke
from pigmap.drawing.letters import CAP_HEIGHT, breadth
from pigmap.drawing.nets import lines
from pigmap.drawing.on_day import sign_of
from pigmap.drawing.page import Box, Item, Sign, Words
from pigmap.drawing.tokens import CASING, MAP_INK
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm
from pigmap.text import Text

_STRIP = 0.12
"""So much of the breadth of the old and the new ground is shown of others that a net stays for. Own choice."""
_SIGN_MM = 5.6
_TRIES = 9
"""Places tried for a sign, along each side of its ground."""
_STAYS = Stroke(MAP_INK, Size(4.0, 1.3), CASING, Size(6.0, 1.9))
"""A net that stays for others: heavier than any other line."""


def near(move: Move) -> list[shapely.Polygon]:
    """Return what the sketch has to show of the ground that nets stay for."""
    shapes = [shape for shape in (move.old_outline, move.new_outline) if shape is not None]
    west, south, east, north = shapely.total_bounds(shapes).tolist()
    strip = _STRIP * max(east - west, north - south)
    window = shapely.box(west - strip, south - strip, east + strip, north + strip)
    shown = (staying.behind.outline.intersection(window) for staying in move.nets.stays)
    return [shape for shape in shown if not shape.is_empty]


def staying_layers(move: Move) -> Iterator[Layer]:
    """Yield the nets that stay for others."""
    found = [line for staying in move.nets.stays for line in staying.lines]
    if found:
        yield lines(found, _STAYS)


def staying_sides(move: Move, frame: SketchFrame) -> Iterator[Item]:
    """Yield a plate on each side that stays; it has room before all lengths."""
    words = frame.say(Text("stays"))
    wide, high = breadth(words, WORDS_MM, 700) + 2.4, 4.2
    for staying in move.nets.stays:
        line = max(staying.lines, key=lambda each: each.length)
        spot = shapely.get_coordinates(line.interpolate(0.5, normalized=True))
        x, y = frame.on_card(np.asarray(spot))[0].tolist()
        frame.taken.append(shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
        yield Box(x - wide / 2, y - high / 2, wide, high, 0.6, 0.22, MAP_INK, MAP_INK)
        yield Words(x, y + WORDS_MM * CAP_HEIGHT / 2, words, WORDS_MM, 700, CASING, "centre")


def neighbours(farm: Farm, move: Move, frame: SketchFrame) -> Iterator[Item]:
    """Yield the sign and the name of each group beside the move, where the sketch shows enough of its ground.

    Those that nets stay for come first: the steps name them.
    """
    ours = shapely.union_all(
        [frame.shape(shape) for shape in (move.old_outline, move.new_outline) if shape is not None]
    )
    shown = {each: frame.shape(each.outline).intersection(frame.inner).difference(ours) for each in move.beside}
    stayed_for = {staying.behind.group_uid for staying in move.nets.stays}
    for each in sorted(move.beside, key=lambda each: each.group_uid not in stayed_for):
        group, spot = farm.groups.get(each.group_uid), _free_spot(shown[each], frame)
        if group is None or spot is None:
            continue
        x, y = spot
        half = _SIGN_MM / 2
        frame.taken.append(shapely.box(x - half, y - half, x + half, y + half))
        yield Sign(x - half, y - half, _SIGN_MM, sign_of(group))
        wide = breadth(group.name, WORDS_MM, 600)
        beside = shapely.box(x + half + 0.8, y - 1.6, x + half + 0.8 + wide, y + 1.6)
        on_others = any(beside.intersects(ground) for other, ground in shown.items() if other is not each)
        if frame.is_free(beside) and not on_others:
            frame.taken.append(beside)
            yield Words(x + half + 0.8, y + WORDS_MM * CAP_HEIGHT / 2, group.name, WORDS_MM, 600, halo_mm=0.6)


def _free_spot(ground: shapely.Geometry, frame: SketchFrame) -> tuple[float, float] | None:
    """Return the middle of a sign on some ground, the one most inside it that is free; None where none is."""
    parts = [part for part in shapely.get_parts(ground).tolist() if part.area > _SIGN_MM**2]
    if not parts:
        return None
    largest = max(parts, key=lambda part: part.area)
    west, south, east, north = largest.bounds
    grid = np.stack(np.meshgrid(np.linspace(west, east, _TRIES), np.linspace(south, north, _TRIES)), axis=-1)
    inside = [point for point in map(shapely.Point, grid.reshape(-1, 2).tolist()) if largest.contains(point)]
    inside.sort(key=lambda point: -point.distance(largest.exterior))
    most = shapely.Point(shapely.get_coordinates(shapely.maximum_inscribed_circle(largest))[0].tolist())
    half = _SIGN_MM / 2
    for point in [most, *inside]:
        if frame.is_free(shapely.box(point.x - half, point.y - half, point.x + half, point.y + half)):
            return float(point.x), float(point.y)
    return None
