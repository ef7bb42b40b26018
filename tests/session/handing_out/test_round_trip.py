from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pigmap.geometry.projection import projection_for
from pigmap.records import Farm
from pigmap.session.handing_out.corners import corners_of
from pigmap.session.handing_out.days import checks_of, stays_of
from pigmap.session.handing_out.table import Handed, column
from pigmap.session.handing_out.things import fields_of, keep_outs_of, paddocks_of, places_of, ways_of
from pigmap.session.handing_out.write import hand_out
from pigmap.session.sample import sample_farm
from tests.session.handing_out.round_trip import differences

DAY = date(2026, 6, 1)
SUFFIXES = (".geojson", ".kml", ".gpx", ".gpkg", ".zip", ".csv")
NAMES = (
    "a 'quoted' \"name\"",
    "two\nlines",
    "\u202eright to left עברית",
    "L" * 10_000,
    "'); DROP TABLE fields;--",
    " before",
    "after ",
    "a\ttab",
    "back\r\nand on",
    "&lt;<b> & </name>",
    "]]>",
    "pig \N{PIG}",
    "1.50",
    "true",
    "2020-01-01",
    "NULL",
    "=1+1",
    "{curly} %s \\",
)
HOLE = shapely.Polygon(
    shapely.box(500_000, 5_540_000, 500_100.0001, 5_540_100.1234).exterior.coords,
    [shapely.box(500_010, 5_540_010, 500_020, 5_540_020).exterior.coords],
)


@cache
def sample() -> Farm:
    return sample_farm(DAY)


def tables() -> dict[str, Handed]:
    farm = sample()
    return {
        "fields": fields_of(farm),
        "paddocks": paddocks_of(farm, DAY, DAY),
        "corners": corners_of(farm, list(farm.paddocks.values())[:6]),
        "stays": first(stays_of(farm), 20),
        "checks": first(checks_of(farm), 20),
        "keepouts": keep_outs_of(farm),
        "ways": ways_of(farm),
        "places": places_of(farm),
    }


def first(handed: Handed, rows: int) -> Handed:
    columns = tuple(column(each.name, each.kind, each.values[:rows]) for each in handed.columns)
    return Handed(handed.name, columns, handed.shapes[:rows], handed.called[:rows], handed.begins, handed.ends)


@pytest.mark.parametrize("suffix", SUFFIXES)
@pytest.mark.parametrize("what", list(tables()))
def test_what_is_handed_out_comes_back_as_it_was(tmp_path: Path, what: str, suffix: str) -> None:
    handed = tables()[what]
    assert len(handed) > 2
    path = tmp_path / f"{what}{suffix}"
    hand_out(handed, path, sample().projection)
    assert differences(handed, path, sample().projection) == []


def named(names: tuple[str, ...]) -> Handed:
    called = tuple(f"{at} {name}" for at, name in enumerate(names))
    columns = (
        column("name", "text", called),
        column("note", "text", names),
        column("uid", "text", [f"u{at}" for at in range(len(names))]),
        column("area_ha", "number", [None if at % 3 == 0 else at / 7 for at in range(len(names))]),
        column("pigs", "whole", [None if at % 4 == 0 else at for at in range(len(names))]),
        column("water_ok", "truth", [(None, True, False)[at % 3] for at in range(len(names))]),
        column("in_on", "day", [None if at % 5 == 0 else DAY for at in range(len(names))]),
    )
    return Handed("rows", columns, tuple(HOLE for _ in names), called)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_names_that_look_like_something_else_come_back_as_they_were(tmp_path: Path, suffix: str) -> None:
    projection = projection_for("", (9.0, 50.0))
    handed = named(NAMES)
    hand_out(handed, tmp_path / f"rows{suffix}", projection)
    assert differences(handed, tmp_path / f"rows{suffix}", projection) == []


WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn", "Co"]), min_size=1, max_size=40).filter(
    lambda words: words.strip() == words
)


@pytest.mark.parametrize("suffix", SUFFIXES)
@given(names=st.lists(WORDS, min_size=1, max_size=4))
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_name_comes_back_as_it_was(tmp_path: Path, suffix: str, names: list[str]) -> None:
    projection = projection_for("", (9.0, 50.0))
    handed = named(tuple(names))
    path = tmp_path / f"rows{suffix}"
    hand_out(handed, path, projection)
    assert differences(handed, path, projection) == []


@st.composite
def shapes(draw: st.DrawFn) -> shapely.geometry.base.BaseGeometry:
    """Return a sound shape somewhere in a UTM zone, from a thumb's width to kilometres."""
    east, north = draw(st.floats(200_000, 800_000)), draw(st.floats(100_000, 7_000_000))
    size = draw(st.sampled_from([0.02, 1.0, 60.0, 4_000.0]))
    point = shapely.Point(east, north)
    around = point.buffer(size, quad_segs=draw(st.integers(1, 5)))
    kind = draw(st.sampled_from(["point", "line", "area", "hole", "parts"]))
    if kind == "point":
        return point
    if kind == "line":
        return shapely.LineString(around.exterior.coords[:-1])
    if kind == "hole":
        return around.difference(point.buffer(size / 2))
    if kind == "parts":
        return around.union(shapely.Point(east + 3 * size, north).buffer(size))
    return around


@pytest.mark.parametrize("suffix", SUFFIXES)
@given(shape=shapes())
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_shape_comes_back_within_a_millimetre(
    tmp_path: Path, suffix: str, shape: shapely.geometry.base.BaseGeometry
) -> None:
    projection = projection_for("EPSG:32632", (9.0, 50.0))
    handed = Handed("rows", (column("name", "text", ["a"]),), (shape,), ("a",))
    path = tmp_path / f"rows{suffix}"
    hand_out(handed, path, projection)
    assert differences(handed, path, projection) == []
