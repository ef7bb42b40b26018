"""What is wrong with a place, in words, and the remedy where no shift helps."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.tables import OVERHEAD_SOURCE
from pigmap.geometry.compass import wind
from pigmap.geometry.free_outline import Placed
from pigmap.session.placing.obstacles import Obstacle, ObstacleKind
from pigmap.text import Quantity, Text, Value

ELSEWHERE = Text("Set it elsewhere, or make it smaller.")


class Offence(NamedTuple):
    """Which side offends, and where."""

    side: Text | None
    """The way it faces; None where the thing lies wholly inside."""
    spot: tuple[float, float]


def offence(placed: Placed, shape: BaseGeometry) -> Offence:
    """Return the side of a paddock that reaches farthest into a shape, and the middle of where it does."""
    corners = placed.corners
    sides = shapely.linestrings(np.stack([corners, np.roll(corners, -1, axis=0)], axis=1))
    cut = np.asarray(shapely.intersection(sides, shape))
    reach = np.where(shapely.is_empty(cut), -1.0, shapely.length(cut))
    worst = int(np.argmax(np.round(reach, 3)))
    if reach[worst] < 0.0:
        inside = shapely.point_on_surface(shapely.intersection(placed.outline, shape))
        return Offence(None, (inside.x, inside.y))
    middle = shapely.centroid(cut[worst])
    return Offence(side_facing(placed, worst), (middle.x, middle.y))


def side_facing(placed: Placed, number: int) -> Text:
    """Return the way a side faces, counted anticlockwise from the first."""
    begin, end = np.take(placed.corners, (number, number + 1), axis=0, mode="wrap").tolist()
    return wind(end[1] - begin[1], begin[0] - end[0])


def words(obstacle: Obstacle, placed: Placed, at: Offence) -> Text:
    """Return what is wrong where a paddock touches an obstacle."""
    match obstacle.kind:
        case ObstacleKind.KEEP_OUT:
            return _too_near(obstacle, placed, at)
        case ObstacleKind.OVERHEAD:
            return _overhead(obstacle, placed, at)
        case ObstacleKind.OVERHEAD_IN_PRINT:
            return _below_print(obstacle)
        case ObstacleKind.OTHER_ENERGIZER | ObstacleKind.FENCE_OF_ANOTHER | ObstacleKind.FENCE_OF_UNKNOWN:
            return _live(obstacle)
        case ObstacleKind.BARBED:
            return Text(
                "{what} has barbed wire, as its name or note says. Keep live wires {distance} off.",
                {"what": _begun(obstacle.what), "distance": distance(obstacle.distance_m)},
            )
        case ObstacleKind.CROSSED_WAY:
            return Text("{what} runs through it.", {"what": _begun(obstacle.what)})
        case ObstacleKind.STANDING:
            return Text("It covers part of {paddock}, which still stands then.", {"paddock": obstacle.what})
        case ObstacleKind.STAY:
            return _taken(obstacle)


def distance(metres: float) -> Quantity:
    """Return a distance with the digits it needs, so that none reads as less than it is."""
    needed = next((digits for digits in (0, 1) if abs(round(metres, digits) - metres) < 1e-9), 2)
    return Quantity(metres, "m", needed or None)


def _begun(what: Text) -> Text:
    """Return what a thing is called at the begin of a sentence."""
    return Text(what.id[:1].upper() + what.id[1:], dict(what.values))


def _too_near(obstacle: Obstacle, placed: Placed, at: Offence) -> Text:
    values: dict[str, Value] = {
        "what": obstacle.what,
        "side": at.side or Text(""),
        "off": distance(obstacle.distance_m),
    }
    touches = shapely.intersects(placed.outline, obstacle.bare)
    if at.side is None:
        return Text("It encloses {what}. Keep {off} off." if obstacle.distance_m else "It encloses {what}.", values)
    if shapely.covers(obstacle.bare, placed.outline):
        return Text("All of it lies in {what}.", values)
    if touches:
        pattern = "The {side} side touches {what}. Keep {off} off."
        return Text(pattern if obstacle.distance_m else "The {side} side touches {what}.", values)
    values["near"] = _near(obstacle, placed)
    return Text("The {side} side comes within {near} of {what}. Keep {off} off.", values)


def _near(obstacle: Obstacle, placed: Placed) -> Quantity:
    """Return how near a paddock comes to a thing, rounded up so that it never reads as far enough."""
    grid = shapely.distance(placed.outline, obstacle.bare)
    return Quantity(float(np.ceil(grid * placed.ground_per_grid * 10) / 10), "m", 1)


def _overhead(obstacle: Obstacle, placed: Placed, at: Offence) -> Text:
    values: dict[str, Value] = {"what": _begun(obstacle.what), "off": distance(obstacle.distance_m)}
    if shapely.intersects(placed.outline, obstacle.bare) or at.side is None:
        pattern = "{what} passes over it. Keep at least {off} off; its owner can tell you the distance."
        none = "{what} passes over it. Its owner can tell you how far to keep off."
        if not obstacle.height_known:
            pattern = (
                "{what} passes over it, and nothing tells how high it hangs. Keep at least {off} off; its owner can "
                "tell you the distance."
            )
            none = "{what} passes over it, and nothing tells how high it hangs: its owner can tell you."
        return Text(pattern if obstacle.distance_m else none, values)
    return Text(
        "The {side} side comes within {near} of {line}. Keep at least {off} off; its owner can tell you the distance.",
        {**values, "side": at.side, "line": obstacle.what, "near": _near(obstacle, placed)},
    )


_LIVE = {
    ObstacleKind.OTHER_ENERGIZER: (
        "{what} is live from an energizer of its own. Keep nets of another energizer {distance} off."
    ),
    ObstacleKind.FENCE_OF_ANOTHER: (
        "{what} is live from another energizer. Never join nets to it: keep them {distance} off, the space between "
        "closed by a panel that does not conduct."
    ),
    ObstacleKind.FENCE_OF_UNKNOWN: (
        "{what} is live; nothing tells from which energizer. Do not join nets to it: keep them {distance} off, the "
        "space between closed by a panel that does not conduct."
    ),
}


def _live(obstacle: Obstacle) -> Text:
    values: dict[str, Value] = {"what": _begun(obstacle.what), "distance": distance(obstacle.distance_m)}
    return Text(_LIVE[obstacle.kind], values)


def _below_print(obstacle: Obstacle) -> Text:
    values: dict[str, Value] = {
        "line": obstacle.what,
        "entered": distance(obstacle.entered_m or 0.0),
        "least": distance(obstacle.distance_m),
        "source": OVERHEAD_SOURCE,
    }
    known = (
        "{entered} is entered as the distance from {line}; the least in print for its voltage is {least} ({source})."
    )
    unknown = (
        "{entered} is entered as the distance from {line}; the least in print where the voltage is not known is "
        "{least} ({source})."
    )
    return Text(known if obstacle.voltage_known else unknown, values)


def _taken(obstacle: Obstacle) -> Text:
    values: dict[str, Value] = {"group": obstacle.what, "into": obstacle.into or Text("")}
    if obstacle.out is None:
        return Text("Part of it is taken by {group} from {into} on, with no day out set.", values)
    return Text("Part of it is taken by {group} from {into} to {out}.", {**values, "out": obstacle.out})


def without_a_shift(obstacle: Obstacle) -> Text:
    """Return the remedy where no shift of a few posts helps."""
    match obstacle.kind:
        case ObstacleKind.OVERHEAD:
            return Text("Set it elsewhere, clear of the line on all sides.")
        case ObstacleKind.OVERHEAD_IN_PRINT:
            return Text(
                "Ask the owner of the line which distance holds there, and keep the larger until you know. "
                "Local rules come first."
            )
        case ObstacleKind.OTHER_ENERGIZER | ObstacleKind.FENCE_OF_ANOTHER:
            return Text("Set it elsewhere, or feed both fences from one energizer.")
        case ObstacleKind.FENCE_OF_UNKNOWN:
            return Text("Set it elsewhere. If one energizer feeds both, draw that fence again and say so.")
        case ObstacleKind.BARBED:
            return Text("Set it elsewhere, or on posts of its own beside that fence.")
        case ObstacleKind.CROSSED_WAY:
            return Text("Set it to one side, or ask whoever it belongs to and leave a safe way through.")
        case ObstacleKind.STAY if obstacle.out is not None:
            return Text("Set it elsewhere, or go there from {out} on.", {"out": obstacle.out})
    return ELSEWHERE
