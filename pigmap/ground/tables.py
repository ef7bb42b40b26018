"""Numbers behind the model of cover, each with where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pigmap.records import GroundCover, Use

LOSS_M2_KG_D = 0.113
"""Share of cover lost for each unit of load [m²/(kg·d)].

Derived: our own fit to eight printed points, log-sd 0.37 (times or divided by 1.45). The points: Andresen 1996 (11th
IFOAM conference, abstract S14); Kongsted and Jakobsen, second hand; Pietrosemoli, Green and Villamide 2020, Animals
10(6):1046 and 10(10):1885; Sandom, Hughes and Macdonald 2013, Restoration Ecology 21(3):329-335. They fix little more
than the ratio of loss and regrowth (17 to 19): the speed of both rests on an assumed start value of regrowth.
"""

REGROWTH_PER_C_D = 0.0065
"""Growth rate of cover for each degree-day above 5 °C [1/(°C·d)]. Derived in the same fit from an assumed 0.006."""

MOST_COVER = 0.95
"""Cover that ground at rest comes back to, share. Assumed."""

LEAST_COVER = 0.02
"""Cover from which ground can always come back (seed, crowns), share. Assumed."""

READY_COVER = 0.75
"""Cover at which ground may be used again, share.

Pietrosemoli, Green and Villamide 2020, Animals 10(6):1046, doi 10.3390/ani10061046, simple summary: cover above 75 % is
a best management practice.
"""

SEEN_DAYS = 42
"""Days after which what was seen at a daily check counts as computed again [d]. Assumed."""

TRAILING_DAYS = 365
"""Days over which load, nitrogen and phosphorus are summed [d]: twelve months."""

SIGHT_DAYS = 730
"""Days ahead within which a ready day is given [d]. Assumed."""

LOSS_TIMES: Mapping[GroundCover, float] = MappingProxyType(
    {
        GroundCover.PASTURE: 1.0,
        GroundCover.LEY: 2.39,
        GroundCover.WOODLAND: 0.68,
        GroundCover.SCRUB: 0.68,
        GroundCover.ARABLE: 1.0,
        GroundCover.OTHER: 1.0,
    }
)
"""Factor on the loss by what grows.

Derived in the same fit: ley of grass, clover and herbs 2.39 (log-sd 0.24), woodland 0.68 (log-sd 0.38; Sandom, Hughes
and Macdonald 2013). Assumed: scrub as woodland, arable and other ground as pasture.
"""

REGROWTH_TIMES: Mapping[GroundCover, float] = MappingProxyType(
    {
        GroundCover.PASTURE: 1.0,
        GroundCover.LEY: 1.0,
        GroundCover.WOODLAND: 0.25,
        GroundCover.SCRUB: 0.25,
        GroundCover.ARABLE: 1.0,
        GroundCover.OTHER: 1.0,
    }
)
"""Factor on the regrowth by what grows.

Assumed: woodland floor 0.25, since it recovers within years and not weeks (Sims, John and Stewart, University of
Sussex: substantial recovery of bluebells within 2 years); scrub as woodland.
"""

REST_FLOOR_DAYS: Mapping[GroundCover, int] = MappingProxyType(
    {
        GroundCover.PASTURE: 30,
        GroundCover.LEY: 30,
        GroundCover.WOODLAND: 90,
        GroundCover.SCRUB: 90,
        GroundCover.ARABLE: 30,
        GroundCover.OTHER: 30,
    }
)
"""Rest before ground counts as ready where no purpose asks for any [d]; parasites are not considered.

ATTRA (National Center for Appropriate Technology), note on silvopasture with pigs: rest 30 to 90 days, longer on wetter
or fragile soils. Assumed: its lower end for open ground, its upper end under trees.
"""

REST_LEAST_DAYS: Mapping[Use, int] = MappingProxyType(
    {
        Use.GRAZE_LIGHTLY: 0,
        Use.TURN_OVER: 0,
        Use.CLEAR_SCRUB: 90,
        Use.WINTER_GROUND: 90,
        Use.CLOSED: 0,
    }
)
"""Rest that a purpose asks for beyond that of the ground cover, where nobody typed another [d].

The same note of ATTRA, rest 30 to 90 days, longer on wetter or fragile soils: its upper end for ground under scrub, and
for ground that pigs were on while it was wet. Which purpose takes which end: assumed.
"""

ROOTING_WELCOME: Mapping[Use, float] = MappingProxyType(
    {
        Use.GRAZE_LIGHTLY: 1.0 - READY_COVER,
        Use.TURN_OVER: 1.0,
        Use.CLEAR_SCRUB: 0.5,
        Use.WINTER_GROUND: 1.0,
        Use.CLOSED: 1.0 - READY_COVER,
    }
)
"""Share of the ground that may be rooted before it counts as too much, where nobody typed another.

Grazing: the cover above 75 % of `READY_COVER`. Turning over is work that is wanted, and winter ground is seeded
afterwards: all of it, common practice. Scrub: half, so that roots and seed are left; common practice.
"""

COVER_BY_SCORE = (1.0, 0.75, 0.5, 0.25, 0.0)
"""Cover by the rooting score of a daily check, 0 (hardly) to 4 (all), share. By definition: rooting is score / 4."""
