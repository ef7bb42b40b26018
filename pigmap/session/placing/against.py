"""What is against a place, and what wants care there, each with its remedy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import shapely

from pigmap.fence.cautions.caution import LiveGround
from pigmap.fence.cautions.communication import communication_lines
from pigmap.fence.cautions.overhead import along_lines
from pigmap.fence.cautions.public import signs_along_ways
from pigmap.fence.choice import MAY_BE_BETTER
from pigmap.fence.rides import along_rides, clearing_remedy, clearing_words
from pigmap.fence.told import ToldFence, nets_of_runs
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.runs import Closing, Run
from pigmap.geometry.sides import Sides
from pigmap.ground.purposes import Wanted, wanted_on
from pigmap.planning.gates import REMEDY, gate_called, gates_covered
from pigmap.records import Field, NetKind
from pigmap.session.placing.below import Below
from pigmap.session.placing.closed import closed_words
from pigmap.session.placing.ground import PlacingGround
from pigmap.session.placing.judgement import PlacingWarning
from pigmap.session.placing.leaning import leaning_cares
from pigmap.session.placing.mixing import mixed_nets, mixed_words
from pigmap.session.placing.odd_bays import odd_bays
from pigmap.session.placing.reasons import CLOSED, MIXED, NETS_SHORT, OUTSIDE, ready_reasons
from pigmap.session.placing.setbacks import setback_cares, steep_cares, steep_fence_cares
from pigmap.session.placing.sharing import sharing_cares
from pigmap.session.placing.shifts import OUTSIDE as BEYOND
from pigmap.session.placing.shifts import Shifts
from pigmap.session.placing.words import ELSEWHERE, offence, without_a_shift, words
from pigmap.text import Quantity, Text, Value


class Place(NamedTuple):
    """What is known of a place before it is put into words."""

    ground: PlacingGround
    placed: Placed
    outline: shapely.Polygon
    kind: NetKind
    closers: Sides
    """The sides that close it where it lies along them."""
    closed: Closing
    grounds: tuple[tuple[Field, Below], ...]
    """The fields it lies in, that with most of it first, and the ground of each under it."""
    outside: float
    """Share of it that lies outside every field."""
    leaning: tuple[Run, ...] = ()
    """What of it permanent fences close."""
    fence: ToldFence | None = None
    """Its nets side by side where they are of more than one kind."""


def warnings_of(found: Place) -> tuple[PlacingWarning, ...]:
    """Return all that is against a place: what is hard first, what only wants care last."""
    every = [*_warnings(found)]
    if all(warning.care for warning in every):  # where it cannot stay, sharing more and whole bays are no matter
        every += sharing_cares(found.placed, found.kind, found.closers, found.closed, found.fence)
        if isinstance(found.placed, FreeOutline):
            every += odd_bays(found.placed, found.kind, found.closed.open)
    return tuple(sorted(every, key=lambda warning: (not warning.hard, warning.care)))


def _warnings(found: Place) -> Iterator[PlacingWarning]:
    shifts = Shifts(found.ground, found.placed, found.kind, found.closers, bool(found.closed.shared))
    _, touched = found.ground.touched([found.outline])
    for number in sorted(touched.tolist()):
        obstacle = found.ground.obstacles[number]
        at = offence(found.placed, obstacle.shape)
        remedy = None if obstacle.care else shifts.clear_of(number)
        remedy = remedy or without_a_shift(obstacle)
        said = words(obstacle, found.placed, at)
        yield PlacingWarning(said, remedy, obstacle.hard, at.spot, obstacle.care, ready_reasons(obstacle))
    if found.outside > 0.0:
        yield _outside(found, shifts)
    yield from _nets_short(found)
    yield from _gates(found)
    yield from leaning_cares(found.ground, found.leaning)
    yield from _fence_cares(found)
    yield from _ground_cares(found)


def _outside(found: Place, shifts: Shifts) -> PlacingWarning:
    if not found.grounds or found.outside >= 1.0 - 1e-9:
        text, remedy = Text("It lies outside every field."), Text("Set it inside a field, or draw one round it first.")
        return PlacingWarning(text, remedy, spot=found.placed.centre, reasons=OUTSIDE)
    beyond = shapely.difference(found.outline, found.ground.fields_as_one)
    at = offence(found.placed, beyond)
    values: dict[str, Value] = {"side": at.side or Text(""), "field": found.grounds[0][0].name}
    pattern = "The {side} side leaves {field}." if at.side is not None else "Part of it is not in {field}."
    return PlacingWarning(Text(pattern, values), shifts.clear_of(BEYOND) or ELSEWHERE, spot=at.spot, reasons=OUTSIDE)


def _nets_short(found: Place) -> Iterator[PlacingWarning]:
    for kind, carry in nets_of_runs(found.closed.open, found.kind, found.fence):
        spare = found.ground.spare(kind)
        if spare is not None and carry > spare:
            yield _short(found, kind, carry, max(spare, 0))


def _short(found: Place, kind: NetKind, carry: int, spare: int) -> PlacingWarning:
    values: dict[str, Value] = {"carry": carry, "spare": spare, "length": Quantity(kind.length_m, "m")}
    mixed = mixed_nets(found.ground, found.kind, found.closed.open)
    of_length = "" if found.fence is None else " of {length}"
    if found.closed.shared:
        said = "short: it takes {carry}, {spare} are spare."
        remedy = Text("Share a longer side, or take nets up elsewhere first.")
    else:
        said = "short: this paddock shares no side."
        remedy = Text("Set it beside a paddock that stands, or take nets up elsewhere first.")
    one, many = (f"{{count}} {nets}{of_length} {said}" for nets in ("net", "nets"))
    reasons: tuple[Text, ...] = NETS_SHORT
    if mixed:
        remedy = Text("Carry {nets}: nets of other lengths close it too.", {"nets": mixed_words(mixed)})
        if tuple(run.length_mm for run in found.closed.open) in found.ground.unsure:
            remedy = Text("{remedy} {more}", {"remedy": remedy, "more": MAY_BE_BETTER})
        reasons = (MIXED, *NETS_SHORT)
    return PlacingWarning(Text(one, values, plural=many, count=carry - spare), remedy, reasons=reasons)


def _gates(found: Place) -> Iterator[PlacingWarning]:
    for gate in gates_covered(found.ground.farm, found.outline):
        said = Text("It covers {gate}: nobody gets through while pigs are there.", {"gate": gate_called(gate)})
        yield PlacingWarning(said, REMEDY, spot=(gate.point.x, gate.point.y), care=True)


_IT = Text("It")


def _fence_cares(found: Place) -> Iterator[PlacingWarning]:
    """Yield what a fence there wants: signs along paths and roads, and care beside overhead lines."""
    farm, live = found.ground.farm, LiveGround(_IT, found.outline)
    for caution in (*along_lines(farm, live), *communication_lines(farm, live), *signs_along_ways(farm, live)):
        yield PlacingWarning(caution.words, caution.remedy, care=True)
    yield from setback_cares(farm, found.outline, found.ground.setbacks)
    for along in along_rides(farm, found.outline):
        yield PlacingWarning(clearing_words(along), clearing_remedy(along), care=True)


def _ground_cares(found: Place) -> Iterator[PlacingWarning]:
    fields = [field for field, _ in found.grounds]
    yield from steep_cares(found.ground.farm, found.ground.group_uid, found.outline, found.ground.slopes, fields)
    yield from steep_fence_cares(found.outline, found.ground.slopes, fields)
    for field, below in found.grounds:
        closed = found.ground.closed(field)
        if closed is not None:
            said = closed_words(field, closed, found.ground.day, found.ground.out_on)
            yield PlacingWarning(*said, reasons=CLOSED)
        yield from _against_purpose(wanted_on(found.ground.farm, field, found.ground.day), below)


def _against_purpose(purpose: Wanted, below: Below) -> Iterator[PlacingWarning]:
    wanted, most = purpose.rest_days, purpose.rooting
    rest = below.rest_least_days
    if rest is not None and 0 <= rest < wanted:
        rested = {"rest": Quantity(rest, "d"), "wanted": Quantity(wanted, "d")}
        yield PlacingWarning(
            Text("Some of it has rested {rest}; {wanted} are wanted.", rested),
            Text("Choose ground that has rested longer, or a later day."),
            care=True,
        )
    if below.rooting is not None and below.rooting > most:
        rooted = {"rooted": Quantity(round(below.rooting, 2), "1"), "most": Quantity(most, "1")}
        yield PlacingWarning(
            Text("{rooted} of it is rooted; at most {most} is wanted.", rooted),
            Text("Choose ground that is greener, or a later day."),
            care=True,
        )
