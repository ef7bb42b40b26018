"""Fences of two energizers never touch, and stand apart (W1, W2)."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.things import ground_m, metres, near, way_called
from pigmap.fence.tables import ENERGIZERS_SOURCE
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Energizer, Farm, PlaceKind, Way, WayKind
from pigmap.text import Text, Value

ROUNDING_M = 0.001
"""A distance that is kept but for so much is kept [m]: numbers in a computer err."""


def two_energizers(farm: Farm, one: LiveGround, other: LiveGround) -> Caution | None:
    """Return what is against two fences that are live at one time (W1); None where one energizer feeds both.

    Of a fence of which nothing tells what feeds it, nothing is said.
    """
    if one.energizer is None or other.energizer is None or one.energizer.uid == other.energizer.uid:
        return None
    apart = distances_of(farm).energizers_apart_m
    off = ground_m(farm, one.ground, other.ground)
    if off > apart - ROUNDING_M:
        return None
    values: dict[str, Value] = {
        "one": one.called,
        "other": other.called,
        "near": near(off),
        "fed": one.energizer.name,
        "by": other.energizer.name,
    }
    if off <= FLUSH_M:
        words = Text("{one} and {other} touch, and two energizers feed them: {fed} and {by}.", values)
    else:
        words = Text("{one} is {near} from {other}, and two energizers feed them: {fed} and {by}.", values)
    remedy = Text("Keep them {apart} apart, or feed both from one energizer.", {"apart": metres(apart)})
    return Caution("W1", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "never")


def beside_live_fences(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the permanent fences of another energizer that a fence touches (W2), or stands too near to (W1)."""
    apart = distances_of(farm).energizers_apart_m
    for way in farm.ways.values():
        unknown = fed_unknown(way)
        if not unknown and not fed_otherwise(farm, way, live.energizer):
            continue
        off = ground_m(farm, live.ground, way.line)
        if off > apart - ROUNDING_M:
            continue
        values: dict[str, Value] = {"paddock": live.called, "fence": way_called(way), "near": near(off)}
        remedy = Text("Keep it {apart} off, or feed both from one energizer.", {"apart": metres(apart)})
        if unknown:
            yield _beside_unknown(values, apart, touches=off <= FLUSH_M)
        elif off <= FLUSH_M:
            words = Text("{paddock} touches {fence}, which is live from another energizer.", values)
            yield Caution("W2", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "never")
        else:
            words = Text("{paddock} is {near} from {fence}, which is live from another energizer.", values)
            yield Caution("W1", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "never")


def _beside_unknown(values: dict[str, Value], apart: float, *, touches: bool) -> Caution:
    remedy = Text(
        "Keep it {apart} off. If one energizer feeds both, draw that fence again and say so.", {"apart": metres(apart)}
    )
    if touches:
        words = Text("{paddock} touches {fence}, which is live; nothing tells from which energizer.", values)
        return Caution("W2", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "never")
    words = Text("{paddock} is {near} from {fence}, which is live; nothing tells from which energizer.", values)
    return Caution("W1", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "never")


def fed_unknown(way: Way) -> bool:
    """Whether a permanent fence is live and nothing tells from what."""
    return way.kind is WayKind.PERMANENT_FENCE and way.electric and way.energizer_uid is None


def fed_otherwise(farm: Farm, way: Way, energizer: Energizer | None) -> bool:
    """Whether a permanent fence is live from another energizer than one, or may be where that is not known.

    Where nothing tells what feeds the nets, or where that stands, any other energizer of the farm may.
    """
    if way.kind is not WayKind.PERMANENT_FENCE or not way.electric or way.energizer_uid is None:
        return False
    if energizer is not None and (energizer.place_uid or energizer.group_uid):
        return energizer.place_uid != way.energizer_uid
    others = (place.uid for place in farm.places.values() if place.kind is PlaceKind.ENERGIZER)
    return any(uid != way.energizer_uid for uid in others)
