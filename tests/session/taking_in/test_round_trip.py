"""What is handed out and taken in again, into the same farm and into one that has nothing of it."""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable
from dataclasses import fields, replace
from datetime import date
from importlib.util import find_spec
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from pigmap.records import (
    Check,
    Energizer,
    Farm,
    Field,
    Forage,
    GroundCover,
    Group,
    GroupEvent,
    GroupEventKind,
    KeepOut,
    NetKind,
    Paddock,
    PigClass,
    Place,
    PlaceKind,
    PowerSource,
    Purpose,
    Reason,
    Record,
    Soil,
    Stay,
    StayState,
    Use,
    Way,
    WayKind,
    WeighedBy,
)
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.days import checks_of, stays_of
from pigmap.session.handing_out.lists import energizers_of, events_of, groups_of, net_kinds_of, purposes_of
from pigmap.session.handing_out.table import Handed
from pigmap.session.handing_out.things import fields_of, keep_outs_of, paddocks_of, places_of, ways_of
from pigmap.session.taking_in.rows import _same_words
from tests.ground.invented import SOUTH, WEST, farm
from tests.session.handing_out.test_round_trip import NAMES, WORDS
from tests.session.taking_in.at_farm import TODAY, after, taken

MILLIMETRE = 0.001
SHAPED: dict[str, tuple[type[Record], Callable[[Farm], Handed]]] = {
    "fields": (Field, fields_of),
    "keepouts": (KeepOut, keep_outs_of),
    "ways": (Way, ways_of),
    "places": (Place, places_of),
    "paddocks": (Paddock, lambda farm: paddocks_of(farm, TODAY, TODAY)),
    "stays": (Stay, stays_of),
    "checks": (Check, checks_of),
}
LISTS: dict[str, tuple[type[Record], Callable[[Farm], Handed]]] = {
    "purposes": (Purpose, purposes_of),
    "groups": (Group, groups_of),
    "events": (GroupEvent, events_of),
    "energizers": (Energizer, energizers_of),
    "netkinds": (NetKind, net_kinds_of),
}
SUFFIXES = (".geojson", ".kml", ".gpx", ".gpkg", ".zip", ".csv") + ((".parquet",) if find_spec("pyarrow") else ())
CASES = [(what, suffix) for what in SHAPED for suffix in SUFFIXES] + [(what, ".csv") for what in LISTS]
NOT_HANDED: dict[type[Record], tuple[str, ...]] = {
    Field: ("origin_x_m", "origin_y_m", "turned_deg", "cell_m"),  # follow from the outline
    Group: ("colour_index",),  # a sign that is free here
}


def ground(at: int, wide: float = 40.0) -> shapely.Polygon:
    """Return a crooked outline; no two of them touch."""
    x, y = WEST + 100 * at + 0.1234567, SOUTH + 0.7654321
    return shapely.Polygon([(x, y), (x + wide, y + 3.3), (x + wide - 5, y + 44.4), (x - 3, y + 40.01)])


def rows_named(words: Iterable[str]) -> list[Record]:
    """Return rows of each table with hostile words wherever there is room for words."""
    rows: list[Record] = [
        NetKind(uid="n", name="50 m nets", bays_mm=(3571,) * 14),
        Group(uid="g", name="Sows"),
        Energizer(uid="e", name="Barn unit"),
        Place(uid="at", kind=PlaceKind.ENERGIZER, name="Barn", point=shapely.Point(WEST, SOUTH - 50)),
    ]
    for at, word in enumerate(words):
        name = f"{at} {word}"
        field, paddock, group = f"f{at}", f"p{at}", f"g{at}"
        middle = ground(at).centroid
        rows += [
            Field(
                uid=field, name=name, ground_cover=GroundCover.LEY, outline=shapely.MultiPolygon([ground(at)]),
                soil=word or None, origin_x_m=WEST, origin_y_m=SOUTH, turned_deg=0.0, note=word,
                forage=list(Forage)[at % 3], retired_on=date(2026, 1, 1 + at % 28) if at % 2 else None,
            ),
            Purpose(uid=f"u{at}", field_uid=field, from_month_day="11-01", to_month_day="02-28",
                    purpose=list(Use)[at % 5], rest_days_wanted=at or None, rooting_wanted=0.25 if at % 2 else None),
            KeepOut(uid=f"k{at}", name=name, reason=list(Reason)[at % 11], shape=ground(at) if at % 2 else middle,
                    radius_m=2.5, net_m=at / 7, gear_m=1.0, vehicle_m=2.0, field_uid=field, note=word,
                    from_month_day="03-01" if at % 2 else None, to_month_day="04-30" if at % 2 else None),
            Way(uid=f"w{at}", kind=list(WayKind)[at % 9], name=name, note=word, voltage_kv=11.0 if at % 2 else None,
                line=shapely.LineString(ground(at).exterior.coords[:-1]), clearance_m=at / 3, electric=bool(at % 2),
                energizer_uid="e" if at % 3 else None, minutes_to_clear=5.0, height_m=7.5, communication=not at % 2),
            Place(uid=f"pl{at}", kind=list(PlaceKind)[at % 7], name=name, point=middle, radius_m=at / 3, note=word),
            Paddock(uid=paddock, name=name, field_uid=field, outline=ground(at), note=word, own_switch=bool(at % 2),
                    net_kind_uid="n" if at % 2 else None, energizer_uid="e" if at % 3 else None),
            Group(uid=group, name=name, pig_class=list(PigClass)[at % 7], breed_type=word, note=word, ringed=at % 2 > 0,
                  feed_share=0.5, feed_kg=2.5, feed_protein_g_kg=160.0, tank_l=400.0, feeder_kg=50.0, drinkers=2,
                  target_kg=110.0, closed_on=TODAY if at % 2 else None),
            GroupEvent(uid=f"ev{at}", group_uid=group, happened_on=date(2026, 2, 1), pigs=at, mean_kg=20.25 + at,
                       kind=list(GroupEventKind)[at % 11], weighed_by=list(WeighedBy)[at % 3], note=word,
                       other_group_uid="g" if at % 2 else None, withdrawal_days=at),
            Energizer(uid=f"en{at}", name=name, source=list(PowerSource)[at % 3], group_uid=group if at % 2 else None,
                      place_uid=None if at % 2 else "at", output_j=1.25, open_kv=9.0, kv_500=4.5, rods=3, rod_m=1.0,
                      rod_mm=14.0, rods_apart_m=3.0, soil=list(Soil)[at % 6], lead_m=12.5, lead_ohm_per_km=44.0,
                      swap_on=TODAY, note=word),
            NetKind(uid=f"nk{at}", name=name, tape=word, bays_mm=(3000, 3000, 1500 + at), height_mm=1000,
                    ohm_per_km=1000.0, leak=20.0, price=119.5),
            Stay(uid=f"s{at}", group_uid=group, paddock_uid=paddock, ground=ground(at), state=StayState.PAST,
                 in_on=date(2026, 3, 1), out_on=date(2026, 3, 5), why_planned=word),
            Check(uid=f"c{at}", checked_on=date(2026, 3, 2), group_uid=group, paddock_uid=paddock, point=middle,
                  all_well=bool(at % 2), fence_kv=5.6, tester_lights=4, pigs_seen=at,
                  water_ok=(None, True, False)[at % 3], soil_on_net=not at % 2,
                  rooting_score=at % 5, damage=word, seen_by=word, note=word),
        ]  # fmt: skip
    return rows


def without(full: Farm, table: str) -> Farm:
    """Return a farm that has nothing in one table, as another computer's may."""
    return replace(full, **{table: MappingProxyType({})})  # type: ignore[arg-type]


def came_back(full: Farm, what: str, suffix: str, folder: Path) -> list[str]:
    """Return what is otherwise once a table was handed out and taken in, into the farm and into one without it."""
    record, of = (SHAPED | LISTS)[what]
    path = folder / f"{what}{suffix}"
    hand_out(of(full), path, full.projection)
    again = taken(path, what, full)
    found = [f"{row.row}: {row.result}, {row.words}" for row in again.rows if row.result != "there already"]
    bare = without(full, record.TABLE)
    told = taken(path, what, bare)
    found += [f"{row.row}: {row.result}, {row.words}" for row in told.rows if row.result != "taken"]
    if len(told.rows) != len(full.rows(record.TABLE)):
        found.append(f"{len(told.rows)} rows")
    wanted = {called(row): row for row in full.rows(record.TABLE).values()}
    for row in after(told, bare).rows(record.TABLE).values():
        old = wanted.get(called(row))
        found += [f"{called(row)!r} is new"] if old is None else list(differences(old, row))
    return found


def called(row: Record) -> str:
    """Return the number that each name begins with, else whose the row is."""
    words = getattr(row, "name", "") or getattr(row, "group_uid", "") or getattr(row, "field_uid", "")
    return str(words).split()[0]


def differences(old: Record, new: Record) -> Iterable[str]:
    """Yield what two rows of one table tell otherwise."""
    left_out = ("uid", *NOT_HANDED.get(type(old), ()))
    for each in fields(old):
        one, other = getattr(old, each.name), getattr(new, each.name)
        if each.name not in left_out and not alike(one, other):
            yield f"{each.name}: {one!r} became {other!r}"


def alike(one: Any, other: Any) -> bool:
    if isinstance(one, BaseGeometry):
        return bool(shapely.hausdorff_distance(one, other) <= MILLIMETRE)
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < 1e-9
    if isinstance(one, str):
        return _same_words(one, other or "")
    return bool((one or None) == (other or None))


@pytest.mark.parametrize(("what", "suffix"), CASES)
def test_words_that_look_like_something_else_come_back_into_the_farm(tmp_path: Path, what: str, suffix: str) -> None:
    full = farm(*rows_named([*NAMES, ""]))
    assert came_back(full, what, suffix, tmp_path) == []


HOSTILE = st.one_of(WORDS, st.sampled_from(NAMES), st.text(string.printable, max_size=30))


@pytest.mark.parametrize(("what", "suffix"), CASES)
@given(words=st.lists(HOSTILE, min_size=1, max_size=3))
@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_words_come_back_into_the_farm(tmp_path: Path, what: str, suffix: str, words: list[str]) -> None:
    assert came_back(farm(*rows_named(words)), what, suffix, tmp_path) == []


@st.composite
def kept_out(draw: st.DrawFn) -> BaseGeometry:
    """Return a sound shape near the farm, from a room to a parish."""
    east, north = WEST + draw(st.floats(-9_000, 9_000)), SOUTH + draw(st.floats(-9_000, 9_000))
    size = draw(st.sampled_from([2.0, 60.0, 4_000.0]))
    point = shapely.Point(east, north)
    around = point.buffer(size, quad_segs=draw(st.integers(1, 5)))
    kind = draw(st.sampled_from(["point", "line", "area", "hole", "parts"]))
    if kind == "hole":
        return around.difference(point.buffer(size / 2))
    if kind == "parts":
        return around.union(shapely.Point(east + 3 * size, north).buffer(size))
    line = shapely.LineString(around.exterior.coords[:-1])
    return {"point": point, "line": line, "area": around}[kind]


@pytest.mark.parametrize("suffix", SUFFIXES)
@given(shape=kept_out())
@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_shape_comes_back_into_the_farm_within_a_millimetre(
    tmp_path: Path, suffix: str, shape: BaseGeometry
) -> None:
    full = farm(*rows_named(["a"]), KeepOut(uid="k", name="b", reason=Reason.WELL, shape=shape, radius_m=1.0))
    assert came_back(full, "keepouts", suffix, tmp_path) == []
