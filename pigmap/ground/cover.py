"""The closed form of cover: one step for each stretch of days with the same pigs, or none, on the ground.

Cover C grows as ``dC/dt = rho C (1 - C/K) - alpha C``. In ``y = 1/C`` this is linear, so a stretch in which the loss
``A`` and the growth ``G`` come in constant ratio is one step, whatever its length, with ``x = G - A``::

    y_out = y_in exp(-x) + (G / K) (1 - exp(-x)) / x
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

_MOST_LOSS = 50.0  # exp(50) is far beyond any y that counts; more would only overflow


def step(y: ArrayLike, growth: ArrayLike, loss: ArrayLike, *, most: float, least: float) -> NDArray[np.floating]:
    """Return 1/cover after a stretch of days.

    Parameters
    ----------
    y
        1/cover before it.
    growth
        Growth rate summed over the stretch: regrowth x degree-days, at least 0.
    loss
        Loss rate summed over the stretch: loss x load, at least 0.
    most, least
        Cover that rest comes back to, and cover that is always left, shares.

    Examples
    --------
    >>> float(step(1 / 0.9, 0.3, 0.3, most=0.95, least=0.02).round(4))
    1.4269
    """
    grown = np.asarray(growth)
    x = np.maximum(grown - np.asarray(loss), -_MOST_LOSS)
    after = np.asarray(y) * np.exp(-x) + grown / most * _mean_decay(x)
    held: NDArray[np.floating] = np.minimum(after, 1.0 / least)
    return held


def _mean_decay(x: NDArray[np.floating]) -> NDArray[np.floating]:
    """Return (1 - exp(-x)) / x, and its limit 1 at 0."""
    flat = np.abs(x) < 1e-12
    mean: NDArray[np.floating] = np.where(flat, 1.0, -np.expm1(-x) / np.where(flat, 1.0, x))
    return mean


def growth_wanted(y: ArrayLike, *, target: float, most: float) -> NDArray[np.float64]:
    """Return the growth (regrowth x degree-days) that ground at rest needs from 1/cover to a cover; at least 0.

    Examples
    --------
    >>> round(float(growth_wanted(1 / 0.5, target=0.75, most=0.95)) / 0.0065, 1)
    187.1
    """
    missing = np.asarray(y, dtype=np.float64) - 1.0 / most
    return np.log(np.maximum(missing / (1.0 / target - 1.0 / most), 1.0))
