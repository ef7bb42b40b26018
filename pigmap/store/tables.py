"""What each farm table keeps beyond the types of its columns: limits, references, indexes. One line a fact."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType

from pigmap.records import (
    TABLES,
    Check,
    Energizer,
    EnergizerReading,
    Escape,
    Field,
    FlowLine,
    GearPlace,
    GroundJob,
    Group,
    GroupEvent,
    Image,
    KeepOut,
    Litter,
    MoveDone,
    Net,
    NetKind,
    NetRepair,
    NetUse,
    OwnDays,
    Paddock,
    Photo,
    Place,
    Purpose,
    Record,
    RegisterEntry,
    Setting,
    SlaughterBooking,
    Stay,
    Terrain,
    Treatment,
    Way,
    WeatherDay,
)
from pigmap.records.energizer import MOST_OUTPUT_J
from pigmap.records.frozen import dataclass

Limit = tuple[float, float | None]
"""Least and most, both allowed; no most leaves it open."""


@dataclass(frozen=True, slots=True)
class TableRule:
    """One farm table; its columns are those of its record."""

    record: type[Record]
    limits: Mapping[str, Limit] = field(default_factory=dict)
    named: tuple[str, ...] = ()
    """Columns that may not be blank."""
    month_days: tuple[str, ...] = ()
    """Columns that hold a day of any year as MM-DD."""
    conditions: Mapping[str, str] = field(default_factory=dict)
    """Further conditions over several columns, by the column they are reported for."""
    refers: Mapping[str, str] = field(default_factory=dict)
    """Columns that hold the uid of a row of another table."""
    indexes: tuple[tuple[str, ...], ...] = ()
    unique: tuple[str, ...] = ()
    since: Mapping[str, int] = field(default_factory=dict)
    """Columns that a later step brought, by the number of the step; the others came with the table."""
    step: int = 1
    """Number of the step that made the table."""

    @property
    def name(self) -> str:
        """The table's name."""
        return self.record.TABLE


_RULES = (
    TableRule(Field, limits={"cell_m": (0.25, 50), "turned_deg": (0, 90)}, named=("name",), since={"forage": 4}),
    TableRule(
        Purpose,
        limits={"rest_days_wanted": (0, None), "rooting_wanted": (0, 1)},
        month_days=("from_month_day", "to_month_day"),
        refers={"field_uid": "fields"},
    ),
    TableRule(
        KeepOut,
        limits=dict.fromkeys(("radius_m", "net_m", "gear_m", "vehicle_m"), (0, None)),
        month_days=("from_month_day", "to_month_day"),
        refers={"field_uid": "fields"},
    ),
    TableRule(
        Way,
        limits=dict.fromkeys(("voltage_kv", "clearance_m", "minutes_to_clear"), (0, None)) | {"height_m": (0, 200)},
        refers={"energizer_uid": "places"},
        since={"height_m": 4, "communication": 4},
    ),
    TableRule(Place, limits={"radius_m": (0, None)}),
    TableRule(
        Paddock,
        limits={"nets_long": (1, None), "nets_wide": (1, None)},
        named=("name",),
        refers={"field_uid": "fields", "net_kind_uid": "net_kinds", "energizer_uid": "energizers"},
        since={"energizer_uid": 3, "own_switch": 3, "side_nets": 5},
    ),
    TableRule(
        Group,
        limits={
            "colour_index": (0, 7),
            "feed_share": (0, 1.5),
            "feed_kg": (0, 20),
            "feed_protein_g_kg": (0, 600),
            **dict.fromkeys(("tank_l", "feeder_kg", "drinkers"), (0, None)),
            "target_kg": (0.3, 600),
        },
        named=("name",),
        since=dict.fromkeys(
            (
                "ringed",
                "feed_share",
                "feed_kg",
                "feed_protein_g_kg",
                "tank_l",
                "feeder_kg",
                "drinkers",
                "target_kg",
            ),
            4,
        )
        | {"tank_filled_on": 5, "feeder_filled_on": 5},
    ),
    TableRule(
        GroupEvent,
        limits={"pigs": (0, None), "mean_kg": (0.3, 600), "withdrawal_days": (0, 3650)},
        refers={"group_uid": "groups", "other_group_uid": "groups"},
        since={"weighed_by": 4},
        indexes=(("group_uid", "happened_on"),),
    ),
    TableRule(
        Stay,
        conditions={"out_on": "CASE WHEN out_on IS NULL THEN state <> 'past' ELSE out_on >= in_on END"},
        refers={"group_uid": "groups", "paddock_uid": "paddocks"},
        indexes=(("paddock_uid", "in_on"), ("group_uid", "in_on")),
    ),
    TableRule(
        NetKind,
        limits={"height_mm": (1, None), "ohm_per_km": (0, None), "leak": (0, None), "price": (0, None)},
        named=("name",),
        since={"price": 3},
        conditions={"bays_mm": "json_array_length(bays_mm) > 0"},
    ),
    TableRule(
        Net,
        conditions={"retired_on": "retired_on IS NULL OR first_used_on IS NULL OR retired_on >= first_used_on"},
        refers={"net_kind_uid": "net_kinds"},
        since={"damaged_on": 5},
    ),
    TableRule(
        NetUse,
        conditions={"taken_on": "taken_on IS NULL OR taken_on >= set_on"},
        refers={"net_uid": "nets", "net_kind_uid": "net_kinds", "paddock_uid": "paddocks"},
        indexes=(("paddock_uid", "set_on"),),
    ),
    TableRule(
        Check,
        limits={"fence_kv": (0, 20), "tester_lights": (0, 20), "pigs_seen": (0, None), "rooting_score": (0, 4)},
        refers={"group_uid": "groups", "paddock_uid": "paddocks"},
        indexes=(("checked_on",), ("paddock_uid", "checked_on")),
    ),
    TableRule(
        Image,
        limits={"opacity": (0, 1)},
        named=("name", "link"),
        since={"pins": 2, "bands": 3, "darkest": 3, "brightest": 3},
    ),
    TableRule(
        WeatherDay,
        limits={"rain_mm": (0, 2000), "min_c": (-90, 60), "max_c": (-90, 60), "humidity_pct": (0, 100)},
        since={"humidity_pct": 4, "hot": 4},
        conditions={"max_c": "min_c IS NULL OR max_c IS NULL OR max_c >= min_c"},
        indexes=(("day",),),
    ),
    TableRule(Setting, named=("key",), conditions={"value_json": "json_valid(value_json)"}, unique=("key",)),
    TableRule(
        GroundJob,
        limits={"within_days": (0, None), "rooting_score": (0, 4), "n_kg_ha": (0, None)},
        conditions={"until_on": "until_on IS NULL OR happened_on IS NULL OR until_on >= happened_on"},
        step=2,
    ),
    TableRule(
        Energizer,
        limits={
            "output_j": (0, MOST_OUTPUT_J),
            **dict.fromkeys(("open_kv", "kv_500", "rods", "rod_m", "rod_mm", "rods_apart_m"), (0, None)),
            **dict.fromkeys(("lead_m", "lead_ohm_per_km"), (0, None)),
        },
        named=("name",),
        conditions={"kv_500": "open_kv IS NULL OR kv_500 IS NULL OR kv_500 <= open_kv"},
        refers={"place_uid": "places", "group_uid": "groups"},
        step=3,
    ),
    TableRule(
        EnergizerReading,
        limits={"battery_v": (0, 60), "earth_kv": (0, 20)},
        refers={"energizer_uid": "energizers"},
        indexes=(("energizer_uid", "read_on"),),
        step=3,
    ),
    TableRule(NetRepair, refers={"net_uid": "nets"}, since={"damaged_on": 5}, step=3),
    TableRule(
        Treatment,
        limits={"pigs": (0, None), "withdrawal_days": (0, 3650)},
        named=("product",),
        conditions={"last_on": "last_on IS NULL OR last_on >= given_on"},
        refers={"group_uid": "groups"},
        indexes=(("group_uid", "given_on"),),
        step=4,
    ),
    TableRule(
        Escape,
        limits={"fence_kv": (0, 20), "pigs_out": (0, None), "pigs_back": (0, None)},
        refers={"group_uid": "groups", "paddock_uid": "paddocks"},
        step=4,
    ),
    TableRule(
        Litter,
        limits={"born": (0, None), "weaned": (0, None)},
        named=("sow",),
        conditions={
            "farrowed_on": "served_on IS NULL OR farrowed_on IS NULL OR farrowed_on >= served_on",
            "weaned_on": "farrowed_on IS NULL OR weaned_on IS NULL OR weaned_on >= farrowed_on",
        },
        refers={"group_uid": "groups", "weaned_group_uid": "groups"},
        step=4,
    ),
    TableRule(
        SlaughterBooking,
        limits={"pigs": (1, None), "least_kg": (0.3, 600), "gone": (0, None), "dead_kg": (0.3, 600)},
        refers={"group_uid": "groups", "place_uid": "places"},
        step=4,
    ),
    TableRule(
        RegisterEntry,
        limits={"pigs": (1, None)},
        refers={"group_uid": "groups", "booking_uid": "slaughter_bookings"},
        indexes=(("happened_on",),),
        step=4,
    ),
    TableRule(
        OwnDays,
        limits={"days": (0.25, 366)},
        month_days=("from_month_day", "to_month_day"),
        refers={"group_uid": "groups"},
        step=4,
    ),
    TableRule(Terrain, named=("name", "link"), step=4),
    TableRule(
        MoveDone,
        limits={"minutes": (1, 1440), "people": (1, 50)},
        refers={"to_stay_uid": "stays"},
        indexes=(("to_stay_uid",),),
        step=4,
    ),
    TableRule(
        Photo,
        limits={"width_px": (1, None), "height_px": (1, None)},
        named=("sha256",),
        refers={"check_uid": "checks", "paddock_uid": "paddocks", "field_uid": "fields"},
        step=4,
    ),
    TableRule(
        GearPlace,
        refers={"group_uid": "groups", "stay_uid": "stays"},
        indexes=(("group_uid", "set_on"),),
        step=5,
    ),
    TableRule(FlowLine, step=5),
)

RULES: Mapping[str, TableRule] = MappingProxyType({rule.name: rule for rule in _RULES})
"""The rule of each farm table, by its name."""

if set(RULES) != set(TABLES):
    raise RuntimeError(f"farm tables without a rule, or the other way round: {sorted(set(RULES) ^ set(TABLES))}")
