"""What can be taken in, what each kind is called, and the usual names of the columns that tell of it."""

from __future__ import annotations

from collections.abc import Mapping

from pigmap.text import Text

KIND_WORDS: Mapping[str, Text] = {
    "fields": Text("fields"),
    "purposes": Text("purposes of fields"),
    "keepouts": Text("keep-outs"),
    "ways": Text("ways"),
    "places": Text("places"),
    "paddocks": Text("paddocks"),
    "groups": Text("groups"),
    "events": Text("entries of groups"),
    "energizers": Text("energizers"),
    "netkinds": Text("net kinds"),
    "nets": Text("nets"),
    "stays": Text("stays"),
    "checks": Text("daily checks"),
    "weather": Text("days of weather"),
}
KINDS = tuple(KIND_WORDS)
"""What can be taken in, in an order in which one can follow the other: stays name groups and paddocks.

Other tables of a farm stay out: images and terrain are linked where they lie; photos belong to a daily check; choices
are made in the window; where nets stood, what was mended on them, what was read at an energizer and how long a move
took follow from what is recorded as it is done; and the books of treatments, litters, escapes, bookings and of who
came and went are kept entry by entry, since they are what an inspector asks for. Corners and the state of the ground
are worked out from paddocks, stays and checks.
"""
NEEDED: Mapping[str, tuple[str, ...]] = {
    "purposes": ("field", "from", "to", "purpose"),
    "groups": ("name",),
    "events": ("group", "day"),
    "energizers": ("name",),
    "netkinds": ("name",),
    "stays": ("group", "paddock", "in"),
    "checks": ("paddock", "day"),
}
"""What rows say nothing without."""

_NOTE = ("note", "notes", "remark", "remarks", "comment", "bemerkung", "cmt")
_NAME = ("name", "label", "title")
_KIND = ("kind", "type", "what")
_DAY = ("day", "date", "on", "datum")
_DAY_IN = ("in", "in_on", "day_in", "from", "start", "started", "begin", "moved_in", "arrived", "von")
_DAY_OUT = ("out", "out_on", "day_out", "to", "until", "end", "ended", "moved_out", "left", "bis")
_PADDOCK = ("paddock", "paddock_name", "strip", "break", "koppel")
_GROUP = ("group", "group_name", "pigs_of", "mob", "herd", "gruppe")
_FIELD = ("field", "field_name", "feld", "schlag")
_PIGS = ("pigs", "count", "counted", "number", "head")
_KG = ("kg", "mean_kg", "weight_kg", "weight", "mean_weight", "about_kg")
_FROM_DAY = ("from_month_day", "from_md", "from_day", "from", "begins", "von")
_TO_DAY = ("to_month_day", "to_md", "to_day", "to", "until", "ends", "bis")

USUAL: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "fields": {
        "name": ("name",),
        "ground_cover": ("ground_cover", "ground_cov", "cover", "land_use", "landuse"),
        "forage": ("forage",),
        "soil": ("soil",),
        "retired_on": ("retired_on",),
        "purposes": ("purposes",),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "purposes": {
        "field": (*_FIELD, "name"),
        "from": _FROM_DAY,
        "to": _TO_DAY,
        "purpose": ("purpose", "use", "for"),
        "rest_days_wanted": ("rest_days_wanted", "rest_days", "rest"),
        "rooting_wanted": ("rooting_wanted", "rooting_0_to_1", "rooting"),
        "uid": ("uid",),
    },
    "keepouts": {
        "name": _NAME,
        "reason": ("reason", "kind", "type", "why"),
        "radius_m": ("radius_m", "radius"),
        "net_m": ("net_m", "net_distance_m"),
        "gear_m": ("gear_m", "gear_distance_m"),
        "vehicle_m": ("vehicle_m", "vehicle_distance_m"),
        "field": _FIELD,
        "from_month_day": ("from_month_day", "from_md", "from_day"),
        "to_month_day": ("to_month_day", "to_md", "to_day"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "ways": {
        "name": _NAME,
        "kind": _KIND,
        "voltage_kv": ("voltage_kv", "kv", "voltage"),
        "clearance_m": ("clearance_m", "clearanc_m", "clearance"),
        "height_m": ("height_m", "height"),
        "communication": ("communication", "communicat", "telephone"),
        "electric": ("electric",),
        "energizer": ("energizer", "energiser"),
        "minutes_to_clear": ("minutes_to_clear", "min_clear", "minutes"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "places": {
        "name": _NAME,
        "kind": _KIND,
        "radius_m": ("radius_m", "radius"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "paddocks": {
        "name": ("name", *_PADDOCK, "label", "title"),
        "field": _FIELD,
        "net_kind": ("net_kind", "nets", "net", "kind"),
        "nets_long": ("nets_long", "long"),
        "nets_wide": ("nets_wide", "wide"),
        "energizer": ("energizer", "energiser"),
        "own_switch": ("own_switch", "switch"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "groups": {
        "name": ("name", *_GROUP),
        "class": ("class", "pig_class", "kind", "type"),
        "breed": ("breed_type", "breed"),
        "pigs": _PIGS,
        "kg": _KG,
        "since": ("since", "from", "arrived", "came", "day", "date"),
        "mark": ("mark", "tag", "herd_mark"),
        "from_where": ("from_where", "came_from"),
        "ringed": ("ringed",),
        "feed_share": ("feed_share",),
        "feed_kg": ("feed_kg",),
        "feed_protein_g_kg": ("feed_protein_g_kg", "protein_g_kg", "protein"),
        "tank_l": ("tank_l", "tank"),
        "feeder_kg": ("feeder_kg", "feeder"),
        "drinkers": ("drinkers",),
        "target_kg": ("target_kg", "target"),
        "closed_on": ("closed_on", "ended_on", "end"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "events": {
        "group": (*_GROUP, "name"),
        "day": ("happened_on", "weighed_on", *_DAY),
        "kind": (*_KIND, "event"),
        "pigs": _PIGS,
        "kg": _KG,
        "weighed_by": ("weighed_by",),
        "other_group": ("other_group", "to_group", "from_group"),
        "withdrawal_days": ("withdrawal_days", "withdrawal"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "energizers": {
        "name": _NAME,
        "source": ("source", "runs_on", "power"),
        "output_j": ("output_j", "joule_500ohm", "joule", "output"),
        "open_kv": ("open_kv",),
        "kv_500": ("kv_500", "kv_500ohm"),
        "rods": ("rods", "stakes", "earth_stakes"),
        "rod_m": ("rod_m", "stake_m"),
        "rod_mm": ("rod_mm", "stake_mm"),
        "rods_apart_m": ("rods_apart_m", "stakes_apart_m"),
        "soil": ("soil",),
        "lead_m": ("lead_m", "lead"),
        "lead_ohm_per_km": ("lead_ohm_per_km",),
        "swap_on": ("swap_on",),
        "group": _GROUP,
        "place": ("place", "stands_at"),
        "note": _NOTE,
        "uid": ("uid",),
    },
    "netkinds": {
        "name": (*_NAME, "net_kind", "kind"),
        "tape": ("tape", "colour", "color"),
        "length_m": ("length_m", "length"),
        "posts": ("posts",),
        "bays_mm": ("bays_mm", "bays"),
        "height_mm": ("height_mm", "height"),
        "ohm_per_km": ("ohm_per_km",),
        "leak_kohm": ("leak_kohm", "leak"),
        "price": ("price",),
        "uid": ("uid",),
    },
    "stays": {
        "group": _GROUP,
        "paddock": _PADDOCK,
        "field": ("field", "field_name"),
        "in": _DAY_IN,
        "out": _DAY_OUT,
        "state": ("state",),
        "why_planned": ("why_planned", "why_plan"),
        "uid": ("uid",),
    },
    "checks": {
        "paddock": _PADDOCK,
        "field": ("field", "field_name"),
        "group": _GROUP,
        "day": ("day", "date", "checked_on", "on", "checked", "datum"),
        "kv": ("kv", "fence_kv", "volts_kv", "voltage_kv", "voltage"),
        "lights": ("lights", "tester_lights"),
        "pigs": ("pigs", "pigs_seen", "count", "counted"),
        "water_ok": ("water_ok", "water"),
        "soil_on_net": ("soil_on_net", "soil_net", "soil"),
        "rooting": ("rooting", "rooting_0_to_4", "root_0to4", "rooting_score"),
        "damage": ("damage",),
        "seen_by": ("seen_by", "by", "who"),
        "note": _NOTE,
        "all_well": ("all_well", "well"),
        "uid": ("uid",),
    },
    "nets": {},
    "weather": {},
}
"""Usual names of the columns of each kind, in small letters, the best first. Own choice."""
