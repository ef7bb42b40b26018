"""The sketch on a move card: old and new ground, their nets, where to open and where the vehicle stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.builtin.reports.move_card_frame import WORDS_MM, BoxMm, Say, SketchFrame
from pigmap.builtin.reports.move_card_neighbours import near, neighbours, staying_layers, staying_sides
from pigmap.builtin.reports.move_card_sides import sides
from pigmap.builtin.reports.move_card_steps import paddock_name
from pigmap.builtin.reports.sheet_frame import north_arrow
from pigmap.drawing.layer import Cells, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.letters import CAP_HEIGHT, breadth, shortened
from pigmap.drawing.nets import bays_of, both_use, corners_of, lines, outlines, planned_layers, posts_of
from pigmap.drawing.on_day import Shown
from pigmap.drawing.page import Box, Item, MapFrame, Rule, Sign, Words
from pigmap.drawing.rings import rings_of, with_breaks
from pigmap.drawing.strokes import NET
from pigmap.drawing.tokens import BARE, CASING, GREY, MAP_INK, MAP_PLAN, rgb
from pigmap.drawing.view import View
from pigmap.geometry.cells import inside
from pigmap.geometry.frame import CellFrame
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm
from pigmap.text import Text

_OLD_GROUND = "#DAD9D6"
_FIELD_GROUND = "#F4F5F2"
_BESIDE_MM, _ABOVE_MM = 17.0, 7.0
"""Room for words beside and above the ground."""
_RING_MM = 6.2
_NAME_MM = 34.0
"""Room for the name of a paddock outside of it."""


def sketch(farm: Farm, move: Move, box: BoxMm, say: Say) -> Iterator[Item]:
    """Yield the sketch in a box: left, top, breadth and height [mm]."""
    left, top, wide, high = box
    view = _view(move, wide, high)
    yield Box(left, top, wide, high, 1.2, 0.25, GREY, _FIELD_GROUND)
    yield MapFrame(left, top, view, tuple(_layers(farm, move)))
    yield from north_arrow(left + wide - 4.5, top + 2.0)
    frame = SketchFrame(view, box, say, [shapely.box(left + wide - 8.0, top, left + wide, top + 11.0)])
    yield from _opening(move, frame)
    yield from staying_sides(move, frame)
    yield from neighbours(farm, move, frame)
    yield from _inside(farm, move, frame)
    yield from sides(farm, move, frame)


def _view(move: Move, wide: float, high: float) -> View:
    shapes = [shape for shape in (move.old_outline, move.new_outline) if shape is not None]
    shapes += near(move)
    west, south, east, north = shapely.total_bounds(shapes).tolist()
    scale = max((east - west) / (wide - 2 * _BESIDE_MM), (north - south) / (high - 2 * _ABOVE_MM), 0.01)
    return View((west + east) / 2, (south + north) / 2, scale, wide, high, paper=True)


def _layers(farm: Farm, move: Move) -> Iterator[Layer]:
    new = Shown(move.new, move.group, None, move.new_outline)
    beside = [each.outline for each in move.beside]
    if beside:
        yield outlines(beside, NET)
    yield Outlines(*rings_of([move.new_outline]), closed=True, fill=CASING)
    if move.old_outline is None:
        yield from planned_layers([new])
        return
    old = Shown(move.old, move.group, None, move.old_outline)
    yield _old_ground(move.old_outline)
    yield from planned_layers([new])
    yield outlines([move.old_outline], NET)
    yield posts_of(farm, [old])
    yield corners_of([move.old_outline], MAP_INK)
    if move.shared_line is None:
        yield from _way(move.old_outline, move.new_outline)
    else:
        yield from both_use([move.shared_line], [bays_of(farm, old)], ground_per_grid=farm.projection.ground_per_grid)
    yield from staying_layers(move)
    if move.opening is not None:
        spot = np.array([move.opening])
        yield Marks(spot, "ring", Size(30, _RING_MM), MAP_INK, CASING, Size(2.0, 0.35))


_WAY = Stroke(GREY, Size(2.4, 0.45), CASING, Size(5.0, 0.9), (0.05, 5.0))
"""Between two paddocks that share no side: the pigs walk there on a closed way."""


def _way(old: shapely.Polygon, new: shapely.Polygon) -> Iterator[Layer]:
    if old.distance(new) > 0.0:
        yield lines([shapely.shortest_line(old, new)], _WAY)


def _old_ground(outline: shapely.Polygon) -> Cells:
    """Return ground in grey with clods: a sign for ground that is left, not a reading."""
    west, south, east, north = outline.bounds
    side = max(east - west, north - south) / 60
    frame = CellFrame(west, south, 0.0, side, int((north - south) / side) + 1, int((east - west) / side) + 1)
    shape = (frame.rows, frame.columns)
    colours = np.zeros((256, 4), dtype=np.uint8)
    colours[0] = rgb(_OLD_GROUND)
    return Cells(
        "",
        frame,
        np.where(inside(frame, outline), 0, BARE).astype(np.uint8),
        colours,
        np.full(shape, 2, np.uint8),
        np.ones(shape, np.bool_),
        with_breaks(outline),
    )


def _opening(move: Move, frame: SketchFrame) -> Iterator[Item]:
    if move.opening is None or move.old_outline is None:
        return
    x, y = frame.on_card(np.array([move.opening]))[0].tolist()
    words = frame.say(Text("open here"))
    half = breadth(words, WORDS_MM, 700) / 2 + 0.3
    ground = shapely.union_all([frame.shape(shape) for shape in (move.old_outline, move.new_outline)])
    away = _RING_MM / 2 + 0.4
    spots = [(x, y - away - 1.2), (x, y + away + 1.2), (x + away + half, y), (x - away - half, y)]
    if not move.opens_at_corner:  # in the middle of it all: the words stand above or below
        spots = [(x, ground.bounds[1] - 2.6), (x, ground.bounds[3] + 2.6)]
    areas = [shapely.box(sx - half, sy - 1.3, sx + half, sy + 1.3) for sx, sy in spots]

    def hidden(at: int) -> float:
        return float(areas[at].intersection(ground).area + 100 * areas[at].difference(frame.inner).area)

    best = min(range(len(spots)), key=hidden)
    frame.taken.extend([shapely.Point(x, y).buffer(_RING_MM / 2), areas[best]])
    sx, sy = spots[best]
    if not move.opens_at_corner:
        down = 1 if sy > y else -1
        yield Rule(x, y + down * _RING_MM / 2, x, sy - down * 1.3, 0.3)
    yield Words(sx, sy + WORDS_MM * CAP_HEIGHT / 2, words, WORDS_MM, 700, align="centre", halo_mm=0.5)


class _Ground(NamedTuple):
    """A paddock on the card, and what is said of it."""

    shape: shapely.Polygon
    name: str
    word: str
    stop: int
    colour: str


def _inside(farm: Farm, move: Move, frame: SketchFrame) -> Iterator[Item]:
    say = frame.say
    new = _Ground(frame.shape(_only_new(move)), paddock_name(farm, move.new), say(Text("new")), 1, MAP_PLAN)
    if move.old_outline is None:
        yield from _told(new, frame)
        return
    old = _Ground(frame.shape(move.old_outline), paddock_name(farm, move.old), say(Text("old")), 2, MAP_INK)
    # Marks inside both come first: words outside give way to them.
    yield from _told(new, frame, old.shape)
    yield from _told(old, frame, new.shape)


def _only_new(move: Move) -> shapely.Polygon:
    """Return the new ground, where it lies on the old in part without that."""
    if move.old_outline is None or not move.overlaps:
        return move.new_outline
    parts = shapely.get_parts(move.new_outline.difference(move.old_outline)).tolist()
    return max((part for part in parts if part.geom_type == "Polygon"), key=lambda p: p.area, default=move.new_outline)


def _told(ground: _Ground, frame: SketchFrame, *others: shapely.Polygon) -> Iterator[Item]:
    """Yield a paddock's name, whether it is old or new, and the vehicle: as much of it as there is room for."""
    circle = shapely.maximum_inscribed_circle(ground.shape)
    x, y = shapely.get_coordinates(circle)[0].tolist()
    plate = frame.say(Text("first") if ground.stop == 1 else Text("then"))
    wide = breadth(plate, WORDS_MM, 700) + 7.6
    whole = shapely.box(x - wide / 2, y - 6.5, x + wide / 2, y + 6.5)
    part = shapely.box(x - wide / 2, y - 2.4, x + wide / 2, y + 2.4)
    if ground.shape.buffer(-0.8).contains(whole):
        frame.taken.append(whole)
        yield from _named(ground, x, y, 2 * circle.length - 2.0, frame)
        yield from _plate(x - wide / 2, y + 1.6, wide, plate)
    elif ground.shape.buffer(-0.4).contains(part):
        frame.taken.append(part)
        yield from _plate(x - wide / 2, y - 2.4, wide, plate)
        yield from _named_outside(ground, "", frame, others)
    else:
        yield from _named_outside(ground, "", frame, others)


def _named(ground: _Ground, x: float, y: float, room: float, frame: SketchFrame) -> Iterator[Item]:
    whole = (
        frame.say(Text("{word}: {name}", {"word": ground.word, "name": ground.name})) if ground.name else ground.word
    )
    size = next((each for each in (4.2, 3.4) if breadth(whole, each, 700) <= room), WORDS_MM)
    name = shortened(whole, room, size, 700)
    half = breadth(name, size, 700) / 2 + 0.3
    frame.taken.append(shapely.box(x - half, y - 5.0, x + half, y - 0.4))
    yield Words(x, y - 1.2, name, size, 700, ground.colour, "centre", halo_mm=0.7)


def _named_outside(
    ground: _Ground, plate: str, frame: SketchFrame, others: tuple[shapely.Polygon, ...]
) -> Iterator[Item]:
    """Yield what is said of a small paddock above or below it, on the side where nothing lies."""
    name = shortened(ground.name, _NAME_MM, WORDS_MM, 600)
    said = frame.say(Text("{word}: {name}", {"word": ground.word, "name": name})) if name else ground.word
    words = ", ".join(part for part in (said, plate) if part)
    half = breadth(words, WORDS_MM, 600) / 2
    left, _, wide, _ = frame.box
    west, north, east, south = ground.shape.bounds
    x = min(max((west + east) / 2, left + half + 1.0), left + wide - half - 1.0)
    bases = [south + 3.6, north - 1.6, south + 7.4, north - 5.4]
    areas = [shapely.box(x - half, base - 2.2, x + half, base + 0.6) for base in bases]
    found = next((at for at in range(4) if frame.is_free(areas[at], *others)), None)
    at = found if found is not None else next((at for at in range(4) if frame.inner.contains(areas[at])), 0)
    frame.taken.append(areas[at])
    yield Words(x, bases[at], words, WORDS_MM, 600, ground.colour, "centre", halo_mm=0.7)


def _plate(left: float, top: float, wide: float, words: str) -> Iterator[Item]:
    yield Box(left, top, wide, 4.8, 0.8, 0.25, MAP_INK, CASING)
    yield Sign(left + 0.9, top + 0.4, 4.0, "vehicle")
    yield Words(left + 6.0, top + 2.4 + WORDS_MM * CAP_HEIGHT / 2, words, WORDS_MM, 700)
