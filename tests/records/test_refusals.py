"""Every refusal of a record, in words: what is wrong with which value, and what to do."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
import shapely

from pigmap.errors import RecordError
from pigmap.records import (
    Check,
    Direction,
    Energizer,
    EnergizerReading,
    Escape,
    Field,
    FlowLine,
    GearKind,
    GearPlace,
    GroundJob,
    GroundJobKind,
    Group,
    GroupEvent,
    GroupEventKind,
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
    PlaceKind,
    Purpose,
    Reason,
    Record,
    RegisterEntry,
    Setting,
    SlaughterBooking,
    Stay,
    StayState,
    Terrain,
    Treatment,
    Use,
    Way,
    WayKind,
    WeatherDay,
)

DAY = date(2026, 5, 1)
SQUARE = shapely.box(0, 0, 10, 10)
LINE = shapely.LineString([(0, 0), (1, 1)])
LONG_AGO = date(1815, 6, 18)


def _field(**more: Any) -> Field:
    row: dict[str, Any] = {"name": "Long", "outline": shapely.MultiPolygon([SQUARE]), "origin_x_m": 0.0}
    return Field(**row | {"origin_y_m": 0.0, "turned_deg": 0.0} | more)


def _purpose(**more: Any) -> Purpose:
    row: dict[str, Any] = {"field_uid": "f", "from_month_day": "03-01", "to_month_day": "10-31"}
    return Purpose(**row | {"purpose": Use.GRAZE_LIGHTLY} | more)


def _keep_out(**more: Any) -> KeepOut:
    row: dict[str, Any] = {"name": "Pond", "reason": Reason.POND, "shape": SQUARE}
    return KeepOut(**row | more)


def _way(**more: Any) -> Way:
    row: dict[str, Any] = {"kind": WayKind.OVERHEAD_LINE, "name": "east", "line": LINE}
    return Way(**row | more)


def _place(**more: Any) -> Place:
    row: dict[str, Any] = {"kind": PlaceKind.TREE, "name": "oak", "point": shapely.Point(0, 0)}
    return Place(**row | more)


def _image(**more: Any) -> Image:
    row: dict[str, Any] = {"name": "Aerial", "link": "aerial.tif"}
    return Image(**row | more)


def _paddock(**more: Any) -> Paddock:
    row: dict[str, Any] = {"name": "Long 1", "outline": SQUARE}
    return Paddock(**row | more)


def _group(**more: Any) -> Group:
    row: dict[str, Any] = {"name": "Sows"}
    return Group(**row | more)


def _event(**more: Any) -> GroupEvent:
    row: dict[str, Any] = {"group_uid": "g", "happened_on": DAY, "kind": GroupEventKind.WEIGHED}
    return GroupEvent(**row | more)


def _stay(**more: Any) -> Stay:
    row: dict[str, Any] = {"group_uid": "g", "paddock_uid": "p", "ground": SQUARE, "state": StayState.RUNNING}
    return Stay(**row | {"in_on": DAY} | more)


def _kind(**more: Any) -> NetKind:
    row: dict[str, Any] = {"name": "50 m", "bays_mm": (25_000, 25_000)}
    return NetKind(**row | more)


def _net(**more: Any) -> Net:
    return Net(net_kind_uid="k", **more)


def _repair(**more: Any) -> NetRepair:
    row: dict[str, Any] = {"net_uid": "n", "mended_on": DAY}
    return NetRepair(**row | more)


def _energizer(**more: Any) -> Energizer:
    return Energizer(**{"name": "Far unit"} | more)


def _reading(**more: Any) -> EnergizerReading:
    row: dict[str, Any] = {"energizer_uid": "e", "read_on": DAY}
    return EnergizerReading(**row | more)


def _use(**more: Any) -> NetUse:
    row: dict[str, Any] = {"net_kind_uid": "k", "paddock_uid": "p", "run": LINE, "set_on": DAY}
    return NetUse(**row | more)


def _check(**more: Any) -> Check:
    row: dict[str, Any] = {"checked_on": DAY, "paddock_uid": "p"}
    return Check(**row | more)


def _weather(**more: Any) -> WeatherDay:
    row: dict[str, Any] = {"day": DAY}
    return WeatherDay(**row | more)


def _setting(**more: Any) -> Setting:
    row: dict[str, Any] = {"key": "units", "value_json": '"us"'}
    return Setting(**row | more)


def _job(**more: Any) -> GroundJob:
    row: dict[str, Any] = {"kind": GroundJobKind.USED_BEFORE, "shape": shapely.MultiPolygon([SQUARE])}
    return GroundJob(**row | more)


def _treatment(**more: Any) -> Treatment:
    row: dict[str, Any] = {"group_uid": "g", "given_on": DAY, "product": "Drench"}
    return Treatment(**row | more)


def _escape(**more: Any) -> Escape:
    row: dict[str, Any] = {"group_uid": "g", "happened_on": DAY}
    return Escape(**row | more)


def _litter(**more: Any) -> Litter:
    row: dict[str, Any] = {"group_uid": "g", "sow": "0417"}
    return Litter(**row | more)


def _booking(**more: Any) -> SlaughterBooking:
    row: dict[str, Any] = {"goes_on": DAY}
    return SlaughterBooking(**row | more)


def _entry(**more: Any) -> RegisterEntry:
    row: dict[str, Any] = {"happened_on": DAY, "direction": Direction.ON, "pigs": 12}
    return RegisterEntry(**row | more)


def _own_days(**more: Any) -> OwnDays:
    row: dict[str, Any] = {"days": 5.0}
    return OwnDays(**row | more)


def _terrain(**more: Any) -> Terrain:
    row: dict[str, Any] = {"name": "Heights", "link": "heights.tif"}
    return Terrain(**row | more)


def _move(**more: Any) -> MoveDone:
    row: dict[str, Any] = {"to_stay_uid": "s", "done_on": DAY}
    return MoveDone(**row | more)


def _gear(**more: Any) -> GearPlace:
    row: dict[str, Any] = {"kind": GearKind.SHADE, "group_uid": "g", "set_on": DAY, "point": shapely.Point(1, 1)}
    return GearPlace(**row | more)


def _flow(**more: Any) -> FlowLine:
    row: dict[str, Any] = {"line": shapely.LineString([(0, 0), (1, 1)])}
    return FlowLine(**row | more)


def _photo(**more: Any) -> Photo:
    row: dict[str, Any] = {"sha256": "ab", "width_px": 4, "height_px": 3}
    return Photo(**row | more)


Make = Callable[..., Record]
YEARS = "Give a day between 1900-01-01 and 2200-01-01."
REFUSED: list[tuple[Make, dict[str, Any], str, str]] = [
    (_gear, {"point": shapely.Point()}, "The shade has no shape.", "Draw it again."),
    (_gear, {"set_on": LONG_AGO}, "The day gear was set down is 1815-06-18.", YEARS),
    (_flow, {"line": shapely.LineString()}, "The flow line has no shape.", "Draw it again."),
    (_flow, {"name": "Dip", "line": shapely.LineString()}, "The flow line Dip has no shape.", "Draw it again."),
    (_field, {"name": " "}, "The field has no name.", "Give it one."),
    (_field, {"outline": shapely.MultiPolygon()}, "Field Long has no shape.", "Draw it again."),
    (
        _field,
        {"outline": shapely.MultiPolygon([shapely.Polygon([(0, 0), (1, 0), (math.inf, 1)])])},
        "Field Long has a corner that lies nowhere (a coordinate that is not a number).",
        "Draw it again, or mend the file it came from.",
    ),
    (
        _field,
        {"cell_m": 0.1},
        "The side of the smallest square of Long in metres is 0.1.",
        "Give a number from 0.25 to 50.",
    ),
    (
        _field,
        {"cell_m": math.nan},
        "The side of the smallest square of Long in metres is nan.",
        "Give a number from 0.25 to 50.",
    ),
    (_field, {"turned_deg": 91.0}, "Direction of Long is 91.", "Give a number from 0 to 90."),
    (_field, {"retired_on": LONG_AGO}, "End of use of Long is 1815-06-18.", YEARS),
    (
        _purpose,
        {"from_month_day": "13-01"},
        "A purpose begins or ends on 13-01.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (
        _purpose,
        {"to_month_day": "3-1"},
        "A purpose begins or ends on 3-1.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (
        _purpose,
        {"to_month_day": "02-30"},
        "A purpose begins or ends on 02-30.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (_purpose, {"rest_days_wanted": -1}, "The rest wanted is -1.", "Give a number of at least 0."),
    (_purpose, {"rooting_wanted": 1.5}, "The rooting wanted is 1.5.", "Give a number from 0 to 1."),
    (_keep_out, {"shape": shapely.Point()}, "Keep-out Pond has no shape.", "Draw it again."),
    (_keep_out, {"name": "", "shape": shapely.Point()}, "Keep-out pond has no shape.", "Draw it again."),
    (_keep_out, {"radius_m": -1}, "The radius of Pond is -1.", "Give a number of at least 0."),
    (_keep_out, {"net_m": -1}, "The net distance of Pond is -1.", "Give a number of at least 0."),
    (_keep_out, {"gear_m": math.inf}, "The gear distance of Pond is inf.", "Give a number of at least 0."),
    (_keep_out, {"vehicle_m": -0.5}, "The vehicle distance of Pond is -0.5.", "Give a number of at least 0."),
    (
        _keep_out,
        {"from_month_day": "11-31"},
        "Keep-out Pond begins or ends on 11-31.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (
        _keep_out,
        {"name": "", "to_month_day": "March"},
        "Keep-out pond begins or ends on March.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (_way, {"line": shapely.LineString()}, "The overhead line east has no shape.", "Draw it again."),
    (_way, {"voltage_kv": -11}, "The voltage is -11.", "Give a number of at least 0."),
    (_way, {"clearance_m": -1}, "The clearance is -1.", "Give a number of at least 0."),
    (_way, {"minutes_to_clear": -1}, "The time to clear in minutes is -1.", "Give a number of at least 0."),
    (_place, {"point": shapely.Point()}, "The tree oak has no shape.", "Draw it again."),
    (_place, {"radius_m": -1}, "The radius is -1.", "Give a number of at least 0."),
    (_image, {"name": ""}, "The image has no name.", "Give it one."),
    (_image, {"link": ""}, "The link of the image has no name.", "Give it one."),
    (_image, {"opacity": 1.01}, "The opacity of image Aerial is 1.01.", "Give a number from 0 to 1."),
    (_image, {"opacity": -0.1}, "The opacity of image Aerial is -0.1.", "Give a number from 0 to 1."),
    (_image, {"opacity": math.nan}, "The opacity of image Aerial is nan.", "Give a number from 0 to 1."),
    (_paddock, {"name": ""}, "The paddock has no name.", "Give it one."),
    (_paddock, {"outline": shapely.Polygon()}, "Paddock Long 1 has no shape.", "Draw it again."),
    (
        _paddock,
        {"nets_long": 0},
        "The number of nets on a side of paddock Long 1 is 0.",
        "Give a number of at least 1.",
    ),
    (
        _paddock,
        {"nets_wide": -2},
        "The number of nets on a side of paddock Long 1 is -2.",
        "Give a number of at least 1.",
    ),
    (_group, {"name": "\t"}, "The group has no name.", "Give it one."),
    (_group, {"colour_index": 8}, "The colour of Sows is 8.", "Give a number from 0 to 7."),
    (_group, {"closed_on": LONG_AGO}, "The end of Sows is 1815-06-18.", YEARS),
    (_event, {"happened_on": LONG_AGO}, "The day is 1815-06-18.", YEARS),
    (_event, {"pigs": -1}, "The number of pigs is -1.", "Give a number of at least 0."),
    (_event, {"mean_kg": -4.0}, "The mean weight is -4.", "Give a number from 0.3 to 600."),
    (_event, {"mean_kg": math.inf}, "The mean weight is inf.", "Give a number from 0.3 to 600."),
    (_event, {"withdrawal_days": -1}, "The withdrawal time in days is -1.", "Give a number from 0 to 3650."),
    (_stay, {"ground": shapely.Polygon()}, "The ground of a stay has no shape.", "Draw it again."),
    (_stay, {"in_on": LONG_AGO}, "The day in is 1815-06-18.", YEARS),
    (_stay, {"out_on": date(2200, 1, 1)}, "The day out is 2200-01-01.", YEARS),
    (
        _stay,
        {"out_on": date(2026, 4, 30)},
        "A stay goes out on 2026-04-30, before it comes in on 2026-05-01.",
        "Give a day out that is not before the day in.",
    ),
    (
        _stay,
        {"state": StayState.PAST},
        "A past stay that began on 2026-05-01 has no day out.",
        "Give the day it ended.",
    ),
    (_kind, {"name": ""}, "The net kind has no name.", "Give it one."),
    (
        _kind,
        {"bays_mm": ()},
        "Net kind 50 m has no bays, or one of no length.",
        "Give the length of each bay between two posts.",
    ),
    (
        _kind,
        {"bays_mm": (3_000, 0)},
        "Net kind 50 m has no bays, or one of no length.",
        "Give the length of each bay between two posts.",
    ),
    (_kind, {"height_mm": 0}, "The height of 50 m is 0.", "Give a number of at least 1."),
    (_kind, {"ohm_per_km": -1.0}, "The resistance of 50 m is -1.", "Give a number of at least 0."),
    (_kind, {"leak": -0.1}, "The leak of 50 m is -0.1.", "Give a number of at least 0."),
    (_kind, {"price": -0.5}, "The price of 50 m is -0.5.", "Give a number of at least 0."),
    (_repair, {"mended_on": LONG_AGO}, "The day a net was mended is 1815-06-18.", YEARS),
    (_energizer, {"name": "  "}, "The energizer has no name.", "Give it one."),
    (_energizer, {"rods": -1}, "The number of earth stakes of Far unit is -1.", "Give a number of at least 0."),
    (
        _energizer,
        {"lead_m": math.inf},
        "The length of the lead-out in m of Far unit is inf.",
        "Give a number of at least 0.",
    ),
    (_energizer, {"swap_on": LONG_AGO}, "The day of a new battery for Far unit is 1815-06-18.", YEARS),
    (
        _energizer,
        {"output_j": 15.0},
        "Far unit would give 15 J into 500 Ω; energizers for livestock give at most 5 J.",
        "Give the output from its data sheet; what a unit stores is more than it gives.",
    ),
    (
        _energizer,
        {"open_kv": 4.5, "kv_500": 9.0},
        "Far unit would have 9 kV on 500 Ω and 4.5 kV with nothing connected.",
        "Look at the data sheet again: with nothing connected the voltage is never the lower one.",
    ),
    (_reading, {"read_on": LONG_AGO}, "The day of a reading is 1815-06-18.", YEARS),
    (_reading, {"battery_v": 230.0}, "The voltage of the battery in V is 230.", "Give a number from 0 to 60."),
    (_reading, {"earth_kv": -0.2}, "The voltage of the earth test in kV is -0.2.", "Give a number from 0 to 20."),
    (_net, {"first_used_on": LONG_AGO}, "The first day of a net is 1815-06-18.", YEARS),
    (_net, {"retired_on": LONG_AGO}, "The last day of a net is 1815-06-18.", YEARS),
    (
        _net,
        {"first_used_on": DAY, "retired_on": date(2026, 4, 30)},
        "A net goes out of use on 2026-04-30, before it is first used on 2026-05-01.",
        "Give a last day that is not before the first.",
    ),
    (
        _net,
        {"number": "7", "first_used_on": DAY, "retired_on": date(2026, 4, 30)},
        "Net 7 goes out of use on 2026-04-30, before it is first used on 2026-05-01.",
        "Give a last day that is not before the first.",
    ),
    (_use, {"run": shapely.LineString()}, "The run of a net has no shape.", "Draw it again."),
    (_use, {"set_on": LONG_AGO}, "The day a net was set is 1815-06-18.", YEARS),
    (_use, {"taken_on": LONG_AGO}, "The day a net was taken up is 1815-06-18.", YEARS),
    (
        _use,
        {"taken_on": date(2026, 4, 30)},
        "A net is taken up on 2026-04-30, before it is set on 2026-05-01.",
        "Give a day it was taken up that is not before the day it was set.",
    ),
    (_check, {"checked_on": LONG_AGO}, "The day of a check is 1815-06-18.", YEARS),
    (_check, {"fence_kv": 21.0}, "The fence voltage is 21.", "Give a number from 0 to 20."),
    (_check, {"fence_kv": math.nan}, "The fence voltage is nan.", "Give a number from 0 to 20."),
    (_check, {"tester_lights": -1}, "The number of lights on the tester is -1.", "Give a number from 0 to 20."),
    (_check, {"pigs_seen": -1}, "The number of pigs seen is -1.", "Give a number of at least 0."),
    (_check, {"rooting_score": 5}, "The rooting score is 5.", "Give a number from 0 to 4."),
    (_weather, {"day": LONG_AGO}, "The day of the weather is 1815-06-18.", YEARS),
    (_weather, {"rain_mm": -1.0}, "The rain is -1.", "Give a number from 0 to 2000."),
    (_weather, {"min_c": -91.0}, "The lowest temperature is -91.", "Give a number from -90 to 60."),
    (_weather, {"max_c": 61.0}, "The highest temperature is 61.", "Give a number from -90 to 60."),
    (
        _weather,
        {"min_c": 12.5, "max_c": 3.0},
        "The lowest temperature of 2026-05-01 is 12.5 °C, above the highest, 3.0 °C.",
        "Look whether the two are exchanged.",
    ),
    (_setting, {"key": ""}, "The setting has no name.", "Give it one."),
    (
        _job,
        {"shape": shapely.MultiPolygon()},
        "The ground of what is told (used before) has no shape.",
        "Draw it again.",
    ),
    (_job, {"happened_on": LONG_AGO}, "The day of a ground job (used before) is 1815-06-18.", YEARS),
    (_job, {"until_on": LONG_AGO}, "The last day of a ground job (used before) is 1815-06-18.", YEARS),
    (
        _job,
        {"within_days": -1},
        "The number of days that a day may be off is -1.",
        "Give a number of at least 0.",
    ),
    (_job, {"rooting_score": 5}, "The rooting score is 5.", "Give a number from 0 to 4."),
    (_job, {"n_kg_ha": -1.0}, "The nitrogen in kg/ha is -1.", "Give a number of at least 0."),
    (
        _job,
        {"kind": GroundJobKind.HAY, "happened_on": DAY, "until_on": date(2026, 4, 30)},
        "A ground job (hay) ends on 2026-04-30, before it begins on 2026-05-01.",
        "Give a last day that is not before the first.",
    ),
    (_group, {"feed_share": 1.6}, "The share of a full ration of Sows is 1.6.", "Give a number from 0 to 1.5."),
    (_group, {"feed_kg": 21.0}, "The feed of one pig of Sows in kg a day is 21.", "Give a number from 0 to 20."),
    (
        _group,
        {"feed_protein_g_kg": 700.0},
        "The protein in the feed of Sows in g/kg is 700.",
        "Give a number from 0 to 600.",
    ),
    (_group, {"tank_l": -1.0}, "The water carried to Sows in litres is -1.", "Give a number of at least 0."),
    (_group, {"feeder_kg": -1.0}, "The feed carried to Sows in kg is -1.", "Give a number of at least 0."),
    (_group, {"drinkers": -1}, "The number of drinkers of Sows is -1.", "Give a number of at least 0."),
    (_group, {"target_kg": 0.1}, "The weight at which Sows go is 0.1.", "Give a number from 0.3 to 600."),
    (_weather, {"humidity_pct": 104.0}, "The humidity in % is 104.", "Give a number from 0 to 100."),
    (_treatment, {"product": " "}, "The medicine has no name.", "Give it one."),
    (_treatment, {"given_on": LONG_AGO}, "The day of a treatment is 1815-06-18.", YEARS),
    (_treatment, {"last_on": LONG_AGO}, "The last day of a treatment is 1815-06-18.", YEARS),
    (_treatment, {"pigs": -1}, "The number of pigs treated is -1.", "Give a number of at least 0."),
    (
        _treatment,
        {"withdrawal_days": 4000},
        "The withdrawal time in days is 4000.",
        "Give a number from 0 to 3650.",
    ),
    (
        _treatment,
        {"last_on": date(2026, 4, 30)},
        "The treatment with Drench ends on 2026-04-30, before 2026-05-01.",
        "Give days in the order in which they were.",
    ),
    (_escape, {"happened_on": LONG_AGO}, "The day of an escape is 1815-06-18.", YEARS),
    (_escape, {"fence_kv": 21.0}, "The fence voltage is 21.", "Give a number from 0 to 20."),
    (_escape, {"pigs_out": -1}, "The number of pigs out is -1.", "Give a number of at least 0."),
    (_escape, {"pigs_back": -1}, "The number of pigs back is -1.", "Give a number of at least 0."),
    (_litter, {"sow": ""}, "The sow has no name.", "Give it one."),
    (_litter, {"served_on": LONG_AGO}, "The day of service is 1815-06-18.", YEARS),
    (_litter, {"due_on": LONG_AGO}, "The day she is due is 1815-06-18.", YEARS),
    (_litter, {"farrowed_on": LONG_AGO}, "The day of farrowing is 1815-06-18.", YEARS),
    (_litter, {"weaned_on": LONG_AGO}, "The day of weaning is 1815-06-18.", YEARS),
    (_litter, {"born": -1}, "The number of piglets born is -1.", "Give a number of at least 0."),
    (_litter, {"weaned": -1}, "The number of piglets weaned is -1.", "Give a number of at least 0."),
    (
        _litter,
        {"served_on": DAY, "farrowed_on": date(2026, 4, 30)},
        "The litter of 0417 ends on 2026-04-30, before 2026-05-01.",
        "Give days in the order in which they were.",
    ),
    (
        _litter,
        {"farrowed_on": DAY, "weaned_on": date(2026, 4, 30)},
        "The litter of 0417 ends on 2026-04-30, before 2026-05-01.",
        "Give days in the order in which they were.",
    ),
    (_booking, {"goes_on": LONG_AGO}, "The day of a slaughter booking is 1815-06-18.", YEARS),
    (_booking, {"pigs": 0}, "The number of pigs booked is 0.", "Give a number of at least 1."),
    (
        _booking,
        {"least_kg": 700.0},
        "The weight from which a pig goes is 700.",
        "Give a number from 0.3 to 600.",
    ),
    (_booking, {"gone": -1}, "The number of pigs that went is -1.", "Give a number of at least 0."),
    (_booking, {"dead_kg": 0.0}, "The mean dead weight is 0.", "Give a number from 0.3 to 600."),
    (_entry, {"happened_on": LONG_AGO}, "The day of a register entry is 1815-06-18.", YEARS),
    (_entry, {"pigs": 0}, "The number of pigs of a register entry is 0.", "Give a number of at least 1."),
    (_own_days, {"days": 0.0}, "The days a paddock lasts is 0.", "Give a number from 0.25 to 366."),
    (
        _own_days,
        {"from_month_day": "02-30"},
        "A part of the year begins or ends on 02-30.",
        "Give month and day as MM-DD, such as 03-15.",
    ),
    (_move, {"done_on": LONG_AGO}, "The day of a move is 1815-06-18.", YEARS),
    (_move, {"minutes": 0.0}, "The time a move took in minutes is 0.", "Give a number from 1 to 1440."),
    (_move, {"people": 0}, "The number of people at a move is 0.", "Give a number from 1 to 50."),
    (_way, {"height_m": -2.0}, "The height of the lowest wire in m is -2.", "Give a number from 0 to 200."),
    (_photo, {"sha256": ""}, "The photo's picture has no name.", "Give it one."),
    (_photo, {"width_px": 0}, "The width of a photo in pixels is 0.", "Give a number of at least 1."),
    (_photo, {"height_px": 0}, "The height of a photo in pixels is 0.", "Give a number of at least 1."),
    (_photo, {"taken_on": LONG_AGO}, "The day of a photo is 1815-06-18.", YEARS),
    (_terrain, {"name": ""}, "The terrain image has no name.", "Give it one."),
    (_terrain, {"link": ""}, "The file of the terrain image has no name.", "Give it one."),
]


@pytest.mark.parametrize(("make", "given", "message", "remedy"), REFUSED, ids=lambda value: str(value)[:40])
def test_a_value_that_cannot_exist_is_refused_in_words(
    make: Make, given: dict[str, Any], message: str, remedy: str
) -> None:
    with pytest.raises(RecordError) as caught:
        make(**given)
    assert (str(caught.value.message), str(caught.value.remedy)) == (message, remedy)


@pytest.mark.parametrize("make", list(dict.fromkeys(make for make, *_ in REFUSED)))
def test_without_the_value_the_record_exists_and_cannot_be_changed(make: Make) -> None:
    row = make()
    with pytest.raises(AttributeError):
        row.uid = "another"  # type: ignore[misc]


@pytest.mark.parametrize("value", ["", "us", "{", "nan,"])
def test_a_setting_whose_value_is_no_json_is_a_fault_of_the_program(value: str) -> None:
    with pytest.raises(ValueError, match=r"Expecting|Extra data"):
        Setting(key="units", value_json=value)


def test_the_day_that_only_leap_years_have_is_a_day_of_the_year() -> None:
    assert _purpose(to_month_day="02-29").to_month_day == "02-29"
    assert _keep_out(from_month_day="02-29", to_month_day=None).from_month_day == "02-29"


def test_what_begins_and_ends_on_one_day_can_exist() -> None:
    assert _net(first_used_on=DAY, retired_on=DAY).retired_on == DAY
    assert _use(taken_on=DAY).taken_on == DAY
    assert _weather(min_c=4.0, max_c=4.0).max_c == 4.0
