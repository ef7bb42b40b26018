"""Nets in a row or in a ring as leaky lines, exact for each of them: what a voltage at the feed leaves everywhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import atanh, cosh, isinf, sinh, sqrt, tanh
from typing import NamedTuple

from pigmap.fence.electric.tables import JOINT_OHM

MOST_X = 300.0
"""So many lengths of decay in one net are as good as endless; more would leave the range of numbers."""
LEAST_OHM = 1e-12


class Span(NamedTuple):
    """One net, or a part of one."""

    length_m: float
    ohm_per_m: float
    leak_s_per_m: float
    """Conductance to the ground [S/m]."""
    joint_ohm: float = JOINT_OHM
    """To the span after it; `math.inf` where the clip was forgotten. In a ring that of the last closes it."""

    @property
    def x(self) -> float:
        """Length in lengths of decay, ``sqrt(r g) l``."""
        return min(sqrt(self.ohm_per_m * self.leak_s_per_m) * self.length_m, MOST_X)

    @property
    def through_ohm(self) -> float:
        """Resistance between its ends of the pi that is the exact likeness of a leaky line [Ω]."""
        return self.ohm_per_m * self.length_m * (sinh(self.x) / self.x if self.x > 0 else 1.0)

    @property
    def end_s(self) -> float:
        """Conductance to the ground at each end of that pi [S]."""
        half = self.x / 2
        return self.leak_s_per_m * self.length_m / 2 * (tanh(half) / half if half > 0 else 1.0)


class Spot(NamedTuple):
    """A place where something leads to the ground: soil on the bottom strand, a wet branch, an animal."""

    at_m: float
    """How far along the fence from its feed [m]."""
    ohm: float


class Line(NamedTuple):
    """Spans in order from the feed, in a row with an open end or in a ring back to it."""

    spans: tuple[Span, ...]
    ring: bool = False
    spots: tuple[Spot, ...] = ()


class Carried(NamedTuple):
    """What a line makes of a voltage at its feed."""

    load_s: float
    """Conductance of all of it [S]."""
    far_share: float
    """Least voltage on what is connected, as a share of that at the feed."""
    far_m: float
    """Where that is along the fence from its feed [m]."""
    dead_m: float
    """Length that no pulse reaches, beyond forgotten clips [m]."""


class _Joint(NamedTuple):
    """A point of the line and the way to it from the one before."""

    ohm: float
    leak_s: float
    at_m: float
    span: Span | None
    """What lies on that way; None for a clip."""


def carried(line: Line) -> Carried:
    """Return what a line carries, fed at the beginning of its first span.

    Every step adds and divides positive numbers alone, so that nothing is lost on long or very leaky fences.
    """
    spans = _cut(line)
    length = sum(span.length_m for span in spans)
    if not spans:
        return Carried(0.0, 1.0, 0.0, 0.0)
    ends = [at for at, span in enumerate(spans) if isinf(span.joint_ohm)]
    at_feed = sum(1 / max(spot.ohm, LEAST_OHM) for spot in line.spots if spot.at_m <= 0)
    leaks = _leaks(line, spans)
    if line.ring and not ends:
        return _round(_walk(spans, leaks, closed=True), at_feed)
    live = spans[: ends[0] + 1] if ends else spans
    arms = [_arm(_walk(live, leaks), at_feed)]
    if line.ring and ends[-1] < len(spans) - 1:
        back = spans[ends[-1] + 1 :]
        arms.append(_arm(_walk_back(back, leaks[ends[-1] + 1 :], length), 0.0))
        live = [*live, *back]
    far = min(arms, key=lambda arm: arm.far_share)
    dead = length - sum(span.length_m for span in live)
    return Carried(sum(arm.load_s for arm in arms), far.far_share, far.far_m, max(dead, 0.0))


def _cut(line: Line) -> list[Span]:
    """Return the spans, cut in two wherever something leads to the ground between their ends."""
    found: list[Span] = []
    begin = 0.0
    for span in line.spans:
        end = begin + span.length_m
        cuts = sorted({spot.at_m for spot in line.spots if begin < spot.at_m < end})
        parts = [after - before for before, after in pairwise([begin, *cuts, end])]
        found += [span._replace(length_m=part, joint_ohm=0.0) for part in parts[:-1]]
        found.append(span._replace(length_m=parts[-1]))
        begin = end
    return found


def _leaks(line: Line, spans: Sequence[Span]) -> list[float]:
    """Return what leads to the ground at the end of each span besides the spans themselves [S]."""
    found = [0.0] * len(spans)
    ends: list[float] = []
    for span in spans:
        ends.append((ends[-1] if ends else 0.0) + span.length_m)
    for spot in line.spots:
        if spot.at_m > 0:
            at = min(range(len(ends)), key=lambda at: abs(ends[at] - spot.at_m))
            found[at] += 1 / max(spot.ohm, LEAST_OHM)
    return found


def _walk(spans: Iterable[Span], leaks: Iterable[float], *, closed: bool = False) -> list[_Joint]:
    """Return the points of a line in order, the feed left out; the last is the feed again where it is closed."""
    found: list[_Joint] = []
    at, joint, begin_s = 0.0, 0.0, 0.0
    for number, (span, leak) in enumerate(zip(spans, leaks, strict=False)):
        if number:
            found.append(_Joint(joint, span.end_s, at, None))
        else:
            begin_s = span.end_s
        at += span.length_m
        found.append(_Joint(span.through_ohm, span.end_s + leak, at, span))
        joint = span.joint_ohm
    if closed:
        found.append(_Joint(joint, 0.0, at, None))
    return [_Joint(0.0, begin_s, 0.0, None), *found]


def _walk_back(spans: Sequence[Span], leaks: Sequence[float], length_m: float) -> list[_Joint]:
    """Return the points of what hangs on the far end of a ring, from the feed backwards."""
    found: list[_Joint] = []
    at = length_m
    for span, leak in zip(reversed(spans), reversed(leaks), strict=True):
        found.append(_Joint(span.joint_ohm, span.end_s + leak, at, None))
        at -= span.length_m
        found.append(_Joint(span.through_ohm, span.end_s, at, span))
    return found


def _arm(joints: Sequence[_Joint], at_feed: float) -> Carried:
    """Return what an arm with an open end carries: looked into from its end, where its voltage is least."""
    load, share = 0.0, 1.0
    for joint in reversed(joints):
        load += joint.leak_s
        share /= 1 + joint.ohm * load
        load /= 1 + joint.ohm * load
    return Carried(load + at_feed, share, joints[-1].at_m, 0.0)


def _round(joints: Sequence[_Joint], at_feed: float) -> Carried:
    """Return what a ring carries; its points are taken out one after another, each with its star of three."""
    to_feed, ground, load = 1 / max(joints[1].ohm, LEAST_OHM), 0.0, joints[0].leak_s + at_feed
    kept: list[tuple[float, float]] = []
    for before, after in pairwise(joints[1:]):
        ground += before.leak_s
        ohm = max(after.ohm, LEAST_OHM)
        whole = 1 + ohm * (to_feed + ground)
        kept.append((ohm * to_feed / whole, 1 / whole))
        load += to_feed * ohm * ground / whole
        to_feed, ground = to_feed / whole, ground / whole
    shares = [1.0]
    for of_feed, of_next in reversed(kept):
        shares.append(of_feed + of_next * shares[-1])
    shares.append(1.0)
    shares.reverse()
    ways = zip(joints[1:], pairwise(shares), strict=True)
    far_share, far_m = min(_least(joint, first, last) for joint, (first, last) in ways)
    return Carried(load + ground, far_share, far_m, 0.0)


def _least(joint: _Joint, first: float, last: float) -> tuple[float, float]:
    """Return the least share between two points of a ring, and where it is [m]: on the way, or at one of them."""
    ends = min((last, joint.at_m), (first, joint.at_m - (joint.span.length_m if joint.span else 0.0)))
    span = joint.span
    if span is None or span.x <= 0 or min(first, last) <= 0 or max(first, last) >= min(first, last) * cosh(span.x):
        return ends
    squared = 4 * first * last * sinh(span.x / 2) ** 2 - (first - last) ** 2
    inside = atanh(min((first * cosh(span.x) - last) / (first * sinh(span.x)), 1 - 1e-15)) / span.x
    return sqrt(max(squared, 0.0)) / sinh(span.x), joint.at_m - span.length_m * (1 - inside)
