"""The invented farm's fields, keep-outs, ways and places, in ground metres."""

from __future__ import annotations

from typing import NamedTuple

import shapely

from pigmap.records import GroundCover, PlaceKind, Reason, WayKind
from pigmap.session.sample.site import Corner


class FieldPlan(NamedTuple):
    """One field: its name, cover, outline, the corner of its cells and what the soil is like."""

    name: str
    cover: GroundCover
    corner: Corner
    outline: shapely.Polygon
    soil: str


LONG_CORNER = Corner(112.0, 356.0, 6.0)
BARN_CORNER = Corner(212.0, 74.0, 2.0)
WOOD_CORNER = Corner(650.0, 436.0, -7.0)
POND_CORNER = Corner(640.0, 54.0, 4.0)

FIELDS = (
    FieldPlan(
        "Long Field",
        GroundCover.PASTURE,
        LONG_CORNER,
        LONG_CORNER.area([(0, 0), (488, -6), (494, 292), (236, 303), (4, 290)]),
        "loam",
    ),
    FieldPlan(
        "Barn Field",
        GroundCover.LEY,
        BARN_CORNER,
        BARN_CORNER.area([(0, 2), (386, 0), (381, 246), (180, 252), (-3, 247)]),
        "sandy loam",
    ),
    FieldPlan(
        "Bank Wood",
        GroundCover.WOODLAND,
        WOOD_CORNER,
        WOOD_CORNER.area([(-6, 4), (120, -2), (262, -8), (276, 110), (268, 243), (130, 252), (2, 238)]),
        "loam over clay",
    ),
    FieldPlan(
        "Pond Field",
        GroundCover.PASTURE,
        POND_CORNER,
        POND_CORNER.area([(0, 0), (398, 2), (396, 172), (206, 168), (200, 326), (-4, 320)]),
        "clay loam",
    ),
)
"""About 40 ha together; the last one is an L."""


class KeepOutPlan(NamedTuple):
    """One keep-out: field, name, reason, shape and its distances [m]."""

    field: str
    name: str
    reason: Reason
    shape: shapely.Polygon | shapely.Point
    radius_m: float
    net_m: float
    gear_m: float


def pond() -> shapely.Polygon:
    """Return the edge of the pond: an oval with a bay in it."""
    middle = shapely.Point(*POND_CORNER.at(150, 205))
    oval = shapely.affinity.rotate(shapely.affinity.scale(middle.buffer(1, 12), 27, 20), 25)
    bay = shapely.Point(*POND_CORNER.at(174, 216)).buffer(14, 8)
    joined = oval.union(bay)
    assert isinstance(joined, shapely.Polygon)
    return joined


KEEP_OUTS = (
    KeepOutPlan("Pond Field", "Pond", Reason.POND, pond(), 0.0, 6.0, 10.0),
    KeepOutPlan(
        "Barn Field",
        "Wet corner",
        Reason.WET,
        BARN_CORNER.area([(338, 1), (385, 1), (383, 58), (362, 50), (346, 26)]),
        0.0,
        2.0,
        5.0,
    ),
    KeepOutPlan(
        "Long Field",
        "Steep bank",
        Reason.STEEP,
        LONG_CORNER.area([(30, 262), (120, 257), (240, 270), (330, 268), (330, 283), (236, 290), (28, 279)]),
        0.0,
        1.0,
        5.0,
    ),
    KeepOutPlan("Bank Wood", "Old oak", Reason.ROOTS, shapely.Point(*WOOD_CORNER.at(228, 36)), 9.0, 0.0, 2.0),
    KeepOutPlan("Bank Wood", "Two beeches", Reason.ROOTS, shapely.Point(*WOOD_CORNER.at(240, 204)), 11.0, 0.0, 2.0),
)


class WayPlan(NamedTuple):
    """One way: its kind, name and line."""

    kind: WayKind
    name: str
    line: shapely.LineString


TRACK = shapely.LineString(
    [
        (38, 318),
        (96, 326),
        (150, 334),
        (330, 342),
        (520, 372),
        (616, 396),
        (650, 408),
        (740, 410),
        (820, 404),
        (1280, 342),
    ]
)
FOOTPATH = shapely.LineString(
    [POND_CORNER.at(420, -60), POND_CORNER.at(352, -20), POND_CORNER.at(338, 60), POND_CORNER.at(318, 190), (944, 388)]
)
OVERHEAD = shapely.LineString([(-150, 714), (560, 732), (1280, 745)])
ROAD = shapely.LineString([(42, -20), (52, 140), (40, 300), (24, 480), (34, 780)])
BROOK = shapely.LineString([(-150, 20), (0, 34), (180, 40), (420, 30), (640, 22), (860, 34), (1100, 18), (1280, 28)])
YARD_FENCE = shapely.LineString(BARN_CORNER.points([(-3, 247), (0, 2)]))

WAYS = (
    WayPlan(WayKind.ROAD, "Lane", ROAD),
    WayPlan(WayKind.TRACK, "Farm track", TRACK),
    WayPlan(WayKind.PATH, "Footpath", FOOTPATH),
    WayPlan(WayKind.OVERHEAD_LINE, "Overhead line", OVERHEAD),
    WayPlan(WayKind.WATERCOURSE, "Brook", BROOK),
    WayPlan(WayKind.PERMANENT_FENCE, "Yard fence", YARD_FENCE),
    WayPlan(WayKind.HEDGE, "North hedge", shapely.LineString(LONG_CORNER.points([(0, 298), (236, 311), (498, 299)]))),
    WayPlan(WayKind.HEDGE, "Long hedge", shapely.LineString(LONG_CORNER.points([(502, 296), (495, -2)]))),
    WayPlan(WayKind.HEDGE, "Middle hedge", shapely.LineString(BARN_CORNER.points([(393, 4), (389, 246)]))),
    WayPlan(WayKind.RIDE, "Main ride", shapely.LineString(WOOD_CORNER.points([(10, 112), (270, 112)]))),
)


class PlacePlan(NamedTuple):
    """One thing that stays: its kind, name and point."""

    kind: PlaceKind
    name: str
    at: tuple[float, float]


PLACES = (
    PlacePlan(PlaceKind.GATE, "Long Field gate", LONG_CORNER.at(300, -4)),
    PlacePlan(PlaceKind.GATE, "Barn Field gate", BARN_CORNER.at(150, 251)),
    PlacePlan(PlaceKind.GATE, "Wood gate", WOOD_CORNER.at(60, 1)),
    PlacePlan(PlaceKind.GATE, "Pond Field gate", POND_CORNER.at(60, 321)),
    PlacePlan(PlaceKind.WATER_POINT, "Long Field tap", LONG_CORNER.at(240, -2)),
    PlacePlan(PlaceKind.WATER_POINT, "Barn tap", BARN_CORNER.at(4, 180)),
    PlacePlan(PlaceKind.WATER_POINT, "Wood tap", WOOD_CORNER.at(66, 3)),
    PlacePlan(PlaceKind.SHED, "Net shed", (132.0, 232.0)),
    PlacePlan(PlaceKind.ENERGIZER, "Yard energizer", (150.0, 262.0)),
    PlacePlan(PlaceKind.EARTH_ROD, "Earth rods", (158.0, 276.0)),
    PlacePlan(PlaceKind.LOADING_PLACE, "Loading place", (76.0, 300.0)),
)

ROOFS = (
    Corner(88.0, 196.0, 12.0).area([(0, 0), (26, 0), (26, 14), (0, 14)]),
    Corner(118.0, 222.0, 12.0).area([(0, 0), (30, 0), (30, 18), (0, 18)]),
    Corner(100.0, 246.0, 12.0).area([(0, 0), (12, 0), (12, 20), (0, 20)]),
    Corner(84.0, 162.0, 102.0).area([(0, 0), (18, 0), (18, 10), (0, 10)]),
)
YARD = shapely.Polygon([(62, 150), (160, 158), (178, 296), (110, 318), (58, 308)])
