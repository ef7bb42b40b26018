"""What a paddock with corners of its own wants: stakes where no post stands, and bays that close it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from pigmap.fence.bays import WalkedRun, corner_in_whole_bays, reversed_run, walked_run
from pigmap.geometry.compass import wind
from pigmap.geometry.free_outline import FreeOutline
from pigmap.geometry.runs import Run
from pigmap.records import NetKind
from pigmap.session.placing.judgement import PlacingWarning
from pigmap.text import Quantity, Text, Value

FARTHEST_BAYS = 2.0
"""A corner is not sent farther than so many bays. Own choice."""


def runs_as_walked(placed: FreeOutline, runs: Sequence[Run]) -> list[Run]:
    """Return runs of an outline in the direction in which its corners were walked."""
    return [reversed_run(run) for run in runs] if placed.clockwise else list(runs)


def odd_bays(placed: FreeOutline, kind: NetKind, open_runs: Sequence[Run]) -> Iterator[PlacingWarning]:
    """Yield what wants care where corners fall between posts, and where nets do not end at one."""
    runs = runs_as_walked(placed, open_runs)
    walked = [walked_run(run, kind.bays_mm, placed.ground_per_grid) for run in runs]
    stakes = sum(corner.own_stake for each in walked for corner in each.corners)
    if stakes:
        one, many = "A corner falls between two posts.", "{count} corners fall between two posts."
        remedy = Text("Take a stake of its own for it.", plural="Take {count} stakes for them.", count=stakes)
        yield PlacingWarning(Text(one, plural=many, count=stakes), remedy, care=True)
    for run, found in zip(runs, walked, strict=True):
        if not found.whole:
            yield PlacingWarning(_over(found), _remedy(placed, kind, run, found), care=True)


def _over(found: WalkedRun) -> Text:
    values: dict[str, Value] = {"over": _metres(found.over_mm), "bay": _metres(found.bay_mm)}
    return Text(
        "Round to where its nets end it is {count} whole bay and {over}; a bay is {bay}.",
        values,
        plural="Round to where its nets end it is {count} whole bays and {over}; a bay is {bay}.",
        count=found.bays,
    )


def _remedy(placed: FreeOutline, kind: NetKind, run: Run, found: WalkedRun) -> Text:
    """Return what closes in whole bays: the smallest step of the last corner, else what to do with the last bay."""
    slack: dict[str, Value] = {"short": _metres(found.short_mm)}
    fold = Text("Leave {short} of the last bay slack.", slack)
    if len(run.line) < 3:
        return fold
    before, at, after = ((float(x), float(y)) for x, y in run.line[-3:].tolist())
    scale = placed.ground_per_grid
    set_mm = run.length_mm - round(float(np.hypot(*np.diff(run.line[-3:], axis=0).T).sum()) * scale * 1000)
    whole = corner_in_whole_bays(before, at, after, set_mm, kind.bays_mm, scale)
    if whole is None:
        return fold
    step = whole[0] - at[0], whole[1] - at[1]
    metres = float(np.hypot(*step)) * scale
    if metres > FARTHEST_BAYS * found.bay_mm / 1000:
        return fold
    middle = placed.centre
    values: dict[str, Value] = {
        "corner": wind(at[0] - middle[0], at[1] - middle[1]),
        "step": Quantity(metres, "m", 1),
        "way": wind(*step),
        **slack,
    }
    return Text("Set its {corner} corner {step} {way}, or leave {short} of the last bay slack.", values)


def _metres(length_mm: int) -> Quantity:
    return Quantity(length_mm / 1000, "m", 1)
