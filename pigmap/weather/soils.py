"""Soils by how much water they hold and how long they drain: four classes, read from a keeper's own words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from pigmap.records.frozen import dataclass
from pigmap.text import Text


class SoilClass(StrEnum):
    """How a soil takes water."""

    SAND = "sand"
    LOAM = "loam"
    CLAY = "clay"
    PEAT = "peat"


@dataclass(frozen=True, slots=True)
class SoilLayer:
    """One layer of soil with grass in it."""

    holds_share: float
    """Water between full and wilted, as a share of its volume."""
    drain_days: int = 0
    """Days for which water that is too much stands before it has drained away."""
    roots_m: float = 0.5
    """How deep roots go [m]."""
    easy_share: float = 0.60
    """Share of the water that grass takes up as easily as when the soil is full."""
    uptake: float = 0.85
    """What this grass takes up, of reference evapotranspiration."""

    @property
    def holds_mm(self) -> float:
        """Water between full and wilted [mm]."""
        return 1000.0 * self.holds_share * self.roots_m


LAYERS: Mapping[SoilClass, SoilLayer] = MappingProxyType(
    {
        SoilClass.SAND: SoilLayer(0.08, 0),
        SoilClass.LOAM: SoilLayer(0.155, 1),
        SoilClass.CLAY: SoilLayer(0.16, 3),
        SoilClass.PEAT: SoilLayer(0.30, 3),
    }
)
"""What each class holds.

Water: from memory, FAO Irrigation and drainage paper 56, 1998, table 19 (sand 0.05 to 0.11, loam 0.13 to 0.18, clay
0.12 to 0.20): the middle of each; peat assumed. Uptake and roots of grazed pasture: from memory, the same paper, tables
12 (0.75 to 1.0) and 22 (0.5 to 1.0 m, easily taken share 0.60): the middle, and the shallow end, since pigs root.
Days of draining: assumed.
"""

WORDS: Mapping[SoilClass, tuple[str, ...]] = MappingProxyType(
    {
        SoilClass.SAND: ("sand", "gravel", "brash", "stony", "stones", "shingle", "chalk", "sandy", "light"),
        SoilClass.LOAM: ("loam", "silt", "loess", "brickearth", "loamy", "silty", "medium"),
        SoilClass.CLAY: ("clay", "marl", "gault", "clayey", "heavy"),
        SoilClass.PEAT: ("peat", "bog", "moss", "fen", "muck", "peaty", "boggy"),
    }
)
"""Words of each class. Common practice: the last noun names the soil, so a sandy loam is a loam; with clay in its name
it stands wet as clay does."""
_ADJECTIVES = frozenset({"sandy", "light", "loamy", "silty", "medium", "clayey", "heavy", "peaty", "boggy", "stony"})
_BELOW = re.compile(r"\b(?:over|on|above|upon)\b")

NOT_KNOWN = Text("Say whether its soil is sand, loam, clay or peat; the longer name of a soil may go with it.")
"""What to do where words name none of the classes."""


def soil_class(told: str | None) -> SoilClass | None:
    """Return the class that a keeper's words for a soil name; None where they name none.

    Of a soil over another the upper one counts: it is what pigs stand on.

    Examples
    --------
    >>> [str(soil_class(told)) for told in ("Sandy loam over clay", "clay loam", "loamy sand", "red earth")]
    ['loam', 'clay', 'sand', 'None']
    """
    upper = _BELOW.split((told or "").casefold())[0]
    of_word = {word: kind for kind, words in WORDS.items() for word in words}
    found = [word for word in re.findall(r"[^\W\d_]+", upper) if word in of_word]
    nouns = [word for word in found if word not in _ADJECTIVES] or found
    if any(of_word[word] is SoilClass.CLAY for word in nouns):
        return SoilClass.CLAY
    return of_word[nouns[-1]] if nouns else None
