"""The sketch on a move card: old and new ground, their nets, where to open and where the vehicle stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np
import shapely

from pigmap.builtin.reports.move_card_steps import paddock_name
from pigmap.builtin.reports.sheet_frame import north_arrow
from pigmap.drawing.layer import Cells, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.letters import CAP_HEIGHT, breadth, shortened
from pigmap.drawing.nets import bays_of, both_use, corners_of, lines, outlines, planned_layers, posts_of
from pigmap.drawing.on_day import Shown
from pigmap.drawing.page import Box, Item, MapFrame, Sign, Words
from pigmap.drawing.rings import rings_of, with_breaks
from pigmap.drawing.strokes import NET
from pigmap.drawing.tokens import BARE, CASING, GREY, MAP_INK, MAP_PLAN, rgb
from pigmap.drawing.view import View
from pigmap.geometry.cells import inside
from pigmap.geometry.frame import CellFrame
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm, NetKind
from pigmap.text import Quantity, Text

_OLD_GROUND = "#DAD9D6"
_FIELD_GROUND = "#F4F5F2"
_BESIDE_MM, _ABOVE_MM = 17.0, 7.0
"""Room for words beside and above the ground."""
_RING_MM = 6.2
_WORDS_MM = 2.6
TAPES = {
    "blue": "#2A6FD6", "white": "#FFFFFF", "red": "#C9302C", "yellow": "#F2C500", "green": "#2E8B3D",
    "orange": "#EE7F1A", "black": "#121A17", "grey": "#8A928D", "gray": "#8A928D", "brown": "#7A4B20",
    "pink": "#EF8FB4", "purple": "#7A3E9D",
}  # fmt: skip
"""What colours of tape look like on paper; others are told of in words only."""

Say = Callable[[Text], str]
Taken = list[shapely.Polygon]


def sketch(farm: Farm, move: Move, box: tuple[float, float, float, float], say: Say) -> Iterator[Item]:
    """Yield the sketch in a box: left, top, breadth and height [mm]."""
    left, top, wide, high = box
    view = _view(move, wide, high)
    yield Box(left, top, wide, high, 1.2, 0.25, GREY, _FIELD_GROUND)
    yield MapFrame(left, top, view, tuple(_layers(farm, move)))
    yield from north_arrow(left + wide - 4.5, top + 2.0)
    taken: Taken = [shapely.box(left + wide - 8.0, top, left + wide, top + 11.0)]
    yield from _opening(move, view, box, say, taken)
    yield from _inside(farm, move, view, box, say, taken)
    yield from _sides(farm, move, view, box, say, taken)


def _view(move: Move, wide: float, high: float) -> View:
    shapes = [shape for shape in (move.old_outline, move.new_outline) if shape is not None]
    west, south, east, north = shapely.total_bounds(shapes).tolist()
    scale = max((east - west) / (wide - 2 * _BESIDE_MM), (north - south) / (high - 2 * _ABOVE_MM), 0.01)
    return View((west + east) / 2, (south + north) / 2, scale, wide, high, paper=True)


def _layers(farm: Farm, move: Move) -> Iterator[Layer]:
    new = Shown(move.new, move.group, None, move.new_outline)
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
        yield lines([shapely.shortest_line(move.old_outline, move.new_outline)], _WAY)
    else:
        yield from both_use([move.shared_line], [bays_of(farm, old)], ground_per_grid=farm.projection.ground_per_grid)
    if move.opening is not None:
        spot = np.array([move.opening])
        yield Marks(spot, "ring", Size(30, _RING_MM), MAP_INK, CASING, Size(2.0, 0.35))


_WAY = Stroke(GREY, Size(2.4, 0.45), CASING, Size(5.0, 0.9), (0.05, 5.0))
"""Between two paddocks that share no side: the pigs walk there on a closed way."""


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


def _on_page(points: np.ndarray, view: View, box: tuple[float, float, float, float]) -> np.ndarray:
    shifted: np.ndarray = view.to_device(points) + np.array(box[:2])
    return shifted


def _polygon(outline: shapely.Polygon, view: View, box: tuple[float, float, float, float]) -> shapely.Polygon:
    return shapely.Polygon(_on_page(shapely.get_coordinates(outline.exterior), view, box))


def _opening(move: Move, view: View, box: tuple[float, float, float, float], say: Say, taken: Taken) -> Iterator[Item]:
    if move.opening is None or move.old_outline is None:
        return
    x, y = _on_page(np.array([move.opening]), view, box)[0].tolist()
    words = say(Text("open here"))
    half = breadth(words, _WORDS_MM, 700) / 2 + 0.3
    ground = shapely.union_all([_polygon(shape, view, box) for shape in (move.old_outline, move.new_outline)])
    away = _RING_MM / 2 + 0.4
    spots = [
        (x, y - away - 1.2), (x, y + away + 1.2), (x + away + half, y), (x - away - half, y),
    ]  # fmt: skip
    inner = shapely.box(box[0] + 0.5, box[1] + 0.5, box[0] + box[2] - 0.5, box[1] + box[3] - 0.5)
    areas = [shapely.box(sx - half, sy - 1.3, sx + half, sy + 1.3) for sx, sy in spots]
    best = min(range(4), key=lambda at: areas[at].intersection(ground).area + 100 * areas[at].difference(inner).area)
    taken += [shapely.Point(x, y).buffer(_RING_MM / 2), areas[best]]
    sx, sy = spots[best]
    yield Words(sx, sy + _WORDS_MM * CAP_HEIGHT / 2, words, _WORDS_MM, 700, align="centre", halo_mm=0.5)


def _inside(
    farm: Farm, move: Move, view: View, box: tuple[float, float, float, float], say: Say, taken: Taken
) -> Iterator[Item]:
    parts = [(move.new_outline, paddock_name(farm, move.new), Text("new"), 1, MAP_PLAN)]
    if move.old_outline is not None:
        parts.append((move.old_outline, paddock_name(farm, move.old), Text("old"), 2, MAP_INK))
    for outline, name, word, stop, colour in parts:
        shape = _polygon(outline, view, box)
        middle = shapely.get_point(shapely.maximum_inscribed_circle(shape), 0)
        room = shapely.get_coordinates(shape)
        yield from _told(
            shape, (float(middle.x), float(middle.y)), float(np.ptp(room[:, 0])), (name, say(word)), stop, colour, say,
            taken,
        )  # fmt: skip


def _told(
    shape: shapely.Polygon, at: tuple[float, float], room: float, names: tuple[str, str], stop: int, colour: str,
    say: Say, taken: Taken,
) -> Iterator[Item]:  # fmt: skip
    """Yield a paddock's name, whether it is old or new, and the vehicle: as much of it as there is room for."""
    (x, y), (name, word) = at, names
    halo = 0.7
    plate = say(Text("stop {number}", {"number": stop}))
    wide = breadth(plate, _WORDS_MM, 700) + 7.6
    if shape.buffer(-0.8).contains(shapely.box(x - wide / 2, y - 6.5, x + wide / 2, y + 6.5)):
        name = shortened(name, room - 6.0, 4.2, 700)
        yield Words(x, y - 2.9, name, 4.2, 700, colour, "centre", halo_mm=halo)
        yield Words(x, y + 0.4, word, _WORDS_MM, 400, align="centre", halo_mm=halo)
        yield from _plate(x - wide / 2, y + 1.6, wide, plate)
        taken.append(shapely.box(x - wide / 2, y - 6.5, x + wide / 2, y + 6.5))
        return
    if shape.buffer(-0.4).contains(shapely.box(x - wide / 2, y - 2.4, x + wide / 2, y + 2.4)):
        yield from _plate(x - wide / 2, y - 2.4, wide, plate)
        taken.append(shapely.box(x - wide / 2, y - 2.4, x + wide / 2, y + 2.4))
        words, below = f"{name} {word}".strip(), 4.9
    else:
        yield Box(x - 1.9, y - 1.9, 3.8, 3.8, 1.9, 0.25, MAP_INK, CASING)
        yield Words(x, y + 0.9, str(stop), _WORDS_MM, 700, align="centre")
        taken.append(shapely.box(x - 1.9, y - 1.9, x + 1.9, y + 1.9))
        words, below = f"{name} {word}, {plate}".strip(", "), 4.9
    half = breadth(words, _WORDS_MM, 600) / 2
    low = float(shape.bounds[3])
    for base in (low + below - 1.2, float(shape.bounds[1]) - 2.0, low + below + 2.0):
        area = shapely.box(x - half, base - 2.2, x + half, base + 0.6)
        if not any(area.intersects(other) for other in taken):
            break
    taken.append(area)
    yield Words(x, base, words, _WORDS_MM, 600, colour, "centre", halo_mm=halo)


def _plate(left: float, top: float, wide: float, words: str) -> Iterator[Item]:
    yield Box(left, top, wide, 4.8, 0.8, 0.25, MAP_INK, CASING)
    yield Sign(left + 0.9, top + 0.4, 4.0, "vehicle")
    yield Words(left + 6.0, top + 2.4 + _WORDS_MM * CAP_HEIGHT / 2, words, _WORDS_MM, 700)


def _sides(
    farm: Farm, move: Move, view: View, box: tuple[float, float, float, float], say: Say, taken: Taken
) -> Iterator[Item]:
    """Yield for each side that is set or taken down its length and a swatch of the tape's colour."""
    inner = shapely.box(box[0] + 0.6, box[1] + 0.6, box[0] + box[2] - 0.6, box[1] + box[3] - 0.6)
    shared = shapely.LineString(move.shared_line).buffer(0.5) if move.shared_line is not None else None
    parts = [(move.new_outline, _kind(farm, move.new), MAP_PLAN)]
    if move.old_outline is not None:
        parts.append((move.old_outline, _kind(farm, move.old), MAP_INK))
    for outline, kind, colour in parts:
        straight = shapely.simplify(outline, 0.3)
        middle = np.array([_polygon(outline, view, box).centroid.coords[0]])[0]
        for begin, end in pairwise(shapely.get_coordinates(straight.exterior)):
            if shared is not None and shared.contains(shapely.LineString([begin, end])):
                continue
            metres = float(np.hypot(*(end - begin))) * farm.projection.ground_per_grid
            ends = _on_page(np.array([begin, end]), view, box)
            if float(np.hypot(*(ends[1] - ends[0]))) < 6.0:
                continue
            digits = 0 if abs(metres - round(metres)) < 0.05 else 1
            words = say(Text("{length}", {"length": Quantity(metres, "m", digits)}))
            yield from _side_plate(ends.mean(axis=0), middle, words, kind, colour, inner, taken)


def _side_plate(
    at: np.ndarray, middle: np.ndarray, words: str, kind: NetKind | None, colour: str, inner: shapely.Polygon,
    taken: Taken,
) -> Iterator[Item]:  # fmt: skip
    swatch = TAPES.get(kind.tape.casefold().strip()) if kind is not None else None
    wide, high = breadth(words, _WORDS_MM, 600) + (5.2 if swatch else 2.0), 4.0
    out = (at - middle) / max(float(np.hypot(*(at - middle))), 1e-6)
    reach = wide / 2 * abs(out[0]) * 0.55
    for further in (0.0, 2.0, 4.0, 6.5):
        x, y = (at + out * (reach + further)).tolist()
        area = shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if inner.contains(area) and not any(area.intersects(other) for other in taken):
            break
    else:
        return
    taken.append(area)
    yield Box(x - wide / 2, y - high / 2, wide, high, 0.6, 0.22, MAP_INK, CASING)
    if swatch:
        yield Box(x - wide / 2 + 1.0, y - 1.15, 2.3, 2.3, 0.3, 0.18, MAP_INK, swatch)
    yield Words(x - wide / 2 + (4.2 if swatch else 1.0), y + _WORDS_MM * CAP_HEIGHT / 2, words, _WORDS_MM, 600, colour)


def _kind(farm: Farm, paddock: object) -> NetKind | None:
    return farm.net_kinds.get(getattr(paddock, "net_kind_uid", None) or "")
