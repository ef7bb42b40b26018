"""Judging a place for a paddock: nets, ground, what is in the way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.fence.count import nets_for
from pigmap.geometry.cells import cells_inside
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import Closing, closing
from pigmap.geometry.sides import sides_of
from pigmap.ground.state import GroundState
from pigmap.records import Farm, Field, NetKind, Purpose, Use
from pigmap.session.placing.ground import PlacingGround
from pigmap.session.placing.judgement import Judgement, PlacingWarning
from pigmap.session.placing.obstacles import ObstacleKind
from pigmap.session.placing.shifts import OUTSIDE, Shifts
from pigmap.session.placing.words import ELSEWHERE, offence, without_a_shift, words
from pigmap.text import Quantity, Text, Value


def judge(
    farm: Farm,
    states: Mapping[str, GroundState],
    rectangle: Rectangle,
    kind: NetKind,
    day: date,
    *,
    group_uid: str | None = None,
    ground: PlacingGround | None = None,
    also_standing: Sequence[Rectangle] = (),
) -> Judgement:
    """Return the figures of a paddock where it would be placed, and what is against it.

    Parameters
    ----------
    farm
        As it is.
    states
        State of the ground of each field on that day, as far as it is computed, by the field's uid.
    rectangle, kind
        Where it would be, and of which nets.
    day
        From which day it would be used.
    group_uid
        For whom: the nets of the group's present paddock still stand then.
    ground
        What was made for this farm, day and group before; made here if not given.
    also_standing
        Paddocks of a row that will stand by then, such as the one before this.

    Notes
    -----
    Nothing is refused here: what is against a place is said with its remedy. Warnings that are `hard` cannot be
    overridden with a reason; those of `care` do not stand against it.
    """
    ground = ground or PlacingGround(farm, day, group_uid)
    sides = ground.sides.joined(sides_of(each.outline for each in also_standing)) if also_standing else ground.sides
    outline = rectangle.outline
    closed = closing(outline, sides, rectangle.ground_per_grid)
    field = ground.field_under(outline)
    below = _below(states.get(field.uid) if field is not None else None, outline)
    found = _Found(ground, rectangle, outline, kind, closed, field, below)
    outside, kept_out = _outside_share(ground, outline), _keep_out_share(ground, outline)
    return Judgement(
        nets_to_carry=nets_for(closed.open, kind),
        nets_to_leave=nets_for(closed.shared, kind),
        spare_nets=ground.spare(kind),
        area_m2=rectangle.area_m2,
        field_uid=field.uid if field is not None else None,
        outside_share=outside,
        keep_out_share=kept_out,
        open_runs=closed.open,
        shared_runs=closed.shared,
        rest_least_days=below.rest_least if below is not None else None,
        rest_mean_days=below.rest_mean if below is not None else None,
        never_used_share=below.never_used if below is not None else None,
        rooting=below.rooting if below is not None else None,
        seen_on=below.seen_on if below is not None else None,
        warnings=tuple(sorted(_warnings(found, outside), key=lambda warning: (not warning.hard, warning.care))),
    )


class _Below(NamedTuple):
    """The ground under a place."""

    rest_least: int
    rest_mean: float | None
    never_used: float
    rooting: float
    seen_on: date | None


class _Found(NamedTuple):
    """What is known of a place before it is put into words."""

    ground: PlacingGround
    rectangle: Rectangle
    outline: shapely.Polygon
    kind: NetKind
    closed: Closing
    field: Field | None
    below: _Below | None


def _below(state: GroundState | None, outline: shapely.Polygon) -> _Below | None:
    under = state.under(outline) if state is not None else None
    if state is None or under is None:
        return None
    cells, _ = cells_inside(state.ground.frame, [outline])
    regions = state.ground.region_of.ravel()[cells]
    rest = state.layers["rest_days"][regions[regions >= 0]]
    used = rest[rest >= 0]
    mean = float(np.mean(used)) if len(used) else None
    return _Below(under.rest_days, mean, under.never_used, under.rooting, under.seen_on)


def _outside_share(ground: PlacingGround, outline: shapely.Polygon) -> float:
    fields = ground.fields_as_one
    if shapely.covers(fields, outline):
        return 0.0
    return float(1.0 - shapely.intersection(fields, outline).area / outline.area)


def _keep_out_share(ground: PlacingGround, outline: shapely.Polygon) -> float:
    _, touched = ground.touched([outline])
    taken = [ground.obstacles[number] for number in touched]
    shapes = [each.shape for each in taken if each.kind in (ObstacleKind.KEEP_OUT, ObstacleKind.OVERHEAD)]
    if not shapes:
        return 0.0
    return float(shapely.intersection(shapely.union_all(shapes), outline).area / outline.area)


def _warnings(found: _Found, outside: float) -> Iterator[PlacingWarning]:
    shifts = Shifts(found.ground, found.rectangle, found.kind, found.closed.shared)
    _, touched = found.ground.touched([found.outline])
    for number in sorted(touched.tolist()):
        obstacle = found.ground.obstacles[number]
        at = offence(found.rectangle, obstacle.shape)
        remedy = shifts.clear_of(number) or without_a_shift(obstacle)
        yield PlacingWarning(words(obstacle, found.rectangle, at), remedy, obstacle.hard, at.spot)
    if outside > 0.0:
        yield _outside(found, outside, shifts)
    yield from _nets_short(found)
    yield from _ground_cares(found)


def _outside(found: _Found, share: float, shifts: Shifts) -> PlacingWarning:
    if found.field is None or share >= 1.0 - 1e-9:
        text, remedy = Text("It lies outside every field."), Text("Set it inside a field, or draw one round it first.")
        return PlacingWarning(text, remedy, spot=found.rectangle.centre)
    beyond = shapely.difference(found.outline, found.ground.fields_as_one)
    at = offence(found.rectangle, beyond)
    values: dict[str, Value] = {"side": at.side or Text(""), "field": found.field.name}
    pattern = "The {side} side leaves {field}." if at.side is not None else "Part of it is not in {field}."
    return PlacingWarning(Text(pattern, values), shifts.clear_of(OUTSIDE) or ELSEWHERE, spot=at.spot)


def _nets_short(found: _Found) -> Iterator[PlacingWarning]:
    spare, carry = found.ground.spare(found.kind), nets_for(found.closed.open, found.kind)
    if spare is None or carry <= spare:
        return
    values: dict[str, int] = {"carry": carry, "spare": max(spare, 0)}
    if found.closed.shared:
        one, many = (f"{{count}} {nets} short: it takes {{carry}}, {{spare}} are spare." for nets in ("net", "nets"))
        remedy = Text("Share a longer side, or take nets up elsewhere first.")
    else:
        one, many = (f"{{count}} {nets} short: this paddock shares no side." for nets in ("net", "nets"))
        remedy = Text("Set it beside a paddock that stands, or take nets up elsewhere first.")
    yield PlacingWarning(Text(one, values, plural=many, count=carry - max(spare, 0)), remedy)


def _ground_cares(found: _Found) -> Iterator[PlacingWarning]:
    if found.field is None:
        return
    for purpose in found.ground.farm.purposes.values():
        if purpose.field_uid == found.field.uid and purpose.covers(found.ground.day):
            yield from _against_purpose(found.field, purpose, found.below)


def _against_purpose(field: Field, purpose: Purpose, below: _Below | None) -> Iterator[PlacingWarning]:
    if purpose.purpose is Use.CLOSED:
        values = {"field": field.name, "until": purpose.to_month_day}
        yield PlacingWarning(
            Text("{field} is closed until {until}.", values), Text("Choose a day after that, or another field.")
        )
    if below is None:
        return
    wanted, most = purpose.rest_days_wanted, purpose.rooting_wanted
    if wanted is not None and 0 <= below.rest_least < wanted:
        rested = {"rest": Quantity(below.rest_least, "d"), "wanted": Quantity(wanted, "d")}
        yield PlacingWarning(
            Text("Some of it has rested {rest}; {wanted} are wanted.", rested),
            Text("Choose ground that has rested longer, or a later day."),
            care=True,
        )
    if most is not None and below.rooting > most:
        rooted = {"rooted": Quantity(below.rooting, "1"), "most": Quantity(most, "1")}
        yield PlacingWarning(
            Text("{rooted} of it is rooted; at most {most} is wanted.", rooted),
            Text("Choose ground that is greener, or a later day."),
            care=True,
        )
