"""An energizer as it is typed: what is meant, or what cannot be."""

from __future__ import annotations

from typing import Any, NamedTuple

from pigmap.builtin.panels.card_field import typed_day
from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.records import PowerSource, Soil
from pigmap.text import Text
from pigmap.units import METRES_PER_FOOT, System

MOST_STAKES = 50
SOURCE_WORDS = {
    PowerSource.BATTERY: Text("a battery"),
    PowerSource.SOLAR: Text("a solar panel"),
    PowerSource.MAINS: Text("the mains"),
}
SOIL_WORDS = {
    None: Text("soil not told"),
    Soil.BOG: Text("in bog"),
    Soil.CLAY: Text("in clay"),
    Soil.LOAM: Text("in loam"),
    Soil.SAND: Text("in moist sand"),
    Soil.GRAVEL: Text("in moist gravel"),
    Soil.STONY: Text("in stony ground"),
}


class EnergizerTyped(NamedTuple):
    """What is in the lines and lists."""

    source: PowerSource
    output: str = ""
    open_kv: str = ""
    kv_500: str = ""
    stakes: str = ""
    stake_long: str = ""
    soil: Soil | None = None
    lead: str = ""
    swap_on: str = ""
    battery: str = ""
    earth: str = ""

    def columns(self, units: System) -> dict[str, Any]:
        """Return the columns of an energizer; what was left empty is not known.

        Raises
        ------
        EditError
            If a number or a day is none.
        """
        feet = METRES_PER_FOOT if units == "us" else 1.0
        long, lead = (
            _maybe("The length of an earth stake", self.stake_long, "1"),
            _maybe("The lead-out", self.lead, "20"),
        )
        stakes = self.stakes.strip()
        return {
            "source": self.source,
            "output_j": _maybe("The output", self.output, "0.5"),
            "open_kv": _maybe("The voltage with nothing connected", self.open_kv, "9"),
            "kv_500": _maybe("The voltage on 500 Ω", self.kv_500, "4"),
            "rods": whole_number(Text("The number of earth stakes"), stakes, 0, MOST_STAKES, 3) if stakes else None,
            "rod_m": None if long is None else long * feet,
            "soil": self.soil,
            "lead_m": (lead or 0.0) * feet,
            "swap_on": typed_day(self.swap_on),
        }

    def reading(self) -> tuple[float | None, float | None]:
        """Return the battery [V] and the earth test [kV] as they were read, None where one was not."""
        return _maybe("The battery", self.battery, "12.4"), _maybe("The earth test", self.earth, "0.2")


def _maybe(what: str, typed: str, example: str) -> float | None:
    return number(Text(what), typed, example) if typed.strip() else None
