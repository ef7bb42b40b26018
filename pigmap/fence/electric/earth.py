"""Earth stakes: their resistance, what the test of them should read, and how many a rule asks for."""

from __future__ import annotations

from enum import StrEnum
from math import asinh, ceil, hypot, log, pi
from typing import NamedTuple

import numpy as np

from pigmap.fence.electric.supply import Supply
from pigmap.fence.electric.tables import (
    EARTH_BAD_KV,
    EARTH_TEST_KV,
    EARTH_WARN_KV,
    SOIL_OHM_M,
    STAKE_M,
    STAKE_M_PER_J,
    STAKE_MM,
    STAKES_APART_M,
)
from pigmap.records import Energizer, Soil
from pigmap.text import Quantity, Text

MOST_STAKES = 12
"""So many stakes are tried at most; big energizers have up to ten. Own choice."""


class EarthLevel(StrEnum):
    """What a test of the stakes says."""

    GOOD = "good"
    WARN = "warn"
    BAD = "bad"


class Stakes(NamedTuple):
    """Upright stakes in a row."""

    number: int = 1
    long_m: float = STAKE_M
    """In the ground [m]."""
    thick_mm: float = STAKE_MM
    apart_m: float = STAKES_APART_M
    soil_ohm_m: float = SOIL_OHM_M[Soil.LOAM]
    """Resistivity of the soil [Ω·m]."""

    @property
    def ohm(self) -> float:
        """Resistance of all of them together [Ω]."""
        at_m = np.arange(self.number) * self.apart_m
        between = np.abs(at_m[:, None] - at_m[None, :])
        every = np.array([[self._mutual(each) if each else self._single() for each in row] for row in between.tolist()])
        return float(1 / np.linalg.solve(every, np.ones(self.number)).sum())

    def _single(self) -> float:
        """Return the resistance of one, ``rho / 2 pi L (ln(8L / d) - 1)`` [Ω] (after Dwight 1936, from memory).

        The formula holds for stakes that are many times as long as they are thick; for others the last factor is 1.
        """
        slender = log(8000 * self.long_m / self.thick_mm) - 1
        return self.soil_ohm_m / (2 * pi * self.long_m) * max(slender, 1.0)

    def _mutual(self, apart_m: float) -> float:
        """Return what a current in one lifts another by [Ω].

        Worked out with the mean potential along the stake and its image above ground; as the distance goes to the
        radius this becomes the resistance of one.
        """
        ratio = max(apart_m, self.thick_mm / 1000) / (2 * self.long_m)
        return self.soil_ohm_m / (2 * pi * self.long_m) * (asinh(1 / ratio) - hypot(1, ratio) + ratio)


def stakes_of(energizer: Energizer) -> Stakes | None:
    """Return the stakes of an energizer, usual ones where only their number is told; None where not even that is."""
    if not energizer.rods:
        return None
    return Stakes(
        energizer.rods,
        energizer.rod_m or STAKE_M,
        energizer.rod_mm or STAKE_MM,
        energizer.rods_apart_m or STAKES_APART_M,
        SOIL_OHM_M[energizer.soil or Soil.LOAM],
    )


def earth_test_kv(supply: Supply, earth_ohm: float) -> float:
    """Return what a probe beside the stakes should read with the fence shorted to `EARTH_TEST_KV` [kV]."""
    short_v = supply.open_v - EARTH_TEST_KV * 1000
    return max(short_v, 0.0) * earth_ohm / (supply.inner_ohm + earth_ohm) / 1000


def most_earth_ohm(supply: Supply, limit_kv: float = EARTH_WARN_KV) -> float:
    """Return the most resistance of stakes with which that test reads no more than a limit [Ω]."""
    rest_kv = supply.open_v / 1000 - EARTH_TEST_KV - limit_kv
    return limit_kv * supply.inner_ohm / rest_kv if rest_kv > 0 else float("inf")


def earth_level(test_kv: float) -> EarthLevel:
    """Return what a test of the stakes says by its reading [kV]."""
    if test_kv > EARTH_BAD_KV:
        return EarthLevel.BAD
    return EarthLevel.WARN if test_kv > EARTH_WARN_KV else EarthLevel.GOOD


def stakes_by_rule(output_j: float, long_m: float = STAKE_M) -> int:
    """Return how many stakes of a length [m] the rule of `STAKE_M_PER_J` asks for, one at least.

    Examples
    --------
    >>> stakes_by_rule(2.0, 1.8), stakes_by_rule(5.0, 1.0)
    (1, 5)
    """
    return max(ceil(output_j * STAKE_M_PER_J / long_m - 1e-9), 1)


def stakes_by_test(supply: Supply, stakes: Stakes) -> int | None:
    """Return how many such stakes should pass the test, as the estimate goes; None where `MOST_STAKES` do not."""
    most = most_earth_ohm(supply)
    return next((n for n in range(1, MOST_STAKES + 1) if stakes._replace(number=n).ohm <= most), None)


def stakes_words(supply: Supply, output_j: float, stakes: Stakes) -> Text:
    """Return what the rule asks for beside what the estimate says, and which of the two to follow."""
    length, limit = Quantity(stakes.long_m, "m", 1), Quantity(EARTH_WARN_KV, "kV")
    rule = stakes_by_rule(output_j, stakes.long_m)
    asked = Text(
        "By rule {count} earth stake of {length}.",
        {"length": length},
        plural="By rule {count} earth stakes of {length}.",
        count=rule,
    )
    passing = stakes_by_test(supply, stakes)
    if passing is None:
        reckoned = Text(
            "The estimate says that even {most} would read more than {limit} in this soil.",
            {"most": MOST_STAKES, "limit": limit},
        )
    elif passing <= rule:
        return Text("{asked} The estimate agrees; the test with the meter decides.", {"asked": asked})
    else:
        reckoned = Text(
            "The estimate says {count} for a reading of at most {limit}.", {"count": passing, "limit": limit}
        )
    after = Text("The two agree in wet clay alone: set what the rule asks, then let the test with the meter decide.")
    return Text("{asked} {reckoned} {after}", {"asked": asked, "reckoned": reckoned, "after": after})


_TEST_WORDS = {
    EarthLevel.GOOD: Text("good"),
    EarthLevel.WARN: Text("much"),
    EarthLevel.BAD: Text("too much"),
}


def level_words(test_kv: float) -> Text:
    """Return what a reading beside the stakes is, in words [kV]."""
    return _TEST_WORDS[earth_level(test_kv)]


def reckoned_words(supply: Supply, stakes: Stakes) -> Text:
    """Return what the test of some stakes should read, and what is much."""
    return Text(
        "About {should} is reckoned for these earth stakes; above {much} is much, above {bad} too much: wet the ground "
        "round them, or set one more.",
        {
            "should": Quantity(earth_test_kv(supply, stakes.ohm), "kV"),
            "much": Quantity(EARTH_WARN_KV, "kV"),
            "bad": Quantity(EARTH_BAD_KV, "kV"),
        },
    )
