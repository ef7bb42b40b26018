"""Numbers behind the model of cover, each with where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pigmap.records import Forage, GroundCover, Use

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

FORAGE_TIMES: Mapping[Forage, float] = MappingProxyType(
    {Forage.FESCUE: 1.0, Forage.BERMUDA: 1.11, Forage.CLOVER_LEY: 2.39}
)
"""Factor on the loss by the sward.

Derived in the same fit: sod of tall or creeping fescue 1 by definition, bermuda grass 1.11 (log-sd 0.25; Pietrosemoli,
Green and Villamide 2020, Animals 10(6):1046), ley of grass, clover and herbs 2.39 (log-sd 0.24; Andresen 1996; Kongsted
and Jakobsen, second hand). The last takes up forage, feed and country together.
"""

LOG_SD = 0.37
"""Standard deviation of the logarithm of `LOSS_M2_KG_D`, and that of `REGROWTH_PER_C_D`, in that fit: times or divided
by 1.45."""

RINGED_TIMES = 0.6
"""Factor on the loss where the pigs have rings in their noses.

Derived from Eriksen, Studnitz, Strudsholm, Kongsted and Hermansen 2006, Livestock Science 104:91-102 (rings raised the
green cover from 14 to 38 % under pregnant and from 64 to 81 % under lactating sows): 0.72 and 0.53, if the cover stood
in balance.
"""

FED_LITTLE_SHARE = 0.8
"""Share of full feed up to which pigs root more.

Stern and Andresen 2003, Livestock Production Science 79:257-265: more rooting at 80 than at 100 % of feed.
"""
FED_LITTLE_TIMES = 1.3
"""Factor on the loss of such pigs. Direction from the same paper, size assumed."""

WET_BELOW_MM = 10.0
"""Water that the soil lacks to be full below which pigs root more [mm]. Assumed."""
WET_MORE = 0.5
"""How much more of the cover they take where the soil is full of water, share.

Direction from Andresen 1996 (11th IFOAM conference, abstract S14: dry soil reduced rooting), size assumed.
"""

DUNG_ZONE_DROPPED, DUNG_ZONE_GROUND = 0.49, 0.15
"""Share of what pigs drop that falls on a share of their ground.

Horsted, Kongsted, Jørgensen and Sørensen 2012 (names of the authors from memory): 49 % of what pigs dropped on 15 % of
the area, between feed and willows. Elsewhere sows kept off the ground near hut, feed and water (Jakobsen and others
2019, Agroecology and Sustainable Food Systems 43:639-661). Where in a paddock these 15 % lie: assumed.
"""
HOT_SPOTS_APART_M = 10.0
"""Distance from where hut, feeder or shade stood within twelve months that new ones are kept at [m]. Assumed."""

SOWN_SHUT_DAYS = 84
"""Days after sowing before pigs come, where nobody told a date [d].

A seed merchant's guide to a mix for pigs to root in, public page: ready 12 to 14 weeks after sowing; it asks for three
months of growth elsewhere. The shorter one.
"""

SOWING_SOIL_C = 7.0
"""Temperature of the soil from which a mix is sown [°C], from mid April to early September. The same guide."""

RESEED_FROM, OVERSEED_FROM = 0.70, 0.40
"""Rooting at the start of the rest from which ground is sown again, and sown over, share.

Assumed, near an extension column of the Northern Plains (reseed below 30 % of desirable cover) and a public page, weak
(below 50 % renovate, 50 to 70 % sow over).
"""
OVERSEED_DAYS = 60
"""Days from the start of its rest until ready above which half rooted ground is sown over [d]. Assumed."""

WINTER_MONTHS = frozenset((11, 12, 1, 2))
"""Months, north of the equator, in which computed cover is too low.

Held against a grass trial in East Anglia (dry sows, about 6 to the hectare, on from February; farming press, two
articles): computed 0.66 to 0.71 in October and 0.32 to 0.40 in December, reported about 75 % late in the year.
"""
DENSE_KG_M2 = 0.45
"""Live weight above which computed cover answers too strongly to the number of pigs [kg/m²].

25 sows to the hectare, the most in Pietrosemoli, Green and Villamide 2020, Animals 10(6):1046, at 180 kg (assumed).
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
