"""The pool as it stands on a day: nets where they are recorded to stand, the rest as outlines ask for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.fence.electric.feeding import feeds
from pigmap.fence.extents import is_one_net
from pigmap.fence.leaning import leaning_on
from pigmap.fence.pool import Ground, Piece, Pool
from pigmap.fence.told import ToldFence, told_sides
from pigmap.geometry.sides import FLUSH_M
from pigmap.geometry.tracks import Tracks
from pigmap.records import Farm, Lasting, NetKind, NetUse, Paddock, Stay, StayState, Way, WayKind


class Met(NamedTuple):
    """All that a pool will meet: the ground of each stay, and the nets that are recorded to stand."""

    tracks: Tracks
    grounds: Mapping[str, Ground]
    """By the uid of the stay."""
    lines: tuple[tuple[tuple[NetUse, ...], int], ...]
    """Nets that stand, each with all that is written down of it, and its track."""


def met_by(farm: Farm, stays: Sequence[Lasting], uses: Sequence[NetUse]) -> Met:
    """Return what a pool of some stays and recorded nets meets; stays whose paddock is gone are left out."""
    known = [(each, farm.paddocks[each.stay.paddock_uid]) for each in stays if each.stay.paddock_uid in farm.paddocks]
    own = [row.outline if each.stay.state is StayState.PLANNED else each.stay.ground for each, row in known]
    numbers: dict[bytes, int] = {}
    places = [numbers.setdefault(each, len(numbers)) for each in shapely.to_wkb(own)] if own else []
    first = dict(zip(reversed(places), reversed(own), strict=True))
    outlines = [first[at] for at in range(len(numbers))]
    there = _each_once([use for use in uses if is_one_net(farm, use)])
    ways = [way for way in farm.ways.values() if way.kind is WayKind.PERMANENT_FENCE]
    tracks = Tracks([*outlines, *(each[0].run for each in there), *(way.line for way in ways)])
    of_ways = tracks.of_shape[len(outlines) + len(there) :]
    fences = {track: way for way, of_way in zip(ways, of_ways, strict=True) for track in of_way}
    bounds = shapely.bounds(outlines).tolist() if outlines else []
    around = [sum(tracks.length_m[track] for track in tracks.of_shape[at]) for at in range(len(outlines))]
    grounds = {}
    for (each, paddock), at in zip(known, places, strict=True):
        stay, kind = each.stay, _kind(farm, paddock, uses)
        grounds[stay.uid] = Ground(
            stay.uid,
            stay.group_uid,
            paddock.uid,
            outlines[at],
            tracks.of_shape[at],
            tuple(bounds[at]),
            around[at],
            kind,
            _told(farm, paddock, outlines[at]) if kind is not None else None,
            _closing(farm, stay, tracks, tracks.of_shape[at], fences),
        )
    lines = tuple((uses, tracks.of_shape[len(outlines) + at][0]) for at, uses in enumerate(there))
    return Met(tracks, grounds, lines)


def _closing(farm: Farm, stay: Stay, tracks: Tracks, rings: Sequence[int], fences: Mapping[int, Way]) -> frozenset[int]:
    """Return the permanent fences along some ground, by their tracks, that may take the place of its nets."""
    beside = {track for ring in rings for track in tracks.beside[ring] if track in fences}
    if not beside:
        return frozenset()
    energizer = feeds(farm, stay.paddock_uid, stay.group_uid)
    return frozenset(track for track in beside if leaning_on(farm, fences[track], energizer).closes)


def pool_on(farm: Farm, met: Met, standing: Sequence[Lasting], uses: Sequence[NetUse]) -> Pool:
    """Return the pool as it stands.

    Parameters
    ----------
    farm
        Whose nets.
    met
        What the pool meets.
    standing
        The stays whose fences stand: that which stands longest comes first.
    uses
        The nets that are recorded to stand. Round a paddock of which none is, nets follow from its sides.
    """
    pool = Pool(met.tracks, farm.projection.ground_per_grid)
    of_paddock: dict[str, list[Piece]] = {}
    for own, track in met.lines:
        kind = farm.net_kinds[own[0].net_kind_uid]
        span = (0.0, met.tracks.length_m[track])
        piece = Piece(kind, track, span, min(use.set_on for use in own), 0, tuple(use.uid for use in own))
        pool.put(piece)
        for uid in {use.paddock_uid for use in own}:
            of_paddock.setdefault(uid, []).append(piece)
    written = {use.paddock_uid for use in uses}
    loose = [use for use in uses if use.net_kind_uid in farm.net_kinds and not is_one_net(farm, use)]
    for each in standing:
        ground = met.grounds[each.stay.uid]
        for piece in of_paddock.get(ground.paddock_uid, ()):
            pool.need(piece, ground)
        if ground.paddock_uid in written:
            own_loose = [use for use in loose if use.paddock_uid == ground.paddock_uid]
            loose = [use for use in loose if use.paddock_uid != ground.paddock_uid]
            _loose(farm, pool, ground, own_loose, each.first)
        else:
            pool.stand(ground, each.first)
    return pool


def _loose(farm: Farm, pool: Pool, ground: Ground, uses: Sequence[NetUse], since: date) -> None:
    """Have nets stand round some ground of which only the number is known, along what nothing else closes."""
    kind = farm.net_kinds[uses[0].net_kind_uid] if uses else None
    since = min((use.set_on for use in uses), default=since)
    laid, _ = pool.stand(ground._replace(kind=kind), since, most=len(uses))
    for use, piece in zip(uses, laid, strict=False):
        piece.use_uids = (use.uid,)
    for use in uses[len(laid) :]:
        own = farm.net_kinds[use.net_kind_uid]
        reach = min(own.length_m / farm.projection.ground_per_grid, pool.tracks.length_m[ground.tracks[0]])
        pool.put(Piece(own, ground.tracks[0], (0.0, reach), use.set_on, 0, (use.uid,)), ground, somewhere=True)


def _each_once(uses: Sequence[NetUse]) -> list[tuple[NetUse, ...]]:
    """Return nets with all that is written down of each: one on a line that two paddocks share stands once."""
    found: list[list[NetUse]] = []
    bounds: list[tuple[float, float, float, float]] = []
    for use in uses:
        own = use.run.bounds
        same = next((at for at, other in enumerate(bounds) if _near(own, other) and _same(use, found[at][0])), None)
        if same is None:
            found.append([use])
            bounds.append(own)
        else:
            found[same].append(use)
    return [tuple(each) for each in found]


def _near(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(abs(here - there) <= FLUSH_M for here, there in zip(one, other, strict=True))


def _same(one: NetUse, other: NetUse) -> bool:
    if one.net_kind_uid != other.net_kind_uid or (one.net_uid and other.net_uid and one.net_uid != other.net_uid):
        return False
    return bool(shapely.hausdorff_distance(one.run, other.run) <= FLUSH_M)


def _told(farm: Farm, paddock: Paddock, outline: shapely.Polygon) -> ToldFence | None:
    told = told_sides(farm, paddock)
    return ToldFence.of(outline, told, farm.projection.ground_per_grid) if told else None


def _kind(farm: Farm, paddock: Paddock, uses: Sequence[NetUse]) -> NetKind | None:
    """Return the nets of a paddock; of walked corners those that are written down, else those of a farm of one kind."""
    uid = paddock.net_kind_uid
    if uid is None:
        uid = next((use.net_kind_uid for use in uses if use.paddock_uid == paddock.uid), None)
    if uid is None and len(farm.net_kinds) == 1:
        uid = next(iter(farm.net_kinds))
    return farm.net_kinds.get(uid or "")
