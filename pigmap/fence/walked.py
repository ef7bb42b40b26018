"""A paddock that stands as someone clicked its corners: its ground, the nets round it, and what is odd about it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date

import shapely

from pigmap.fence.fitted import CLICKED_M, FittedNet, Spare, laid_along, nets_that_fit
from pigmap.fence.standing import standing_on
from pigmap.fence.stock import spare_nets
from pigmap.geometry.ring_round import ring_round
from pigmap.geometry.runs import Run, open_runs
from pigmap.records import Farm, NetKind, WayKind
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text, Value

SEEMS_SHARE = 0.01
"""A run that seems longer than its nets by no more than this, and `CLICKED_M`, is not worth a word. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Walked:
    """What stands."""

    outline: shapely.Polygon
    nets: tuple[FittedNet, ...]
    """Nets round it, but for sides that other paddocks or permanent fences close."""
    open_m: float
    """What the nets close [m of ground]."""
    notes: tuple[Text, ...]
    """What is out of the ordinary, each with what to do; none of it keeps the paddock from being recorded."""

    @property
    def counts(self) -> tuple[tuple[NetKind, int], ...]:
        """How many nets of each kind, the longest first."""
        kinds = {net.kind.uid: net.kind for net in self.nets}
        counted = Counter(net.kind.uid for net in self.nets)
        return tuple((kinds[uid], counted[uid]) for uid in sorted(counted, key=lambda uid: -kinds[uid].length_mm))


def walked_fence(
    farm: Farm, corners: Sequence[tuple[float, float]], group_uid: str, day: date, *, today: date
) -> Walked:
    """Return the paddock that stands round some corners on a day.

    Parameters
    ----------
    farm
        Whose nets.
    corners
        Its corners as they were clicked [grid m].
    group_uid
        The group in it: nets round where it was before are free for it.
    day, today
        When, and the day up to which only what is recorded counts.

    Raises
    ------
    OutlineError
        If the corners enclose no ground.
    """
    ring = ring_round(corners)
    per_grid = farm.projection.ground_per_grid
    standing = [each for each in standing_on(farm, day, today=today) if each.group_uid != group_uid]
    fences = [way.line for way in farm.ways.values() if way.kind is WayKind.PERMANENT_FENCE]
    runs = open_runs(ring.outline, [*(each.ground for each in standing), *fences], per_grid)
    spare = [Spare(kind, max(0, spare_nets(farm, kind, day, standing) or 0)) for kind in farm.net_kinds.values()]
    spare.sort(key=lambda each: -each.kind.length_mm)
    nets, notes = _fitted(runs, spare, per_grid)
    if not spare:
        notes = (Text("No nets are entered yet. Say under Place how many you own, and they are counted here."),)
    if ring.put_in_order:
        notes = (Text("The corners were set crosswise. They are taken in order round the paddock."), *notes)
    return Walked(ring.outline, nets, sum(run.length_m for run in runs), notes)


def _fitted(
    runs: Iterable[Run], spare: Sequence[Spare], per_grid: float
) -> tuple[tuple[FittedNet, ...], tuple[Text, ...]]:
    """Return the nets of each run, the longest run first, and what is odd about them."""
    found: list[FittedNet] = []
    notes: list[Text] = []
    left = {each.kind.uid: each.nets for each in spare}
    for run in sorted(runs, key=lambda run: -run.length_mm):
        chosen = nets_that_fit(run.length_mm, [Spare(each.kind, left[each.kind.uid]) for each in spare])
        if chosen is None and spare:
            plenty = [Spare(each.kind, 1000) for each in spare]
            chosen = nets_that_fit(run.length_mm, plenty)
            notes.append(_too_few(run, left, spare))
        if chosen is None:
            continue
        for each in chosen:
            left[each.kind.uid] -= each.nets
        found += laid_along(run, chosen, per_grid)
        reach_m = sum(each.kind.length_m * each.nets for each in chosen)
        if run.length_m - reach_m > CLICKED_M + SEEMS_SHARE * run.length_m:
            notes.append(_stretched(run, chosen, reach_m))
    return tuple(found), tuple(notes)


def _too_few(run: Run, left: dict[str, int], spare: Sequence[Spare]) -> Text:
    reach_m = sum(each.kind.length_m * max(0, left[each.kind.uid]) for each in spare)
    values: dict[str, Value] = {"round": Quantity(run.length_m, "m", 0), "reach": Quantity(reach_m, "m", 0)}
    return Text(
        "It takes {round} of nets, and the spare ones reach {reach}. Kept as it stands. Look at the corners, or say "
        "under Place how many nets you own.",
        values,
    )


def _stretched(run: Run, nets: Sequence[Spare], reach_m: float) -> Text:
    values: dict[str, Value] = {
        "round": Quantity(run.length_m, "m", 0),
        "nets": nets_words([(each.kind, each.nets) for each in nets]),
        "reach": Quantity(reach_m, "m", 0),
    }
    return Text(
        "It seems {round} long; {nets} reach {reach}. Kept as it stands; put it right when you are there.", values
    )


def nets_words(nets: Iterable[tuple[NetKind, int]]) -> Text:
    """Return nets as a keeper counts them: 3 of 50 m, 2 of 25 m."""
    found = Text("no nets")
    for number, (kind, count) in enumerate(nets):
        own = Text(
            "{count} of {length}", {"length": Quantity(kind.length_m, "m")}, plural="{count} of {length}", count=count
        )
        found = own if not number else Text("{nets}, {more}", {"nets": found, "more": own})
    return found
