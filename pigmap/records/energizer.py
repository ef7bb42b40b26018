"""Energizers: what feeds the fences, and what was read off them."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day, need_name
from pigmap.records.record import Record

MOST_OUTPUT_J = 5.0
"""Most energy of a pulse that an energizer for livestock gives in 500 Ω [J].

Requirements for energy-limited energizers after IEC 60335-2-76, as quoted by extension services and instruction
sheets; the standard itself was not read.
"""
USUAL_LEAD_OHM_PER_KM = 31.0
"""Resistance of a lead-out of 2.5 mm steel wire [Ω/km], worked out from the resistivity of steel; from memory."""


class PowerSource(StrEnum):
    """What an energizer runs on."""

    MAINS = "mains"
    BATTERY = "battery"
    SOLAR = "solar"


class Soil(StrEnum):
    """What the earth stakes stand in, by how well it leads."""

    BOG = "bog"
    CLAY = "clay"
    LOAM = "loam"
    SAND = "moist sand"
    GRAVEL = "moist gravel"
    STONY = "stony"


@dataclass(frozen=True, slots=True, kw_only=True)
class Energizer(Record):
    """One energizer with its lead-out and its earth stakes: it stays at a place, or moves with a group."""

    TABLE: ClassVar[str] = "energizers"

    name: str
    source: PowerSource = PowerSource.BATTERY
    place_uid: str | None = None
    """Where it stands; None where it travels."""
    group_uid: str | None = None
    """The group it moves with; None where it moves with nobody."""
    output_j: float | None = None
    """Energy of a pulse in 500 Ω [J], never what the unit stores."""
    open_kv: float | None = None
    """Peak with nothing connected [kV]."""
    kv_500: float | None = None
    """Peak on 500 Ω [kV]."""
    rods: int | None = None
    """Earth stakes."""
    rod_m: float | None = None
    """Length of each in the ground [m]."""
    rod_mm: float | None = None
    """Thickness of each [mm]."""
    rods_apart_m: float | None = None
    soil: Soil | None = None
    lead_m: float = 0.0
    """Length of the lead-out to the fence [m]."""
    lead_ohm_per_km: float = USUAL_LEAD_OHM_PER_KM
    swap_on: date | None = None
    """The day on which the battery is to be swapped."""
    note: str = ""

    def __post_init__(self) -> None:
        need_name("energizer", self.name)
        for what, value in (
            ("output in J", self.output_j),
            ("open voltage in kV", self.open_kv),
            ("voltage on 500 Ω in kV", self.kv_500),
            ("number of earth stakes", self.rods),
            ("length of an earth stake in m", self.rod_m),
            ("thickness of an earth stake in mm", self.rod_mm),
            ("distance of the earth stakes in m", self.rods_apart_m),
            ("length of the lead-out in m", self.lead_m),
            ("resistance of the lead-out in Ω/km", self.lead_ohm_per_km),
        ):
            need_at_least(f"The {what} of {self.name}", value, 0.0)
        need_day(f"The day of a new battery for {self.name}", self.swap_on)
        self._refuse_what_no_energizer_gives()

    def _refuse_what_no_energizer_gives(self) -> None:
        if self.output_j is not None and self.output_j > MOST_OUTPUT_J:
            raise RecordError(
                "{name} would give {value} J into 500 Ω; energizers for livestock give at most {most} J.",
                remedy="Give the output from its data sheet; what a unit stores is more than it gives.",
                name=self.name,
                value=f"{self.output_j:g}",
                most=f"{MOST_OUTPUT_J:g}",
            )
        if self.open_kv is not None and self.kv_500 is not None and self.kv_500 > self.open_kv:
            raise RecordError(
                "{name} would have {loaded} kV on 500 Ω and {open} kV with nothing connected.",
                remedy="Look at the data sheet again: with nothing connected the voltage is never the lower one.",
                name=self.name,
                loaded=f"{self.kv_500:g}",
                open=f"{self.open_kv:g}",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class EnergizerReading(Record):
    """What was read at an energizer on a day; what was not looked at is None."""

    TABLE: ClassVar[str] = "energizer_readings"

    energizer_uid: str
    read_on: date
    battery_v: float | None = None
    """Voltage of the battery at rest [V]."""
    earth_kv: float | None = None
    """Between the earth stakes and a probe in the ground, with the fence shorted far away [kV]."""
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of a reading", self.read_on)
        need_between("The voltage of the battery in V", self.battery_v, 0.0, 60.0)
        need_between("The voltage of the earth test in kV", self.earth_kv, 0.0, 20.0)
