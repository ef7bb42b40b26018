"""The whole map of a farm on a day as layers, from below to above."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.gear import escape_layers, gear_layers
from pigmap.drawing.layer import Cells, Label, Labels, Layer, Marks, Outlines, Size, Stroke, Tiles
from pigmap.drawing.nets import (
    both_use_layers,
    frame_rings,
    past_layers,
    planned_layers,
    running_layers,
)
from pigmap.drawing.on_day import OnDay, on_day
from pigmap.drawing.photo_signs import photo_sign_layers
from pigmap.drawing.plates import (
    Say,
    all_labels,
    field_names,
    keep_out_words,
    place_words,
    planned_plates,
    running_plates,
)
from pigmap.drawing.rings import joined
from pigmap.drawing.still import bolder, still_layers
from pigmap.drawing.surroundings import place_layers
from pigmap.drawing.tokens import CASING, MAP_INK, THEMES, Theme
from pigmap.drawing.words import render
from pigmap.records import AS_PLANNED, Farm
from pigmap.records.later_rows import from_day
from pigmap.text import Text
from pigmap.units import System

GRID_M = 50.0
_CHECKS_SHOWN_DAYS = 14


def map_layers(
    farm: Farm,
    day: date,
    cells: Sequence[Cells] = (),
    *,
    picked: tuple[str, str] | None = None,
    theme: str = "light",
    language: str = "en",
    system: System = "metric",
    printed: bool = False,
    today: date = AS_PLANNED,
    figures: Sequence[Label] = (),
    kept_off: Sequence[BaseGeometry] = (),
) -> tuple[Layer, ...]:
    """Return the layers of the map.

    Parameters
    ----------
    farm, day
        What to show, and on which day.
    cells
        Tinted ground, as `tinted_cells` makes it; none for plain fields.
    picked
        Table and uid of the thing that is picked.
    theme
        ``light``, ``dark`` or ``bright``.
    language, system
        Of the words on the map.
    printed
        Whether it is for paper: field edges are ink there.
    today
        The day up to which only what is recorded counts.
    figures
        Figures that paddocks bear, for ways to colour the ground that have them.
    kept_off
        Ground near water, wells and flow lines that pigs are usually kept off, where it is to be seen.
    """
    look = THEMES[theme]
    shown = on_day(farm, day, today)
    more_px = look.casing_more_px
    below = (*photo_layers(farm, look), *cells)
    above = (
        *past_layers(shown.past),
        *planned_layers((*shown.planned, *shown.placed)),
        *running_layers(farm, shown.running),
        *both_use_layers(farm, shown.running, shown.next_planned),
        *picked_layers(farm, picked, shown),
        *place_layers(farm),
        *(() if printed else photo_sign_layers(farm, day)),
        *escape_layers(farm, day),
        *gear_layers(farm, day, today),
        *check_layers(farm, shown, day),
        Labels((*labels_of(farm, shown, day, language, system), *figures)),
    )
    still = still_layers(farm, day, kept_off, printed=printed, more_px=more_px)
    return (*(bolder(each, more_px) for each in below), *still, *(bolder(each, more_px) for each in above))


def photo_layers(farm: Farm, theme: Theme) -> tuple[Layer, ...]:
    """Return the aerial images from below to above, or a grid where there are none."""
    images = sorted(farm.images.values(), key=lambda image: (image.position, image.name))
    if images:
        return tuple(Tiles(image.uid, image.opacity, dimmed=theme.photo_dimmed) for image in images)
    return grid_layers(farm, theme.line)


def empty_ground(farm: Farm) -> tuple[float, float, float, float]:
    """Return what to show of a farm on which nothing is drawn: the ground round its place, or from nowhere on [m]."""
    kept = farm.setting("place")
    if not isinstance(kept, list) or len(kept) != 2:
        return 0.0, 0.0, 500.0, 400.0
    east, north = (float(each) for each in kept)
    return east - 250.0, north - 200.0, east + 250.0, north + 200.0


def grid_layers(farm: Farm, colour: str) -> tuple[Layer, ...]:
    """Return lines every 50 metres of ground over the fields and around them."""
    shapes = [field.outline for field in farm.fields.values()]
    west, south, east, north = shapely.total_bounds(shapes) if shapes else empty_ground(farm)
    every = GRID_M / farm.projection.ground_per_grid
    low_x, low_y = np.floor(west / every) - 20, np.floor(south / every) - 20
    high_x, high_y = np.ceil(east / every) + 20, np.ceil(north / every) + 20
    upright = [np.array([[x, low_y], [x, high_y]]) * every for x in np.arange(low_x, high_x + 1)]
    level = [np.array([[low_x, y], [high_x, y]]) * every for y in np.arange(low_y, high_y + 1)]
    stroke = Stroke(colour, Size(1.0, 0.12))
    return (Outlines(*joined([*upright, *level]), closed=False, strokes=(stroke,), smallest_scale=3.0),)


def labels_of(farm: Farm, shown: OnDay, day: date, language: str, system: System) -> tuple[Label, ...]:
    """Return all words on the map."""

    def say(text: Text) -> str:
        return render(text, language=language, system=system)

    return all_labels(_kinds(farm, shown, day, say, language))


def _kinds(farm: Farm, shown: OnDay, day: date, say: Say, language: str) -> Iterator[Iterator[Label]]:
    yield running_plates(farm, shown, day, say)
    yield planned_plates(farm, shown, day, say, language)
    yield field_names(farm, day, say)
    yield keep_out_words(farm, day, say)
    yield place_words(farm, say)


def picked_layers(farm: Farm, picked: tuple[str, str] | None, shown: OnDay) -> tuple[Layer, ...]:
    """Return the four brackets outside the corners of what is picked."""
    shape = shape_of(farm, picked, shown)
    if shape is None or shape.is_empty:
        return ()
    corners = frame_rings([shape]).points
    if len(corners) != 4:  # a point or a line straight as a rule: a square around it
        corners = frame_rings([shape.buffer(4.0, quad_segs=1)]).points
    away = corners - corners.mean(axis=0)
    before, after = np.roll(corners, 1, axis=0) - corners, np.roll(corners, -1, axis=0) - corners
    inwards = before / np.linalg.norm(before, axis=1)[:, None] + after / np.linalg.norm(after, axis=1)[:, None]
    turned = np.degrees(np.arctan2(-inwards[:, 1], -inwards[:, 0])) if len(away) else np.empty(0)
    return (Marks(corners, "bracket", Size(15.0, 2.8), MAP_INK, CASING, Size(2.0, 0.4), turned_deg=turned),)


def shape_of(farm: Farm, picked: tuple[str, str] | None, shown: OnDay) -> BaseGeometry | None:
    """Return where what is picked lies on the ground: of a group the paddock it is in; None where it lies nowhere."""
    if picked is None:
        return None
    table, uid = picked
    row = farm.rows(table).get(uid)
    if row is None:
        return None
    if table == "groups":
        there = (each for each in (*shown.running, *shown.planned) if each.there and each.group is row)
        return next((each.outline for each in there), None)
    for name in ("outline", "ground", "shape", "line", "point"):
        shape = getattr(row, name, None)
        if isinstance(shape, BaseGeometry):
            return shape
    return None


def check_layers(farm: Farm, shown: OnDay, day: date) -> tuple[Layer, ...]:
    """Return the last check of each paddock that is in use: a square with a clod for each quarter rooted."""
    here = {each.stay.paddock_uid for each in shown.running if each.stay is not None}
    seen, _ = from_day(farm.checks, day - timedelta(days=_CHECKS_SHOWN_DAYS))
    last = {
        check.paddock_uid: check
        for check in sorted(seen, key=lambda check: check.checked_on)
        if check.paddock_uid in here
        and check.point is not None
        and check.rooting_score is not None
        and 0 <= (day - check.checked_on).days <= _CHECKS_SHOWN_DAYS
    }
    if not last:
        return ()
    points = np.array([(check.point.x, check.point.y) for check in last.values() if check.point is not None])
    scores = tuple(check.rooting_score or 0 for check in last.values())
    return (Marks(points, "check", Size(18.0, 3.3), MAP_INK, CASING, values=scores, smallest_scale=0.7),)
