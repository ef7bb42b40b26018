"""A paddock that stands as someone clicked its corners: its ground, the nets round it, and what is odd about it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import shapely

from pigmap.fence.fitted import CLICKED_M, FittedNet, Spare, laid_along, laid_as_told, nets_that_fit
from pigmap.fence.leaning import lines_beside
from pigmap.fence.of_day import nets_while_placing
from pigmap.fence.standing import StandingPaddock, standing_on
from pigmap.geometry.ring_round import ring_round
from pigmap.geometry.runs import Run, open_runs
from pigmap.records import Farm, NetKind, Paddock
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text, Value

SEEMS_SHARE = 0.01
"""A run that seems longer than its nets by no more than this, and `CLICKED_M`, is not worth a word. Own choice."""
OVER_M2 = 4.0
"""So much of another standing paddock under this one is not worth a word: corners are clicked by eye. Own choice."""


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
    over: tuple[Text, ...] = ()
    """Which other standing paddocks lie under it."""

    @property
    def counts(self) -> tuple[tuple[NetKind, int], ...]:
        """How many nets of each kind, the longest first."""
        kinds = {net.kind.uid: net.kind for net in self.nets}
        counted = Counter(net.kind.uid for net in self.nets)
        return tuple((kinds[uid], counted[uid]) for uid in sorted(counted, key=lambda uid: -kinds[uid].length_mm))


def walked_fence(
    farm: Farm,
    corners: Sequence[tuple[float, float]],
    group_uid: str,
    day: date,
    *,
    today: date,
    told: Mapping[str, int] | None = None,
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
    told
        How many nets of each kind, by its uid, someone counted round it; they are guessed where nobody did.

    Raises
    ------
    OutlineError
        If the corners enclose no ground.
    """
    ring = ring_round(corners)
    per_grid = farm.projection.ground_per_grid
    standing = [each for each in standing_on(farm, day, today=today) if each.group_uid != group_uid]
    runs = _runs(farm, ring.outline, standing, "", group_uid)
    nets_there = nets_while_placing(farm, day, group_uid, today)
    nets_there.leave(group_uid)
    spare = [Spare(kind, max(0, nets_there.free(kind) or 0)) for kind in farm.net_kinds.values()]
    spare.sort(key=lambda each: -each.kind.length_mm)
    if told is None:
        nets, notes = _fitted(runs, spare, per_grid)
    else:
        nets, notes = _told(runs, [Spare(each.kind, told.get(each.kind.uid, 0)) for each in spare], per_grid)
    if not spare:
        notes = (Text("No nets are entered yet. Say under Place how many you own, and they are counted here."),)
    if ring.put_in_order:
        notes = (Text("The corners were set crosswise. They are taken in order round the paddock."), *notes)
    return Walked(
        ring.outline, nets, sum(run.length_m for run in runs), notes, _over_others(farm, ring.outline, standing)
    )


def nets_round_it(farm: Farm, paddock: Paddock, day: date, told: Mapping[str, int]) -> tuple[FittedNet, ...]:
    """Return where nets that someone counted stand round a paddock, but for sides that other paddocks close.

    Parameters
    ----------
    farm, paddock
        Whose nets.
    day
        When.
    told
        How many of each kind, by its uid.
    """
    standing = standing_on(farm, day, today=day)
    others = [each for each in standing if each.paddock_uid != paddock.uid]
    own = next((each.group_uid for each in standing if each.paddock_uid == paddock.uid), "")
    runs = _runs(farm, paddock.outline, others, paddock.uid, own)
    runs = runs or _runs(farm, paddock.outline, (), paddock.uid, own)
    nets = [Spare(kind, told.get(uid, 0)) for uid, kind in farm.net_kinds.items()]
    nets.sort(key=lambda each: -each.kind.length_mm)
    return _told(runs, nets, farm.projection.ground_per_grid)[0]


def _runs(
    farm: Farm, outline: shapely.Polygon, standing: Sequence[StandingPaddock], paddock_uid: str, group_uid: str
) -> tuple[Run, ...]:
    fences = lines_beside(farm, outline, paddock_uid, group_uid)
    return open_runs(outline, [*(each.ground for each in standing), *fences], farm.projection.ground_per_grid)


def _over_others(farm: Farm, outline: shapely.Polygon, standing: Iterable[StandingPaddock]) -> tuple[Text, ...]:
    """Return what to say of other standing paddocks that lie under this one."""
    found = []
    for each in standing:
        area = outline.intersection(each.ground).area * farm.projection.ground_per_grid**2
        if area >= OVER_M2:
            values: dict[str, Value] = {"area": Quantity(area, "m²"), "paddock": each.name}
            words = "It lies {area} over {paddock}, which stands too. Click the corners that both have on its corners."
            found.append(Text(words, values))
    return tuple(found)


def _told(
    runs: Iterable[Run], nets: Sequence[Spare], per_grid: float
) -> tuple[tuple[FittedNet, ...], tuple[Text, ...]]:
    """Return the nets that someone counted along the runs: the last run takes all that the others leave."""
    found: list[FittedNet] = []
    left = {each.kind.uid: each.nets for each in nets}
    ordered = sorted(runs, key=lambda run: -run.length_mm)
    for number, run in enumerate(ordered):
        rest = [Spare(each.kind, left[each.kind.uid]) for each in nets if left[each.kind.uid]]
        chosen = nets_that_fit(run, rest, per_grid) if number < len(ordered) - 1 else rest
        for each in chosen or ():
            left[each.kind.uid] -= each.nets
        found += laid_as_told(run, chosen, per_grid) if chosen else ()
    round_m = sum(run.length_m for run in ordered)
    reach_m = sum(each.kind.length_m * each.nets for each in nets)
    counted = [each for each in nets if each.nets]
    short = round_m - reach_m > CLICKED_M + SEEMS_SHARE * round_m
    return tuple(found), (_stretched(round_m, counted, reach_m),) if short and counted else ()


def _fitted(
    runs: Iterable[Run], spare: Sequence[Spare], per_grid: float
) -> tuple[tuple[FittedNet, ...], tuple[Text, ...]]:
    """Return the nets of each run, the longest run first, and what is odd about them."""
    found: list[FittedNet] = []
    notes: list[Text] = []
    left = {each.kind.uid: each.nets for each in spare}
    for run in sorted(runs, key=lambda run: -run.length_mm):
        chosen = nets_that_fit(run, [Spare(each.kind, left[each.kind.uid]) for each in spare], per_grid)
        if chosen is None and spare:
            plenty = [Spare(each.kind, 1000) for each in spare]
            chosen = nets_that_fit(run, plenty, per_grid)
            notes.append(_too_few(run, left, spare))
        if chosen is None:
            continue
        for each in chosen:
            left[each.kind.uid] -= each.nets
        found += laid_along(run, chosen, per_grid)
        reach_m = sum(each.kind.length_m * each.nets for each in chosen)
        if run.length_m - reach_m > CLICKED_M + SEEMS_SHARE * run.length_m:
            notes.append(_stretched(run.length_m, chosen, reach_m))
    return tuple(found), tuple(notes)


def _too_few(run: Run, left: dict[str, int], spare: Sequence[Spare]) -> Text:
    reach_m = sum(each.kind.length_m * max(0, left[each.kind.uid]) for each in spare)
    values: dict[str, Value] = {"round": Quantity(run.length_m, "m", 0), "reach": Quantity(reach_m, "m", 0)}
    return Text(
        "It takes {round} of nets, and the spare ones reach {reach}. Kept as it stands. Look at the corners, or say "
        "under Place how many nets you own.",
        values,
    )


def _stretched(round_m: float, nets: Sequence[Spare], reach_m: float) -> Text:
    values: dict[str, Value] = {
        "round": Quantity(round_m, "m", 0),
        "nets": nets_words([(each.kind, each.nets) for each in nets]),
        "reach": Quantity(reach_m, "m", 0),
    }
    return Text(
        "It seems {round} round, but {nets} reach {reach}. Kept as it stands. When you are there, count its nets and "
        "look at its corners.",
        values,
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


def nets_said(nets: Sequence[tuple[NetKind, int]], *, guessed: bool) -> Text | None:
    """Return the sentence on the nets that were recorded; None where there are none."""
    if not nets:
        return None
    words = "Nets: {nets}, guessed from its sides." if guessed else "Nets: {nets}."
    return Text(words, {"nets": nets_words(nets)})
