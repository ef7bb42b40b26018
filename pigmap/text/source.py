"""Where a number comes from, in words: print, the trade, or the farm itself. One home for docstrings and screens."""

from __future__ import annotations

from pigmap.text.message import Text

COMMON_PRACTICE = Text("common practice")
OWN_RECORDS = Text("your own records")
OWN_WORD = Text("typed by you")
OUR_GUESS = Text("a guess of the program")
OUR_FIT = Text(
    "our own fit to eight printed points (Andresen 1996, 11th IFOAM conference, abstract S14; Pietrosemoli, Green and "
    "Villamide 2020, Animals 10(6):1046 and 10(10):1885; Sandom, Hughes and Macdonald 2013, Restoration Ecology "
    "21(3):329-335; and others). It is rough: your eyes come first"
)
"""Source of `LOSS_M2_KG_D` and of what is made with it."""
COVER_ABOVE_75 = Text("cover above 75 %: Pietrosemoli, Green and Villamide 2020, Animals 10(6):1046, simple summary")
"""Source of `READY_COVER`."""
SEED_BELOW_30 = Text(
    "a guess of the program, near an extension column of the Northern Plains: sow again below 30 % of the wanted plants"
)
"""Source of `RESEED_FROM` and `OVERSEED_FROM`."""
SEED_GUIDE = Text("a seed guide for a mix that pigs root in, public page; south of the equator half a year later")
"""Source of `SOWING_SOIL_C` and `SOWN_SHUT_DAYS`."""
REST_30_TO_90 = Text("ATTRA, note on silvopasture with pigs: 30 to 90 days, longer on wet or fragile soils")
"""Source of `REST_FLOOR_DAYS` and `REST_LEAST_DAYS`."""
WET_BELOW_3 = Text(
    "Laurenson and Houlbrooke 2016, New Zealand Journal of Agricultural Research 59:444-451, of cattle: above 3 mm; "
    "water by FAO Irrigation and drainage paper 56, 1998, chapter 8. Nothing is printed for pigs: the boot comes first"
)
"""Source of `TOO_WET_MM`."""
SOIL_WATER = Text("FAO Irrigation and drainage paper 56, 1998, chapter 8; what soils hold, from memory")
"""Source of `ease_of`."""
SETBACKS = Text(
    "farming rules for water of England, by a public page of the pig trade: feed 10 m off water, 50 m off a well; 3 to "
    "30 m elsewhere. It is advice: what holds where you are comes first"
)
"""Source of `WATER_M` and `WELL_M`."""
SETBACKS_FLOW = Text("a guess of the program: as off water, where it ends up")
"""Source of `FLOW_M`."""
STEEP_SOURCE = Text(
    "12 degrees: public page of the government of the United Kingdom on the farming rules for water of England; 7 "
    "degrees: from memory, classes of soil erosion of the United Kingdom"
)
"""Source of `SLOPING_DEG` and `STEEP_DEG`."""
DUNG_ZONE = Text(
    "Horsted, Kongsted, Jørgensen and Sørensen 2012 (names of the authors from memory): 49 % of what pigs dropped on "
    "15 % of the area. Which 15 % of a paddock these are is a guess of the program"
)
"""Source of `DUNG_ZONE_DROPPED` and `DUNG_ZONE_GROUND`."""
METER_DECIDES = Text("a first-order estimate of the program; the meter decides")
"""Source of every voltage of a fence that was not read."""
NITROGEN_CAP = Text("Directive 91/676/EEC")
"""Source of the cap on nitrogen: its Annex III, as cited in Regulation (EEC) 2092/91, Annex I.B 7.1."""
