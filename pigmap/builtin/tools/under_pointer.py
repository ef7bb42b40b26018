"""Which things of the farm lie under the pointer, the one that is meant first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.gear import is_shown
from pigmap.drawing.photo_signs import is_on_map
from pigmap.geometry.kept_out import kept_out
from pigmap.qt.stage import Picked
from pigmap.records import AS_PLANNED, Farm, Lasting, StayState, gear_on, lasting_on


def things_under(
    farm: Farm, day: date, x_m: float, y_m: float, reach_m: float, today: date = AS_PLANNED
) -> tuple[Picked, ...]:
    """Return what lies at a point, signs before areas and small areas before the fields they lie in.

    Parameters
    ----------
    farm, day
        What is shown, and on which day: stays that are over are not picked by their ground.
    x_m, y_m
        The point [grid m].
    reach_m
        How far signs and lines reach: half their breadth on the screen [grid m].
    today
        The day up to which only what is recorded counts.
    """
    return tuple(_things(farm, day, shapely.Point(x_m, y_m), reach_m, today))


def _things(farm: Farm, day: date, point: shapely.Point, reach: float, today: date) -> Iterator[Picked]:
    places = {uid: place.point for uid, place in farm.places.items()}
    yield from (Picked("places", uid) for uid in _near(places, point, reach))
    gear = {each.place.uid: each.place.point for each in gear_on(farm, day, today)}
    yield from (Picked("gear_places", uid) for uid in _near(gear, point, reach))
    got_out = {uid: each.point for uid, each in farm.escapes.items() if each.point is not None and is_shown(each, day)}
    yield from (Picked("escapes", uid) for uid in _near(got_out, point, reach))
    photos = {uid: each.point for uid, each in farm.photos.items() if each.point is not None and is_on_map(each, day)}
    yield from (Picked("photos", uid) for uid in _near(photos, point, reach))
    stays = {uid: each.stay.ground for uid, each in lasting_on(farm, today).items() if _shown(each, day)}
    order = {StayState.RUNNING: 0, StayState.PAST: 0, StayState.PLANNED: 1}
    found = sorted(_near(stays, point, 0.0), key=lambda uid: (order[farm.stays[uid].state], farm.stays[uid].in_on, uid))
    yield from (Picked("stays", uid) for uid in found)
    outlines = {uid: paddock.outline for uid, paddock in farm.paddocks.items()}
    yield from (Picked("paddocks", uid) for uid in reversed(_near(outlines, point, 0.0)))
    grid = farm.projection.ground_per_grid
    keep_outs = {uid: kept_out(each, 0.0, grid) for uid, each in farm.keep_outs.items()}
    keep_outs = {uid: farm.keep_outs[uid].shape if shape.is_empty else shape for uid, shape in keep_outs.items()}
    yield from (Picked("keep_outs", uid) for uid in _near(keep_outs, point, reach))
    yield from (Picked("ways", uid) for uid in _near({uid: way.line for uid, way in farm.ways.items()}, point, reach))
    flow = {uid: each.line for uid, each in farm.flow_lines.items()}
    yield from (Picked("flow_lines", uid) for uid in _near(flow, point, reach))
    fields = {uid: field.outline for uid, field in farm.fields.items()}
    yield from (Picked("fields", uid) for uid in _near(fields, point, 0.0))


def _shown(each: Lasting, day: date) -> bool:
    return each.end is None or each.end > day


def _near(shapes: Mapping[str, BaseGeometry], point: shapely.Point, reach: float) -> list[str]:
    """Return the names of the shapes within reach, nearest first, in their own order where they are alike."""
    if not shapes:
        return []
    names = list(shapes)
    off = shapely.distance(np.array(list(shapes.values()), dtype=object), point)
    return [names[i] for i in np.argsort(off, kind="stable") if off[i] <= reach]
