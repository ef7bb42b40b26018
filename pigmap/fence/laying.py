"""Which nets close runs along tracks, and where each of them stands: nets of other lengths fill in where some lack."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import shapely

from pigmap.errors import PlanError
from pigmap.fence.choice import Choice, choose_nets
from pigmap.fence.count import nets_along
from pigmap.fence.fitted import Spare
from pigmap.fence.told import ToldFence
from pigmap.geometry.runs import Run, Span
from pigmap.geometry.tracks import Tracks
from pigmap.records import NetKind

PATIENCE_S = 0.3
"""So long each step of a search for nets that fill in goes on [s]: books have many moves. Own choice."""
TrackRun = tuple[int, Span]
"""A track, and from where to where along it something is open [grid m]."""


class InPlace(NamedTuple):
    """One net along a track."""

    kind: NetKind
    track: int
    span: Span


class Laying:
    """Lays nets along tracks.

    Parameters
    ----------
    tracks
        All outlines and lines.
    ground_per_grid
        Ground metres in one grid metre.
    """

    def __init__(self, tracks: Tracks, ground_per_grid: float) -> None:
        self._tracks, self._per_grid = tracks, ground_per_grid
        self._known: dict[object, tuple[Choice, ...] | None] = {}

    def along(
        self, runs: Sequence[TrackRun], kind: NetKind, told: ToldFence | None, free: Mapping[str, Spare]
    ) -> Iterator[InPlace]:
        """Yield the nets that close some runs, from the begin of each; the last of a run ends with it.

        Parameters
        ----------
        runs, kind, told
            What is open, of which nets the fence is, and which nets were told for its sides, if any were.
        free
            Nets that are there for it, by the uid of their kind. Where those of the fence are too few, nets of all
            kinds fill in so that the least is left over. Kinds that are not named are there as many as it takes.
        """
        nets = [[kind] * nets_along(self._length_mm(run), kind) for _, run in runs]
        if told is not None:
            nets = self._as_told(told, runs)
        if len(free) > 1:  # of one kind alone none can fill in
            taken = Counter(each.uid for one in nets for each in one)
            if any(count > max(0, free[uid].nets) for uid, count in taken.items() if uid in free):
                nets = self._filled_in(kind, runs, free) or nets
        for run, one in zip(runs, nets, strict=True):
            yield from self._in_place(run, one)

    def _length_mm(self, run: Span) -> int:
        return round((run[1] - run[0]) * self._per_grid * 1000)

    def _as_told(self, told: ToldFence, runs: Sequence[TrackRun]) -> list[list[NetKind]]:
        lines = [
            Run(shapely.get_coordinates(self._tracks.line(track, *run)), self._length_mm(run)) for track, run in runs
        ]
        return [[*told.in_order(line, nets)] for line, nets in zip(lines, told.nets(lines), strict=True)]

    def _filled_in(
        self, kind: NetKind, runs: Sequence[TrackRun], free: Mapping[str, Spare]
    ) -> list[list[NetKind]] | None:
        """Return nets of all kinds that close runs with the least left over; None where there are not enough."""
        some = sorted((each for each in free.values() if each.nets > 0), key=lambda each: each.kind.uid != kind.uid)
        lengths = tuple(self._length_mm(run) for _, run in runs)
        asked = lengths, tuple((each.kind.uid, each.nets) for each in some)
        if asked not in self._known:
            try:
                self._known[asked] = choose_nets(lengths, some, PATIENCE_S)
            except PlanError:  # nothing was found in time
                self._known[asked] = None
        chosen = self._known[asked]
        if chosen is None:
            return None
        return [[each.kind for each in choice.nets for _ in range(each.nets)] for choice in chosen]

    def _in_place(self, run: TrackRun, nets: Sequence[NetKind]) -> Iterator[InPlace]:
        """Yield where nets of a run stand: what the last is longer than the run is folded back."""
        track, (at, end) = run
        for number, kind in enumerate(nets, start=1):
            joint = end if number == len(nets) else at + kind.length_m / self._per_grid
            yield InPlace(kind, track, (at, joint))
            at = joint
