"""The signs in the key of a sheet, each made of the layers that draw it on the map."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.gear import GEAR_SIZE
from pigmap.drawing.layer import Hatch, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.nets import CORNER, POST, both_use
from pigmap.drawing.rings import joined
from pigmap.drawing.strokes import (
    FIELD_EDGE_PRINTED,
    FLOW_LINE,
    NET,
    NET_PLANNED,
    OVERHEAD,
    PATH,
    PERMANENT_FENCE,
    STAY_PAST,
    setback,
)
from pigmap.drawing.surroundings import keep_outs_on
from pigmap.drawing.tokens import CASING, DRY, MAP_INK, MAP_PLAN, WATER
from pigmap.records import Farm, GearKind, PlaceKind, Reason, WayKind, gear_on
from pigmap.text import Text


class Sample(NamedTuple):
    """One sign of the key: its words, and layers over a strip so broad and `SIGN_MM` high."""

    words: str
    layers: tuple[Layer, ...]
    breadth_mm: float


LINE_MM, PLACE_MM, SIGN_MM = 12.0, 5.0, 4.5
_LEFT, _RIGHT, _MIDDLE = 0.8, 11.2, SIGN_MM / 2
_CASING = Size(1.8, 0.32)


def key_signs(farm: Farm, say: Callable[[Text], str], day: date, within: BaseGeometry) -> tuple[Sample, ...]:
    """Return the signs of what there is within some ground on a day."""
    lines = [Sample(say(words), layers, LINE_MM) for words, layers in _lines(farm, day, within)]
    return (*lines, *_places(farm, say, within), *_gear(farm, say, day, within))


def _lines(farm: Farm, day: date, within: BaseGeometry) -> list[tuple[Text, tuple[Layer, ...]]]:
    made: list[tuple[Text, tuple[Layer, ...]]] = [
        (Text("net standing"), (_line(NET), _dots(_spread(5), POST, MAP_INK), _dots(_ends(), CORNER, MAP_INK))),
        (Text("net planned"), (_line(NET_PLANNED), _dots(_ends(), CORNER, MAP_PLAN))),
        (Text("side both use"), both_use([_ends()], [(1_600,)])),
        (Text("earlier paddock"), (_line(STAY_PAST),)),
        (Text("field edge"), (_line(FIELD_EDGE_PRINTED),)),
    ]
    kinds = {way.kind for way in farm.ways.values() if way.line.intersects(within)}
    kept_off = [each for each in keep_outs_on(farm, day) if each.shape.intersects(within)]
    if WayKind.PATH in kinds:
        made.append((Text("path"), (_line(PATH),)))
    if WayKind.PERMANENT_FENCE in kinds:
        made.append((Text("permanent fence"), (_line(*PERMANENT_FENCE),)))
    if any(each.line.intersects(within) for each in farm.flow_lines.values()):
        made.append((Text("flow line: water runs there in hard rain"), (_line(FLOW_LINE),)))
    if WayKind.OVERHEAD_LINE in kinds or any(each.reason is Reason.OVERHEAD_LINE for each in kept_off):
        made.append((Text("overhead line"), _overhead()))
    if any(each.reason.is_water for each in kept_off):
        made.append((Text("water, keep off"), _area(WATER)))
    if any(not each.reason.is_water and each.reason is not Reason.OVERHEAD_LINE for each in kept_off):
        made.append((Text("keep off"), _area(DRY)))
    return made


_WORDS = {
    PlaceKind.WATER_POINT: Text("water"),
    PlaceKind.GATE: Text("gate"),
    PlaceKind.ENERGIZER: Text("energizer"),
    PlaceKind.SHED: Text("shed"),
    PlaceKind.LOADING_PLACE: Text("loading place"),
    PlaceKind.EARTH_ROD: Text("earth stake"),
    PlaceKind.TREE: Text("tree"),
}


def _places(farm: Farm, say: Callable[[Text], str], within: BaseGeometry) -> list[Sample]:
    there = {place.kind for place in farm.places.values() if place.point.intersects(within)}
    spot = np.array([[PLACE_MM / 2, _MIDDLE]])
    sizes = {PlaceKind.ENERGIZER: Size(24, 4.3), PlaceKind.GATE: Size(14, 2.8), PlaceKind.TREE: Size(9, 2.0)}
    made = []
    for kind, words in _WORDS.items():
        if kind in there:
            at = spot - (0, 0.9 if kind is PlaceKind.GATE else 0)
            mark = Marks(at, str(kind), sizes.get(kind, Size(19, 3.6)), MAP_INK, CASING, _CASING)
            made.append(Sample(say(words), (mark,), PLACE_MM))
    return made


_GEAR = {
    GearKind.HUT: Text("hut"),
    GearKind.FEEDER: Text("feeder"),
    GearKind.DRINKER: Text("drinker or tank"),
    GearKind.SHADE: Text("shade"),
    GearKind.WALLOW: Text("wallow"),
}


def _gear(farm: Farm, say: Callable[[Text], str], day: date, within: BaseGeometry) -> list[Sample]:
    there = {each.place.kind for each in gear_on(farm, day) if each.place.point.intersects(within)}
    spot = np.array([[PLACE_MM / 2, _MIDDLE]])
    signs = [(kind, words) for kind, words in _GEAR.items() if kind in there]
    return [
        Sample(say(words), (Marks(spot, str(kind), GEAR_SIZE, MAP_INK, CASING, _CASING),), PLACE_MM)
        for kind, words in signs
    ]


def _ends() -> np.ndarray:
    return np.array([[_LEFT, _MIDDLE], [_RIGHT, _MIDDLE]])


def _spread(count: int) -> np.ndarray:
    along = np.linspace(_LEFT, _RIGHT, count + 2)[1:-1]
    return np.column_stack([along, np.full(count, _MIDDLE)])


def _line(*strokes: Stroke) -> Outlines:
    return Outlines(*joined([_ends()]), closed=False, strokes=strokes)


def _dots(points: np.ndarray, size: Size, colour: str) -> Marks:
    return Marks(points, "dot", size, colour, CASING, _CASING if size is CORNER else Size(0, 0))


def _area(colour: str) -> tuple[Layer, ...]:
    ring = shapely.get_coordinates(shapely.box(1.5, 0.55, 10.5, SIGN_MM - 0.55))[:-1]
    hatch = Hatch(colour, Size(11, 1.7), Size(1.1, 0.2))
    return (Outlines(*joined([ring]), closed=True, strokes=(setback(colour),), hatch=hatch),)


def _overhead() -> tuple[Layer, ...]:
    at = np.array([[2.4, _MIDDLE], [9.6, _MIDDLE]])
    casing = Size(1.5, 0.28)
    return (
        *_area(DRY),
        _line(OVERHEAD),
        Marks(at, "pole", Size(12, 2.2), MAP_INK, CASING, casing),
        Marks(at.mean(axis=0)[None, :], "bolt", Size(14, 2.6), MAP_INK, CASING, casing),
    )
