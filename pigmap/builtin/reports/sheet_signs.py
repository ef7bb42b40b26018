"""The signs in the key of a sheet, each made of the layers that draw it on the map."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np
import shapely

from pigmap.drawing.layer import Hatch, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.nets import CORNER, POST, both_use
from pigmap.drawing.rings import joined
from pigmap.drawing.strokes import (
    FIELD_EDGE_PRINTED,
    NET,
    NET_PLANNED,
    OVERHEAD,
    PATH,
    PERMANENT_FENCE,
    STAY_PAST,
    setback,
)
from pigmap.drawing.surroundings import keep_outs_on, overhead_keep_outs
from pigmap.drawing.tokens import CASING, DRY, MAP_INK, MAP_PLAN, WATER
from pigmap.records import Farm, PlaceKind, WayKind
from pigmap.text import Text

Sample = tuple[str, tuple[Layer, ...]]
_LEFT, _RIGHT, _MIDDLE = 0.8, 12.2, 2.45
_CASING = Size(1.8, 0.32)


def key_signs(farm: Farm, say: Callable[[Text], str], day: date) -> tuple[Sample, ...]:
    """Return the signs that this farm's map can show: words, and layers over a strip 13 by 4.9 metres."""
    made: list[Sample] = [
        (say(Text("net standing")), (_line(NET), _dots(_spread(5), POST, MAP_INK), _dots(_ends(), CORNER, MAP_INK))),
        (say(Text("net planned")), (_line(NET_PLANNED), _dots(_ends(), CORNER, MAP_PLAN))),
        (say(Text("side both use")), both_use([_ends()], [(1_600,)])),
        (say(Text("earlier paddock")), (_line(STAY_PAST),)),
        (say(Text("field edge")), (_line(FIELD_EDGE_PRINTED),)),
    ]
    kinds = {way.kind for way in farm.ways.values()}
    if WayKind.PATH in kinds:
        made.append((say(Text("path")), (_line(PATH),)))
    if WayKind.PERMANENT_FENCE in kinds:
        made.append((say(Text("permanent fence")), (_line(*PERMANENT_FENCE),)))
    if overhead_keep_outs(farm, day):
        made.append((say(Text("overhead line")), _overhead()))
    if any(each.reason.is_water for each in keep_outs_on(farm, day)):
        made.append((say(Text("water, keep off")), _area(WATER)))
    return (*made, *_places(farm, say))


_WORDS = {
    PlaceKind.WATER_POINT: Text("water"),
    PlaceKind.GATE: Text("gate"),
    PlaceKind.ENERGIZER: Text("energizer"),
    PlaceKind.SHED: Text("shed"),
    PlaceKind.LOADING_PLACE: Text("loading place"),
    PlaceKind.EARTH_ROD: Text("earth stake"),
    PlaceKind.TREE: Text("tree"),
}


def _places(farm: Farm, say: Callable[[Text], str]) -> list[Sample]:
    there = {place.kind for place in farm.places.values()}
    spot = np.array([[(_LEFT + _RIGHT) / 2, _MIDDLE]])
    sizes = {PlaceKind.ENERGIZER: Size(24, 4.3), PlaceKind.GATE: Size(14, 2.8), PlaceKind.TREE: Size(9, 2.0)}
    return [
        (
            say(words),
            (
                Marks(
                    spot - (0, 0.9 if kind is PlaceKind.GATE else 0),
                    str(kind),
                    sizes.get(kind, Size(19, 3.7)),
                    MAP_INK,
                    CASING,
                    _CASING,
                ),
            ),
        )
        for kind, words in _WORDS.items()
        if kind in there
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
    ring = shapely.get_coordinates(shapely.box(1.5, 0.7, 11.5, 4.2))[:-1]
    hatch = Hatch(colour, Size(11, 1.7), Size(1.1, 0.2))
    return (Outlines(*joined([ring]), closed=True, strokes=(setback(colour),), hatch=hatch),)


def _overhead() -> tuple[Layer, ...]:
    at = np.array([[2.6, _MIDDLE], [10.4, _MIDDLE]])
    casing = Size(1.5, 0.28)
    return (
        *_area(DRY),
        _line(OVERHEAD),
        Marks(at, "pole", Size(12, 2.2), MAP_INK, CASING, casing),
        Marks(at.mean(axis=0)[None, :], "bolt", Size(14, 2.6), MAP_INK, CASING, casing),
    )
