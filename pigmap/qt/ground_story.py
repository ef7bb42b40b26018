"""What some ground went through, in one line: its rest, how it is rooted, pigs on it so far, and when it is ready."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.drawing.tokens import ROOTING_WORDS, rooting_class
from pigmap.drawing.words import day_words
from pigmap.ground import FieldGround, GroundState
from pigmap.qt.stage import Stage
from pigmap.records import Field, Paddock
from pigmap.text import Quantity, Text


class GroundAt(NamedTuple):
    """The ground at a point: its field, the state of it on the day that is shown, and the region there."""

    field: Field
    state: GroundState
    region: int


def ground_at(stage: Stage, x_m: float, y_m: float) -> GroundAt | None:
    """Return the ground at a point; None off the fields, or where it is not computed yet. It never waits."""
    for uid, field in stage.session.farm.fields.items():
        west, south, east, north = field.outline.bounds
        if west <= x_m <= east and south <= y_m <= north and shapely.contains_xy(field.outline, x_m, y_m):
            state = stage.session.ground.state(uid, stage.day, stage.today)
            region = _region(state, x_m, y_m) if state is not None else -1
            return GroundAt(field, state, region) if state is not None and region >= 0 else None
    return None


def _region(state: GroundState, x_m: float, y_m: float) -> int:
    frame, region_of = state.ground.frame, state.ground.region_of
    column, row = (int(part) for part in np.floor(frame.to_cells(np.array([[x_m, y_m]])))[0])
    inside = 0 <= row < frame.rows and 0 <= column < frame.columns
    return int(region_of[row, column]) if inside else -1


class Story:
    """Words for the ground at a point, made anew only where something in them changed.

    The paddocks of a farm are sorted in once for it: the pointer asks with every move.
    """

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._paddocks: Mapping[str, Paddock] | None = None
        self._found: list[Paddock] = []
        self._bounds = np.empty((0, 4))
        self._told: tuple[tuple[object, ...], str] = ((), "")

    def words(self, x_m: float, y_m: float) -> str:
        """Return the line on the ground at a point; nothing off the fields."""
        stage = self._stage
        there = ground_at(stage, x_m, y_m)
        if there is None:
            return ""
        paddock = self._paddock_at(x_m, y_m)
        asked = (there.state, there.region, paddock.uid if paddock is not None else "", stage.today)
        if self._told[0] != asked:
            place = paddock.name if paddock is not None else there.field.name
            self._told = asked, f"{place}: {'; '.join(_parts(stage, there))}"
        return self._told[1]

    def _paddock_at(self, x_m: float, y_m: float) -> Paddock | None:
        """Return the paddock at a point; of several the one that was placed last."""
        paddocks = self._stage.session.farm.paddocks
        if self._paddocks is not paddocks:
            self._paddocks, self._found = paddocks, list(paddocks.values())
            outlines = np.array([each.outline for each in self._found], dtype=np.object_)
            self._bounds = shapely.bounds(outlines).reshape(-1, 4)
        west, south, east, north = self._bounds.T
        near = np.flatnonzero((west <= x_m) & (x_m <= east) & (south <= y_m) & (y_m <= north))
        inside = (self._found[at] for at in near[::-1] if shapely.contains_xy(self._found[at].outline, x_m, y_m))
        return next(inside, None)


def _parts(stage: Stage, there: GroundAt) -> Iterator[str]:
    layers, at = there.state.layers, there.region
    if layers["unknown"][at]:
        yield stage.say("not known what was before")
        return
    if not layers["used"][at]:
        yield stage.say("never used")
        return
    here = bool(layers["occupied"][at])
    yield stage.say("pigs on it") if here else _rest(stage, int(layers["rest_days"][at]))
    yield _rooting(stage, there)
    visits = _visits(there.state.ground, at, stage.day)
    if visits:
        words = Text(
            "pigs once, in {year}",
            {"year": str(visits[0].year)},
            plural="pigs {count} times since {year}",
            count=len(visits),
        )
        yield stage.words(words)
    if not here:
        yield _ready(stage, int(layers["ready_in_days"][at]))


def _rest(stage: Stage, days: int) -> str:
    return stage.say("rested {days}", days=Quantity(days, "d"))


def _rooting(stage: Stage, there: GroundAt) -> str:
    layers, at = there.state.layers, there.region
    words = ROOTING_WORDS[int(rooting_class(layers["rooting"][at : at + 1])[0])]
    if not layers["seen"][at] or stage.day > stage.today:
        return stage.say("{share} rooted, computed", share=words)
    seen_on = date.fromordinal(int(layers["seen_on"][at]))
    return stage.say("{share} rooted, seen {day}", share=words, day=_day(stage, seen_on))


def _ready(stage: Stage, days: int) -> str:
    if days == 0:
        return stage.say("ready now")
    if days < 0:
        return stage.say("ready not within sight")
    return stage.say("ready about {day}", day=_day(stage, stage.day + timedelta(days=days)))


def _day(stage: Stage, day: date) -> str:
    """Return a day without its weekday: '12 Dec', with the year where it is another."""
    words = day_words(day, "short", language=stage.language).split(" ", 1)[1]
    return words if day.year == stage.day.year else f"{words} {day.year}"


def _visits(ground: FieldGround, region: int, day: date) -> list[date]:
    """Return the days on which pigs came to a region, up to a day; those who follow on the same day are one visit."""
    line = ground.timeline
    first, last = int(line.starts[region]), int(line.starts[region + 1])
    here = line.here[first:last]
    came = here & ~np.concatenate(([False], here[:-1]))
    days = line.day[first:last][came]
    return [date.fromordinal(int(each)) for each in days if each <= day.toordinal()]
