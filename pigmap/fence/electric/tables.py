"""Numbers of electric netting: growth, soils, what is enough. The meter decides, and local rules come first."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from pigmap.records import Soil


class Growth(StrEnum):
    """How much grows into a net."""

    CLEAN = "clean"
    LIGHT = "light"
    MEDIUM = "medium"
    HEAVY = "heavy"
    VERY_HEAVY = "very heavy"


LEAK_NET_M = 50.0
"""Length of the net that `LEAK_OHM` is told of [m]."""
LEAK_OHM: Mapping[Growth, float] = MappingProxyType(
    {
        Growth.CLEAN: 100_000.0,
        Growth.LIGHT: 10_000.0,
        Growth.MEDIUM: 4_000.0,
        Growth.HEAVY: 2_000.0,
        Growth.VERY_HEAVY: 1_000.0,
    }
)
"""Resistance of a 50 m net to the ground, by what grows into it [Ω]; very heavy is wet grass through the mesh.

Own choice within what a catalogue of electric fencing prints: 457 m of net without weeds has 200 Ω to 10 kΩ, by the
moisture of the soil, which is 1.8 to 91 kΩ for 50 m. Leaks of nets in real weeds have not been measured in print.
"""
SOIL_SPOT_OHM = 500.0
"""Resistance of one place where soil or a wet branch lies on the bottom strand [Ω]. Own choice; the same catalogue
prints 25 Ω to 50 kΩ for weeds."""
ANIMAL_OHM = 500.0
"""Resistance of a body that touches the fence [Ω]: the standard load of the requirements after IEC 60335-2-76."""
TWINE_OHM_PER_M = 6.8
"""Resistance of a twine of six stainless wires of 0.15 mm [Ω/m], worked out from the resistivity of stainless steel
(7.2e-7 Ω·m, from memory); a span of 0.5 to 15 Ω/m is in print."""
MIXED_TWINE_OHM_PER_M = 0.52
"""The same of two stainless wires and one of tinned copper of 0.2 mm, worked out likewise (copper 1.72e-8 Ω·m, from
memory)."""
LIVE_STRANDS = 6
"""Live strands of a net side by side, joined at its ends. Own choice; common practice is five to eight."""
NET_OHM_PER_M = TWINE_OHM_PER_M / LIVE_STRANDS
"""Resistance of a net from end to end where its kind tells none [Ω/m]."""
JOINT_OHM = 0.5
"""Resistance of a clean clip between two nets [Ω]. Own choice."""
PEAK_SHARE = 0.85
"""Share of the steady peak that is left once the fence's own capacity is charged. Own choice: time steps with 20 pF
a metre (from memory) gave 0.82 to 0.91 for 200 to 600 m; inductance (1.2 µH a metre, from memory) adds up to 9 %."""

STOP_KV = 2.0
"""A fence with less is not relied upon [kV]: the absolute floor of DIN VDE 0131, as quoted by extension services."""
WARN_KV = 3.0
"""A fence with less wants a hand [kV]: least at the end of a line in the instruction sheets of energizers."""
GOOD_KV = 4.0
"""From here on it is good [kV]: "4 kV at every point", advice of French farm extension. No extension service prints
a figure for pigs: that these three hold for them is own choice."""

EARTH_OHM = 30.0
"""Resistance of earth stakes of which nothing is told [Ω]. Own choice; a maker asks for at most 100 Ω."""
EARTH_TEST_KV = 2.0
"""The fence is shorted until it reads no more than this, far away, for the test of the stakes [kV]; common practice."""
EARTH_WARN_KV = 0.3
"""Between stakes and a probe a metre off, more than this is much [kV]. Own choice: print differs from 0.2 to 0.8."""
EARTH_BAD_KV = 0.5
"""More than this is too much [kV]. Own choice, as above."""
STAKE_M_PER_J = 0.9
"""Length of stakes for each joule that is given [m/J]: 3 feet a joule (beefmagazine.com 2003; USDA-NRCS Virginia, job
sheet 382(c), 2009), 1 m in New Zealand, 0.6 to 0.9 m in Canada."""
STAKE_M = 1.0
"""Length in the ground of a stake of which none is told [m]. Own choice, the shorter of those in use."""
STAKE_MM = 12.0
"""Its thickness [mm]. Own choice."""
STAKES_APART_M = 3.0
"""Distance of stakes of which none is told [m]: 10 feet (USDA-NRCS Rhode Island, job sheet 382(c))."""
SOIL_OHM_M: Mapping[Soil, float] = MappingProxyType(
    {
        Soil.BOG: 30.0,
        Soil.CLAY: 40.0,
        Soil.LOAM: 100.0,
        Soil.SAND: 200.0,
        Soil.GRAVEL: 1_000.0,
        Soil.STONY: 2_000.0,
    }
)
"""Resistivity of soil [Ω·m], the usual value of a span that is printed in manuals of earthing: bog 2 to 50, clay 2 to
200, silt, loam and humus 20 to 260, moist sand 50 to 3000, moist gravel 50 to 3000, stony 100 to 8000. Dry or frozen
soil has many times more."""

USUAL_OPEN_V = 9_000.0
"""Peak with nothing connected of an energizer of which only the output is known [V]. Own choice."""
INNER_OHM_J = 340.0
"""Inner resistance times output of such an energizer [Ω·J]. Own choice: 5.4 kV on 500 Ω at 1 J."""
STANDARD_OHM = 500.0
"""The standard load on which data sheets tell energy and voltage [Ω]."""
