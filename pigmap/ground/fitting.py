"""Learning this farm's pace: loss and regrowth of cover fitted to what daily checks saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.ground import tables
from pigmap.ground.model import Model
from pigmap.ground.observed import Observed, observed_on
from pigmap.ground.wear import TREES
from pigmap.records import Check, Farm, GroundCover
from pigmap.text import Text

LEAST_VISITS = 10
"""Checks with a score on ground used before below which nothing is fitted. Own choice: with ten, invented farms came
within a third of their numbers."""
LEAST_WOOD_VISITS = 5
"""The same, of checks in woods, for the factor of woodland."""
LEAST_AFTER_REST = 3
"""Checks after a rest below which regrowth is not fitted: nothing else tells of it. Own choice."""
PRIOR_LOG_SD = 0.5
"""Standard deviation of the logarithm of each number, before anything was seen here. Assumed."""
MOST_LOG = 2.5
"""How far the logarithm of a number may go from where it begins. Assumed."""
SCORE_SD = 0.12
"""Standard deviation of a score, as a share of the ground: 0.10 of the eye, and a quarter's steps. Assumed."""


class Number(NamedTuple):
    """One number of the model: as it is printed, as it was fitted, and the standard error of its logarithm."""

    printed: float
    value: float
    log_se: float | None
    """None where it was not fitted."""


class SeenExpected(NamedTuple):
    """One check: what was seen, and what was expected of it; shares that are rooted."""

    check: Check
    field_uid: str
    seen: float
    expected: float
    """By the numbers from print."""
    learned: float | None
    """By the fitted numbers; None where nothing was fitted."""


class Learned(NamedTuple):
    """What the checks of a farm say of its pace."""

    visits: int
    rows: tuple[SeenExpected, ...]
    """In order of time."""
    loss: Number
    """[m²/(kg·d)]"""
    regrowth: Number
    """[1/(°C·d)]"""
    wood: Number
    """Factor on the loss under trees."""
    rms_before: float
    """Root of the mean square of what the numbers from print were off, as a share of the ground."""
    rms: float | None
    """The same of the fitted numbers; None where nothing was fitted."""

    @property
    def is_fitted(self) -> bool:
        """Whether there were checks enough."""
        return self.rms is not None

    @property
    def words(self) -> Text:
        """On what the numbers rest, in words."""
        if self.is_fitted:
            return Text("Fitted on {count} visit.", plural="Fitted on {count} visits.", count=self.visits)
        return Text(
            "There is {count} daily check with a rooting on ground used before; it takes {least} to learn from. "
            "Score the rooting at daily checks, and of ground that rests as well.",
            {"least": LEAST_VISITS},
            plural="There are {count} daily checks with a rooting on ground used before; it takes {least} to learn "
            "from. Score the rooting at daily checks, and of ground that rests as well.",
            count=self.visits,
        )


def learned(farm: Farm, today: date) -> Learned:
    """Return what the daily checks of a farm up to a day say of its pace; pure, and slow: not for every frame.

    The sum of squares of what the model is off in units of `SCORE_SD`, and of what each logarithm is off its printed
    number in units of `PRIOR_LOG_SD`, is made least. Loss is fitted first; regrowth with it where checks came after
    rests; the factor of woodland where there are checks in woods.
    """
    observed = observed_on(farm, today)
    visits = sum(len(each.checks) for each in observed)
    printed = (tables.LOSS_M2_KG_D, tables.REGROWTH_PER_C_D, tables.LOSS_TIMES[GroundCover.WOODLAND])
    free = _free(farm, observed) if visits >= LEAST_VISITS else ()
    logs, errors = _fitted(farm, observed, free) if free else (np.zeros(3), {})
    before = _computed(farm, observed, np.zeros(3))
    after = _computed(farm, observed, logs) if free else None
    seen = _seen(observed)
    loss, regrowth, wood = (
        Number(each, each * float(np.exp(logs[at])), errors.get(at)) for at, each in enumerate(printed)
    )
    return Learned(
        visits,
        _rows(observed, seen, before, after),
        loss,
        regrowth,
        wood,
        _rms(before - seen),
        _rms(after - seen) if after is not None else None,
    )


def _free(farm: Farm, observed: Sequence[Observed]) -> tuple[int, ...]:
    """Return which of the three numbers there are checks enough for."""
    after_rest = sum(int(each.after_rest.sum()) for each in observed)
    wood = sum(len(each.checks) for each in observed if _is_wood(farm, each))
    free = [0]
    if after_rest >= LEAST_AFTER_REST:
        free.append(1)
    if wood >= LEAST_WOOD_VISITS:
        free.append(2)
    return tuple(free)


def _is_wood(farm: Farm, each: Observed) -> bool:
    return farm.fields[each.ground.field_uid].ground_cover in TREES


def _fitted(
    farm: Farm, observed: Sequence[Observed], free: tuple[int, ...]
) -> tuple[NDArray[np.float64], dict[int, float]]:
    """Return the logarithms of the factors on the three numbers, and the standard errors of those that are free."""
    from scipy.optimize import least_squares

    # 'Hardly' and 'all of it' are said of ground as green and as bare as it gets, which is not quite.
    seen, logs = np.clip(_seen(observed), 1 - tables.MOST_COVER, 1 - tables.LEAST_COVER), np.zeros(3)
    found = None
    for count in range(1, len(free) + 1):  # the loss first: what it leaves is for the others
        its = list(free[:count])

        def off(theta: NDArray[np.float64], its: list[int] = its) -> NDArray[np.float64]:
            tried = np.zeros(3)
            tried[its] = theta
            return np.concatenate(((_computed(farm, observed, tried) - seen) / SCORE_SD, theta / PRIOR_LOG_SD))

        found = least_squares(off, logs[its], bounds=(-MOST_LOG, MOST_LOG))
        logs[its] = found.x
    assert found is not None
    spread = np.sqrt(np.diag(np.linalg.inv(found.jac.T @ found.jac)))
    return logs, dict(zip(free, spread.tolist(), strict=True))


def _computed(farm: Farm, observed: Sequence[Observed], logs: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return what is computed for all checks with numbers that are off by some logarithms."""
    parts = [each.computed(_model(each, logs, wood=_is_wood(farm, each))) for each in observed]
    return np.concatenate([np.empty(0), *parts])


def _model(each: Observed, logs: NDArray[np.float64], *, wood: bool) -> Model:
    loss, regrowth, under_trees = np.exp(logs).tolist()
    model = each.ground.model
    return replace(model, loss=model.loss * loss * (under_trees if wood else 1.0), regrowth=model.regrowth * regrowth)


def _seen(observed: Sequence[Observed]) -> NDArray[np.float64]:
    return np.concatenate([np.empty(0), *(each.seen for each in observed)])


def _rows(
    observed: Sequence[Observed],
    seen: NDArray[np.float64],
    before: NDArray[np.float64],
    after: NDArray[np.float64] | None,
) -> tuple[SeenExpected, ...]:
    checks = [(check, each.ground.field_uid) for each in observed for check in each.checks]
    rows = [
        SeenExpected(*checks[at], float(seen[at]), float(before[at]), float(after[at]) if after is not None else None)
        for at in range(len(checks))
    ]
    return tuple(sorted(rows, key=lambda row: (row.check.checked_on, row.check.uid)))


def _rms(off: NDArray[np.float64]) -> float:
    return float(np.sqrt(np.mean(off**2))) if len(off) else 0.0
