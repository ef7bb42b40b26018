"""Where a picture lies whose own file does not tell: from points of it whose place on the ground is known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import RasterError
from pigmap.records.frozen import dataclass

FEWEST = 3
"""Pins that fix a picture."""
BENT_FROM = 6
"""Pins from which a picture may be taken to be bent."""
NARROW = 0.05
"""Pins whose breadth is less than this share of their length lie in one line. Own choice."""
BETTER = 0.6
"""A bent picture must bring each pin, foretold from the others, so much nearer on the whole. Own choice."""

Points = NDArray[np.float64]


class Pin(NamedTuple):
    """One point of a picture and its place."""

    column: float
    row: float
    """In the picture, from its upper left corner, rightwards and down [pixels]."""
    east_m: float
    north_m: float
    """On the ground [grid m]."""


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """Where a picture lies: a stretch, turn and slant of it, and a bend where its pins ask for one."""

    terms: Points
    """From 1, u and v (and u², uv, v²) to east and north [grid m], (3 or 6, 2)."""
    centre: tuple[float, float]
    scale: float
    """u and v are (column, row) less the centre, times the scale."""
    off_m: tuple[float, ...]
    """How far each pin lies from where the picture puts it [m of ground]."""

    @property
    def bent(self) -> bool:
        """Whether straight lines of the picture are bent."""
        return len(self.terms) > 3

    @property
    def about_m(self) -> float:
        """Root mean square of how far the pins are off [m of ground]."""
        return math.sqrt(sum(off**2 for off in self.off_m) / len(self.off_m))

    @property
    def transform(self) -> tuple[float, float, float, float, float, float]:
        """The straight part: east = a·column + b·row + c, north = d·column + e·row + f."""
        (c0, f0), (a, d), (b, e) = (self.terms[:3] * [[1.0], [self.scale], [self.scale]]).tolist()
        x, y = self.centre
        return a, b, c0 - a * x - b * y, d, e, f0 - d * x - e * y

    @property
    def stretch(self) -> float:
        """How many times as much the picture is enlarged in one direction as in another; 1 for a plain map."""
        a, b, _, d, e, _ = self.transform
        sizes = np.linalg.svd(np.array([[a, b], [d, e]]), compute_uv=False)
        return float(sizes[0] / max(sizes[1], 1e-12))

    def to_ground(self, points: Points) -> Points:
        """Return points (n, 2) of the picture, (column, row), as east and north [grid m]."""
        placed: Points = _terms(points, self.centre, self.scale, len(self.terms)) @ self.terms
        return placed

    def to_picture(self, points: Points) -> Points:
        """Return points (n, 2), east and north [grid m], as (column, row)."""
        a, b, _, d, e, _ = self.transform
        straight = np.array([[a, b], [d, e]])
        found = np.tile(np.array(self.centre), (len(points), 1))
        for _ in range(20 if self.bent else 1):  # a slight bend: each step of the straight part comes nearer
            found = found + np.linalg.solve(straight, (np.asarray(points, float) - self.to_ground(found)).T).T
        return found


def fit_pins(pins: Sequence[Pin], *, ground_per_grid: float = 1.0) -> Fit:
    """Return where a picture lies by its pins: least squares, straight, or bent where six pins or more ask for it.

    Parameters
    ----------
    pins
        Three or more, not in one line.
    ground_per_grid
        Ground metres in one grid metre.

    Raises
    ------
    RasterError
        In words: too few pins, pins in one line, or pins that would mirror the picture.
    """
    if len(pins) < FEWEST:
        raise RasterError(
            "The picture has {count} of the {fewest} pins that it takes.",
            remedy="Click another point of the picture, then its place on the map.",
            count=len(pins),
            fewest=FEWEST,
        )
    there, ground = np.array([pin[:2] for pin in pins]), np.array([pin[2:] for pin in pins])
    _need_breadth(there, ground)
    straight = _solved(there, ground, 3, ground_per_grid)
    if _mirrors(straight):
        raise RasterError(
            "These pins would show the picture as in a mirror.",
            remedy="Look whether two pins have changed places: each place belongs to the point of the same number.",
        )
    if len(pins) < BENT_FROM:
        return straight
    return _bent(there, ground, ground_per_grid) or straight


def _need_breadth(there: Points, ground: Points) -> None:
    for points, where in ((there, "on the picture"), (ground, "on the map")):
        sizes = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
        if sizes[1] <= NARROW * sizes[0]:
            raise RasterError(
                f"The pins lie in one line {where}.",
                remedy="Set another pin well to one side of that line.",
            )


def _mirrors(fit: Fit) -> bool:
    a, b, _, d, e, _ = fit.transform
    return a * e - b * d >= 0.0  # rows run down and north runs up


def _bent(there: Points, ground: Points, ground_per_grid: float) -> Fit | None:
    """Return a bent fit where it foretells each pin from the others much better than a straight one; else None.

    With six pins a bend passes through all of them whatever they are, so that nothing can speak for it.
    """
    if _foretold(there, ground, 6) >= BETTER * _foretold(there, ground, 3):
        return None
    bent = _solved(there, ground, 6, ground_per_grid)
    corners = np.array([there.min(axis=0), there.max(axis=0)])
    return None if _folds(bent, corners) else bent


def _foretold(there: Points, ground: Points, terms: int) -> float:
    """Return how far each pin is from where the others put it, all together; endless where they do not suffice."""
    if len(there) - 1 < terms:
        return math.inf
    off = 0.0
    for left_out in range(len(there)):
        kept = np.arange(len(there)) != left_out
        fit = _solved(there[kept], ground[kept], terms, 1.0)
        off += float(((fit.to_ground(there[left_out : left_out + 1]) - ground[left_out]) ** 2).sum())
    return math.sqrt(off)


def _folds(fit: Fit, corners: Points) -> bool:
    """Whether a bent picture would fold over itself between its pins."""
    shares = np.linspace(0.0, 1.0, 7)
    grid = corners[0] + np.stack(np.meshgrid(shares, shares), axis=-1).reshape(-1, 2) * (corners[1] - corners[0])
    step = max(float(np.ptp(corners, axis=0).max()) * 1e-3, 1e-6)
    here, right, down = (fit.to_ground(grid + np.array(by)) for by in ((0.0, 0.0), (step, 0.0), (0.0, step)))
    east, south = right - here, down - here
    return bool((east[:, 0] * south[:, 1] - east[:, 1] * south[:, 0] >= 0.0).any())


def _solved(there: Points, ground: Points, terms: int, ground_per_grid: float) -> Fit:
    middle = there.mean(axis=0)
    scale = 1.0 / max(float(np.abs(there - middle).max()), 1e-9)
    centre = (float(middle[0]), float(middle[1]))
    home = ground.mean(axis=0)  # large coordinates would cost digits
    found = np.linalg.lstsq(_terms(there, centre, scale, terms), ground - home, rcond=None)[0]
    found[0] += home
    fit = Fit(found, centre, scale, ())
    off = np.hypot(*(fit.to_ground(there) - ground).T) * ground_per_grid
    return Fit(found, centre, scale, tuple(off.tolist()))


def _terms(points: Points, centre: tuple[float, float], scale: float, count: int) -> Points:
    u, v = ((np.asarray(points, dtype=np.float64) - centre) * scale).T
    every = [np.ones_like(u), u, v, u * u, u * v, v * v]
    stacked: Points = np.stack(every[:count], axis=1)
    return stacked


def begun(pins: Sequence[Pin], size: tuple[int, int], bounds: tuple[float, float, float, float]) -> Fit:
    """Return where to show a picture that has fewer than three pins: as those have it, else in the middle of a view.

    Parameters
    ----------
    pins
        None, one or two.
    size
        Columns and rows of the picture.
    bounds
        Ground in view: west, south, east, north [grid m].
    """
    west, south, east, north = bounds
    pixel_m = 0.8 * min((east - west) / size[0], (north - south) / size[1])
    turn = complex(pixel_m, 0.0)
    there = [complex(pin.column, -pin.row) for pin in pins[:2]]
    ground = [complex(pin.east_m, pin.north_m) for pin in pins[:2]]
    if len(pins) > 1 and there[0] != there[1] and ground[0] != ground[1]:
        turn = (ground[1] - ground[0]) / (there[1] - there[0])
    at = complex(size[0] / 2, -size[1] / 2)
    home = ground[0] + turn * (at - there[0]) if pins else complex((west + east) / 2, (south + north) / 2)
    terms = np.array([[home.real, home.imag], [turn.real, turn.imag], [turn.imag, -turn.real]])
    return Fit(terms, (size[0] / 2, size[1] / 2), 1.0, tuple(0.0 for _ in pins))
