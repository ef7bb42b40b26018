"""Where the numbers about pigs were printed, in words for whoever asks on a screen."""

from __future__ import annotations

from pigmap.text import Text

UK_MANURE = Text("UK Statutory Instrument 2008/2349, Schedule 1 (2008)")
ASABE_MANURE = Text("from memory of ASABE Standard D384.2, Manure Production and Characteristics, table 1")
NRCS_MANURE = Text(
    "from memory of USDA NRCS, Agricultural Waste Management Field Handbook, part 651, chapter 4, table 4-10 (2008)"
)
GERMAN_PLACES = Text("Environmental Sciences Europe 2021, doi 10.1186/s12302-021-00554-3, table 3")
MASS_BALANCE = Text("Danish advisory page on nitrogen in pig houses: protein in the feed less 29.6 g of N a kg of gain")
ROUGH_FIT = Text("our own rough fit to printed points, as the ground below")
"""In short, where the row of the ground beneath names them all."""
NITROGEN_CAP = Text("Directive 91/676/EEC, annex III: 170 kg of N in manure a hectare and year. Local rules come first")
CURVE = Text("Gompertz curve of pigs, PMC7149552, table 1 (2020), from 7 to 127 kg")
OUTDOORS = Text("its pace outdoors from North Dakota State University, Dickinson, hog feeding trials 1965")
FEED_READ = Text("PMC5420136, table 3 (adapted from Schinckel and others): daily feed from 47 to 103 kg")
FEED_RECALLED = Text("the rest of its course from memory of NRC 2012, Nutrient Requirements of Swine")
WATER = Text("US extension, how much water does a pig consume (swine.extension.org)")
WATER_SOWS = Text(
    "US extension (swine.extension.org) and Kansas State University, which differ twofold: the higher counts"
)
WATER_LACTATING = Text("pig333.com, article 16029: 27.5 L on average")
WATER_BOARS = Text("from memory of Defra PB7950 and OMAFRA factsheet 07-023")
WATER_HOT = Text(
    "up to double: Mount and others 1971, Animal Production 13:561-563 (0.092 to 0.184 L a kg); Farmers Weekly, "
    "outdoor herds in hot weather"
)
WALLOW = Text(
    "Farmers Weekly, on test: 3 types of shade: 60,000 L a day for 900 sows; other pigs by their size, assumed"
)
SHADE_SOWS = Text("Oklahoma State University 2007, swine facilities for production on pasture: 15 to 20 square feet")
SHADE_OTHERS = Text("from memory of MWPS-8, Swine Housing and Equipment Handbook")
LYING = Text("from memory of Petherick 1983 and EFSA 2005: 0.033 W^0.667 half on the side, 0.047 W^0.667 on the side")
DRINKERS = Text("US extension (swine.extension.org): one for 15 pigs, at least 2; one for 10 just weaned")
ORGANIC_SPACE = Text("Regulation (EC) 889/2008, annex III, replaced by 2020/464 since")
HAY = Text("Potash & Phosphate Institute, Agri-Briefs, Spring 2002, no. 6")
WEATHER_INDEX = Text(
    "Australian veterinary handbook, section 14.2 (cattle); classes: AMS 2002, conference abstract 6A.2, for cattle on "
    "feed"
)
SOW_STAGES = Text("McConn and others 2022, Journal of Animal Science and Biotechnology, doi 10.1186/s40104-022-00789-x")
HOT_ACTIONS = Text("Iowa State University, indices of stress for livestock in hot weather; common practice")
ROUNDWORM = Text("Katakam and others 2016, Parasites & Vectors 9:80: eggs live on for at least 9 years")
QUARANTINE = Text("Australian rural veterinary practice: at least 30 days")
STANDSTILL = Text("gov.uk, general licence, annex A (2016), England: 20 days. Local rules come first")
