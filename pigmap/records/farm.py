"""The farm: every record of one file at one revision, never changed in place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from types import MappingProxyType
from typing import Any, TypeVar

from pigmap.records.care import Escape, Litter, SlaughterBooking, Treatment
from pigmap.records.change import RowChange
from pigmap.records.check import Check
from pigmap.records.energizer import Energizer, EnergizerReading
from pigmap.records.field import Field, Purpose
from pigmap.records.flow_line import FlowLine
from pigmap.records.frozen import dataclass
from pigmap.records.gear import GearPlace
from pigmap.records.ground_job import GroundJob
from pigmap.records.group import Group, GroupEvent
from pigmap.records.move_done import MoveDone
from pigmap.records.net import Net, NetKind, NetRepair, NetUse
from pigmap.records.own_days import OwnDays
from pigmap.records.paddock import Paddock
from pigmap.records.photo import Photo
from pigmap.records.projection import Projection, projection_changed
from pigmap.records.record import Record
from pigmap.records.register import RegisterEntry
from pigmap.records.rows import ChangedRows
from pigmap.records.setting import Setting
from pigmap.records.stay import Stay
from pigmap.records.surroundings import Image, KeepOut, Place, Way
from pigmap.records.terrain import Terrain
from pigmap.records.weather import WeatherDay

R = TypeVar("R", bound=Record)
Rows = Mapping[str, R]


def _none() -> Mapping[str, Any]:
    return MappingProxyType({})


TABLES: Mapping[str, type[Record]] = MappingProxyType(
    {
        kind.TABLE: kind
        for kind in (
            Field,
            Purpose,
            KeepOut,
            Way,
            Place,
            Group,
            GroupEvent,
            Energizer,
            EnergizerReading,
            NetKind,
            Paddock,
            Stay,
            Net,
            NetRepair,
            NetUse,
            Check,
            Image,
            WeatherDay,
            Setting,
            GroundJob,
            Treatment,
            Escape,
            Litter,
            SlaughterBooking,
            RegisterEntry,
            OwnDays,
            Terrain,
            MoveDone,
            Photo,
            GearPlace,
            FlowLine,
        )
    }
)
"""The record of each table, in an order in which rows can be added without pointing at what is not there yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Farm:
    """One farm at one revision: a mapping from uid to record for each table."""

    document_uid: str
    projection: Projection
    revision: int = 0
    fields: Rows[Field] = field(default_factory=_none)
    purposes: Rows[Purpose] = field(default_factory=_none)
    keep_outs: Rows[KeepOut] = field(default_factory=_none)
    ways: Rows[Way] = field(default_factory=_none)
    places: Rows[Place] = field(default_factory=_none)
    paddocks: Rows[Paddock] = field(default_factory=_none)
    groups: Rows[Group] = field(default_factory=_none)
    group_events: Rows[GroupEvent] = field(default_factory=_none)
    stays: Rows[Stay] = field(default_factory=_none)
    net_kinds: Rows[NetKind] = field(default_factory=_none)
    nets: Rows[Net] = field(default_factory=_none)
    net_uses: Rows[NetUse] = field(default_factory=_none)
    checks: Rows[Check] = field(default_factory=_none)
    images: Rows[Image] = field(default_factory=_none)
    weather_days: Rows[WeatherDay] = field(default_factory=_none)
    settings: Rows[Setting] = field(default_factory=_none)
    ground_jobs: Rows[GroundJob] = field(default_factory=_none)
    energizers: Rows[Energizer] = field(default_factory=_none)
    energizer_readings: Rows[EnergizerReading] = field(default_factory=_none)
    net_repairs: Rows[NetRepair] = field(default_factory=_none)
    treatments: Rows[Treatment] = field(default_factory=_none)
    escapes: Rows[Escape] = field(default_factory=_none)
    litters: Rows[Litter] = field(default_factory=_none)
    slaughter_bookings: Rows[SlaughterBooking] = field(default_factory=_none)
    register_entries: Rows[RegisterEntry] = field(default_factory=_none)
    own_days: Rows[OwnDays] = field(default_factory=_none)
    terrains: Rows[Terrain] = field(default_factory=_none)
    moves: Rows[MoveDone] = field(default_factory=_none)
    photos: Rows[Photo] = field(default_factory=_none)
    gear_places: Rows[GearPlace] = field(default_factory=_none)
    flow_lines: Rows[FlowLine] = field(default_factory=_none)

    def rows(self, table: str) -> Rows[Record]:
        """Return the rows of a table by its name.

        Raises
        ------
        KeyError
            If there is no such table.
        """
        if table not in TABLES:
            raise KeyError(table)
        rows: Rows[Record] = getattr(self, table)
        return rows

    def after(self, changes: Iterable[RowChange]) -> Farm:
        """Return the farm with these changes made, one revision on."""
        touched: dict[str, list[tuple[str, Record | None]]] = {}
        projection = self.projection
        for each in changes:
            if each.table == Setting.TABLE:
                projection = projection_changed(each.before, each.after) or projection
            touched.setdefault(each.table, []).append((each.uid, each.after))
        frozen: dict[str, Any] = {table: ChangedRows.after(self.rows(table), rows) for table, rows in touched.items()}
        return replace(self, revision=self.revision + 1, projection=projection, **frozen)

    def setting(self, key: str, default: Any = None) -> Any:
        """Return the value of a setting, or the default where it is not set."""
        return next((row.value for row in self.settings.values() if row.key == key), default)

    @property
    def name(self) -> str:
        """What the farm is called."""
        return str(self.setting("farm name", ""))
