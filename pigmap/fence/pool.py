"""The pool of nets as moves draw on it: which pieces of fence stand, which ground needs each, and who takes it up.

A move sets its open sides first and takes up afterwards, and a net that closes other ground in part stays up as a
whole: it cannot be swung round a corner while pigs are behind it. So whole nets in numbers, not lengths, tell what a
farm needs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.fence.fitted import Spare
from pigmap.fence.laying import InPlace, Laying
from pigmap.fence.stand import NEVER, Stand
from pigmap.fence.told import ToldFence
from pigmap.geometry.runs import Span, merged_spans, rest_of_ring
from pigmap.geometry.sides import closes
from pigmap.geometry.tracks import Stretch, Tracks
from pigmap.records import NetKind

ROUND_CORNER_M = 0.3
"""A net that reaches no farther than this round a corner ends at it: it gives that much between its posts [grid m].
Assumed."""
NOTHING_M = 1e-3
"""What closes no more than this parts no run: numbers in a computer err [grid m]."""


class Ground(NamedTuple):
    """The ground of one stay, as the pool sees it."""

    stay_uid: str
    group_uid: str
    paddock_uid: str
    outline: shapely.Polygon
    tracks: tuple[int, ...]
    bounds: tuple[float, float, float, float]
    """West, south, east, north of its outline [grid m]."""
    around_m: float
    """Length of all its sides [grid m]."""
    kind: NetKind | None
    """Nets it is made of; None where that is not known: then none are set for it."""
    told: ToldFence | None = None
    """Its nets side by side, where they are of more than one length."""
    fences: frozenset[int] = frozenset()
    """Tracks of permanent fences that may close sides of it without nets."""


class Piece(Stand):
    """One net where it stands, from when it was set until it is taken up."""

    __slots__ = ("begin_m", "end_m", "kind", "needed_by", "set_for", "set_on", "somewhere", "step", "taken_on",
                 "track", "until_step", "use_uids")  # fmt: skip

    def __init__(
        self, kind: NetKind, track: int, span: Span, set_on: date, step: int, use_uids: tuple[str, ...] = ()
    ) -> None:
        self.kind_uid, self.net_uid, self.holders = kind.uid, None, ()
        self.kind = kind
        self.track = track
        self.begin_m, self.end_m = span
        self.set_for: tuple[Ground, ...] = ()
        """The grounds that need it, or did, in order."""
        self.needed_by = 0
        """How many of them need it now."""
        self.set_on, self.taken_on = set_on, date.max
        self.step, self.until_step = step, NEVER
        self.somewhere = False
        """Whether only that it stands round its ground is known, not where."""
        self.use_uids = use_uids
        """The records that say it stands; none where it follows from the plan."""

    def stands(self, day: date) -> bool:
        """Whether it stands in the evening of a day."""
        return self.set_on <= day < self.taken_on


class Pool:
    """The fences that stand, changed by one move after the other.

    Parameters
    ----------
    tracks
        All outlines and lines that the pool will meet.
    ground_per_grid
        Ground metres in one grid metre.
    """

    def __init__(self, tracks: Tracks, ground_per_grid: float) -> None:
        self.tracks = tracks
        self.counts: dict[str, int] = {}
        """How many nets of each kind stand, by the kind's uid."""
        self.pieces: list[Piece] = []
        """Every piece that stood at any time, in the order in which it was set."""
        self.step = 0
        """Rises with each thing that is done."""
        self._laying = Laying(tracks, ground_per_grid)
        self._up: Counter[int] = Counter()
        self._on: dict[int, list[Piece]] = {}
        self._needed: dict[str, list[Piece]] = {}
        self._known: dict[tuple[int, tuple[Span, ...]], list[Span]] = {}
        self._stood: dict[str, tuple[Ground, int, int]] = {}
        """Each ground, and from which step to which it is closed, by the uid of the stay."""
        self._common: dict[tuple[int, int], float] = {}
        self._recorded: dict[int, tuple[Piece, shapely.LineString]] = {}

    def put(self, piece: Piece, ground: Ground | None = None, *, somewhere: bool = False) -> None:
        """Have a piece stand, for some ground if any needs it; of one that stands somewhere no other makes use."""
        self.pieces.append(piece)
        self.counts[piece.kind_uid] = self.counts.get(piece.kind_uid, 0) + 1
        piece.somewhere = somewhere
        if not somewhere:
            self._on.setdefault(piece.track, []).append(piece)
            if piece.use_uids:
                self._recorded[id(piece)] = piece, self.line(piece)
        if ground is not None:
            self.need(piece, ground)

    def stand(
        self, ground: Ground, day: date, *, most: int | None = None, sound: Sequence[Spare] = ()
    ) -> tuple[list[Piece], list[Piece]]:
        """Close some ground and return the pieces set for it, and those that stood and close it too.

        Parameters
        ----------
        ground
            What is to be closed.
        day
            When.
        most
            The most nets that may be set; as many as it takes if not given.
        sound
            All nets in good order that the farm has then, kind by kind. Where too few of those the ground is made of
            do not stand yet, nets of other lengths fill in, as far as there are any.
        """
        self.step += 1
        self._stood[ground.stay_uid] = ground, self.step, NEVER
        left = self._claimed(ground)
        wanted = [] if ground.kind is None else [*self._wanted(ground, ground.kind, sound)]
        for piece in left:
            self.need(piece, ground)
        for track in ground.tracks:
            self._up[track] += 1
        laid = [Piece(kind, track, span, day, self.step) for kind, track, span in wanted][:most]
        for piece in laid:
            self.put(piece, ground)
        return laid, left

    def leave(self, ground: Ground, day: date) -> list[Piece]:
        """Take up what no other ground needs, and return it."""
        self.step += 1
        self._stood[ground.stay_uid] = ground, self._stood[ground.stay_uid][1], self.step
        for track in ground.tracks:
            self._up[track] -= 1
        taken = []
        for piece in self._needed.pop(ground.stay_uid, ()):
            piece.needed_by -= 1
            if not piece.needed_by:
                self.take_up(piece, day)
                taken.append(piece)
        return taken

    def take_up(self, piece: Piece, day: date) -> None:
        """Take up a piece."""
        piece.taken_on, piece.until_step = day, self.step
        self.counts[piece.kind_uid] -= 1
        if not piece.somewhere:
            self._on[piece.track].remove(piece)
        self._recorded.pop(id(piece), None)

    def at(self, step: int) -> Pool:
        """Return the fences as they stood after some step, from where moves can go on another way."""
        found = Pool(self.tracks, 1.0)
        found._laying, found._known, found._common, found.step = self._laying, self._known, self._common, step
        for uid, (ground, begin, end) in self._stood.items():
            if begin <= step < end:
                found._stood[uid] = ground, begin, NEVER
                found._up.update(ground.tracks)
        for piece in self.pieces:
            if piece.step <= step < piece.until_step:
                again = Piece(piece.kind, piece.track, (piece.begin_m, piece.end_m), piece.set_on, piece.step,
                              piece.use_uids)  # fmt: skip
                found.put(again, somewhere=piece.somewhere)
                for ground in piece.set_for:
                    if ground.stay_uid in found._stood:
                        found.need(again, ground)
        return found

    def nobodys(self) -> list[Piece]:
        """Return the pieces that stand though no ground needs them."""
        return [piece for piece, _ in self._recorded.values() if not piece.needed_by]

    def needed(self, ground: Ground) -> list[Piece]:
        """Return the pieces that some ground needs."""
        return [*self._needed.get(ground.stay_uid, ())]

    def is_up(self, ground: Ground) -> bool:
        """Whether some ground is closed now."""
        _, begin, end = self._stood.get(ground.stay_uid, (ground, NEVER, NEVER))
        return begin <= self.step < end

    def alone(self, ground: Ground) -> list[Piece]:
        """Return the pieces that only this ground needs."""
        return [piece for piece in self.needed(ground) if piece.needed_by == 1]

    def in_common(self, one: Ground, other: Ground) -> float:
        """Return how long the sides are that two grounds have in common [grid m]."""
        pair = one.tracks[0], other.tracks[0]
        if pair not in self._common:
            beside = [self.tracks.beside[track].get(there, ()) for track in one.tracks for there in other.tracks]
            self._common[pair] = sum(each.end_m - each.begin_m for stretches in beside for each in stretches)
        return self._common[pair]

    def need(self, piece: Piece, ground: Ground) -> None:
        """Have a piece stay up as long as some ground needs it."""
        if ground.stay_uid not in [each.stay_uid for each in piece.set_for]:
            piece.needed_by += 1
            piece.set_for += (ground,)
            self._needed.setdefault(ground.stay_uid, []).append(piece)

    def _claimed(self, ground: Ground) -> list[Piece]:
        """Return the pieces that stand and close some ground, as a whole or in part."""
        found = {id(piece): piece for track in ground.tracks for piece in self._along_ring(track)}
        for piece, line in self._recorded.values():
            # What people set by eye may stand beside the ground rather than on its edge.
            if id(piece) not in found and closes(line, ground.outline):
                found[id(piece)] = piece
        return [*found.values()]

    def _along_ring(self, track: int) -> Iterator[Piece]:
        yield from self._on.get(track, ())
        for other, stretches in self.tracks.beside[track].items():
            there = self._on.get(other)
            if there:
                length = self.tracks.length_m[other]
                yield from (piece for piece in there if _reaches(piece, stretches, length))

    def _closed(self, track: int, fences: frozenset[int]) -> Iterator[Span]:
        """Yield what of a ring something closes: outlines and fences that stand, and nets on other lines."""
        length = self.tracks.length_m[track]
        if self._up.get(track):
            yield 0.0, length
            return
        for piece in self._on.get(track, ()):
            yield piece.begin_m, min(piece.end_m, length)
            if piece.end_m > length:
                yield 0.0, piece.end_m - length
        for other, stretches in self.tracks.beside[track].items():
            if self._up.get(other) or other in fences:
                for each in stretches:
                    yield each[:2]
            elif self._on.get(other):
                yield from self._by_pieces(other, stretches)

    def _by_pieces(self, other: int, stretches: Sequence[Stretch]) -> Iterator[Span]:
        length = self.tracks.length_m[other]
        for piece in self._on.get(other, ()):
            spans = [(piece.begin_m, piece.end_m)]
            if piece.end_m > length:
                spans.append((piece.begin_m - length, piece.end_m - length))
            for each in stretches:
                yield from (found for begin, end in spans if (found := each.along(begin, end)) is not None)

    def _wanted(self, ground: Ground, kind: NetKind, sound: Sequence[Spare]) -> Iterator[InPlace]:
        """Yield the nets that close what nothing closes of some ground."""
        runs = [(track, run) for track in ground.tracks for run in self._open(track, ground.fences)]
        free = {each.kind.uid: Spare(each.kind, each.nets - self.counts.get(each.kind.uid, 0)) for each in sound}
        return self._laying.along(runs, kind, ground.told, free)

    def _open(self, track: int, fences: frozenset[int]) -> list[Span]:
        """Return what nothing closes of a ring, run by run."""
        length = self.tracks.length_m[track]
        closed = tuple(sorted(span for span in self._closed(track, fences) if span[1] - span[0] > NOTHING_M))
        key = track, closed
        if key not in self._known:
            self._known[key] = rest_of_ring(merged_spans([*closed], length), length)
        return self._known[key]

    def line(self, piece: Piece) -> shapely.LineString:
        """Return the line on which a piece stands [grid m]."""
        return self.tracks.line(piece.track, piece.begin_m, piece.end_m)


def _reaches(piece: Piece, stretches: Sequence[Stretch], length_m: float) -> bool:
    """Whether a piece lies on some stretches along its own track, which is so long, by more than round a corner."""
    for _, _, low, high in stretches:
        if high < low:
            low, high = high, low
        begin, end = piece.begin_m, piece.end_m
        if (end if end < high else high) - (begin if begin > low else low) > ROUND_CORNER_M:
            return True
        if end > length_m:
            begin, end = begin - length_m, end - length_m
            if (end if end < high else high) - (begin if begin > low else low) > ROUND_CORNER_M:
                return True
    return False
