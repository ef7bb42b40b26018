"""How a group is kept, as it is typed: feed, tank, feeder, drinkers, rings, and the weight at which they go."""

from __future__ import annotations

from typing import Any, NamedTuple

from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.errors import EditError
from pigmap.qt.stage import Stage
from pigmap.records import Group
from pigmap.text import Text
from pigmap.units import KG_PER_POUND, LITRES_PER_GALLON, System

MOST_DRINKERS = 999
PROTEIN_PER_PERCENT = 10.0
"""Grams in a kilogram for each percent."""


class KeptTyped(NamedTuple):
    """What is in the lines and lists; what is left empty is not known."""

    tank: str = ""
    drinkers: str = ""
    feeder: str = ""
    feed: str = ""
    share: str = ""
    protein: str = ""
    target: str = ""
    ringed: bool = False

    def columns(self, units: System) -> dict[str, Any]:
        """Return the columns of a group.

        Raises
        ------
        EditError
            If a number is none, or cannot be.
        """
        kilograms, litres = (KG_PER_POUND, LITRES_PER_GALLON) if units == "us" else (1.0, 1.0)
        drinkers = self.drinkers.strip()
        return {
            "tank_l": _maybe("The water carried to them", self.tank, "300", litres),
            "drinkers": whole_number(_DRINKERS, drinkers, 0, MOST_DRINKERS, 2) if drinkers else None,
            "feeder_kg": _maybe("The feed carried to them", self.feeder, "100", kilograms),
            "feed_kg": _maybe("The feed of one pig", self.feed, "2.5", kilograms),
            "feed_share": _maybe("The share of a full ration", self.share, "100", 0.01),
            "feed_protein_g_kg": _maybe("The protein in the feed", self.protein, "15", PROTEIN_PER_PERCENT),
            "target_kg": _maybe("The weight at which they go", self.target, "110", kilograms),
            "ringed": self.ringed,
        }


def kept_lines(stage: Stage) -> dict[str, tuple[str, str]]:
    """Return what is asked for in a line, by its name in `KeptTyped`: the label, and what stands in an empty line."""
    us, not_known = stage.units == "us", stage.say("not known")
    return {
        "tank": (stage.say("Water carried at a time, gal" if us else "Water carried at a time, L"), not_known),
        "drinkers": (stage.say("Drinkers, how many"), not_known),
        "feeder": (stage.say("Feed carried at a time, lb" if us else "Feed carried at a time, kg"), not_known),
        "feed": (stage.say("Feed of one pig a day, lb" if us else "Feed of one pig a day, kg"), stage.say("as usual")),
        "target": (stage.say("They go at, lb each" if us else "They go at, kg each"), not_known),
        "share": (stage.say("Share of a full ration, %"), "100"),
        "protein": (stage.say("Protein in the feed, %"), not_known),
    }


_DRINKERS = Text("The number of drinkers")


def kept_of(group: Group, units: System) -> KeptTyped:
    """Return what is known of a group, as it would be typed.

    Examples
    --------
    >>> kept_of(Group(name="Hogs", tank_l=300.0, feed_share=0.8), "metric")[:5]
    ('300', '', '', '', '80')
    """
    kilograms, litres = (KG_PER_POUND, LITRES_PER_GALLON) if units == "us" else (1.0, 1.0)
    return KeptTyped(
        _shown(group.tank_l, litres),
        "" if group.drinkers is None else str(group.drinkers),
        _shown(group.feeder_kg, kilograms),
        _shown(group.feed_kg, kilograms),
        _shown(group.feed_share, 0.01),
        _shown(group.feed_protein_g_kg, PROTEIN_PER_PERCENT),
        _shown(group.target_kg, kilograms),
        group.ringed,
    )


def _shown(value: float | None, per: float) -> str:
    return "" if value is None else f"{value / per:.4g}"


def _maybe(what: str, typed: str, example: str, per: float) -> float | None:
    words = typed.strip().removesuffix("%").strip()
    if not words:
        return None
    found = number(Text(what), words, example)
    if found < 0:
        raise EditError("{what} is {typed}.", remedy="Give a number of at least 0.", what=Text(what), typed=words)
    return found * per
