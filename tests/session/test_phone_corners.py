from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely

from pigmap.errors import PigmapError
from pigmap.geometry.projection import from_projection, projection_for
from pigmap.plugins import Registry
from pigmap.records import Projection
from pigmap.records.projection import NO_PLACE
from pigmap.session.phone_corners import corner_shown, corners_in, is_phone_pair

PARTS = Registry()
AT = (9.1, 50.2)
CORNERS = [(0.0, 0.0), (51.0, 2.0), (49.0, 52.0), (-1.0, 50.0)]


@pytest.fixture(scope="module")
def utm() -> Projection:
    return projection_for("", AT)


@pytest.fixture(scope="module")
def corners(utm: Projection) -> list[tuple[float, float]]:
    return [(535_000.0 + x, 5_560_000.0 + y) for x, y in CORNERS]


def degrees(corners: list[tuple[float, float]], utm: Projection) -> list[tuple[float, float]]:
    points = from_projection([shapely.Point(corner) for corner in corners], utm)
    return [(float(point.x), float(point.y)) for point in shapely.get_parts(points)]


def gpx(path: Path, kind: str, places: list[tuple[float, float]]) -> Path:
    written = "".join(f'<{kind} lon="{lon:.7f}" lat="{lat:.7f}"></{kind}>' for lon, lat in places)
    body = f"<trk><trkseg>{written}</trkseg></trk>" if kind == "trkpt" else written
    path.write_text(
        f'<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">{body}</gpx>', encoding="utf-8"
    )
    return path


@pytest.mark.parametrize(
    ("words", "is_pair"),
    [
        ("50.123456, 9.123456", True),
        ("50,12345 9,12345", True),
        ("-33.8567; 151.2152", True),
        ("50.1234° N, 9.1234° E", True),
        ("50° 7' N 9° 7' E", True),
        ("50 at 90", False),
        ("50 at 90°", False),
        ("50.5, 90", False),
        ("E 500120 N 5230040", False),
        ("E 500120.125 N 5230040.125", False),
    ],
)
def test_a_phones_pair_is_told_from_a_length_and_a_direction(words: str, is_pair: bool) -> None:
    assert is_phone_pair(words) is is_pair


def test_the_pair_that_a_phone_shows_is_a_corner(corners: list[tuple[float, float]], utm: Projection) -> None:
    lon, lat = degrees(corners, utm)[1]
    assert corner_shown(f"{lat:.7f}, {lon:.7f}", utm) == pytest.approx(corners[1], abs=0.05)


def test_waypoints_are_corners_in_their_order(
    tmp_path: Path, corners: list[tuple[float, float]], utm: Projection
) -> None:
    found = corners_in(gpx(tmp_path / "marks.gpx", "wpt", degrees(corners, utm)), utm, PARTS)
    assert np.allclose(found, corners, atol=0.05)


def test_a_walk_round_the_nets_gives_the_corners_where_it_turns(
    tmp_path: Path, corners: list[tuple[float, float]], utm: Projection
) -> None:
    ring = shapely.LineString([*corners, corners[0]])
    walk = [(float(p.x), float(p.y)) for p in (ring.interpolate(at) for at in np.arange(0, ring.length, 2.0))]
    found = corners_in(gpx(tmp_path / "walk.gpx", "trkpt", degrees(walk, utm)), utm, PARTS)
    assert len(found) == 4
    assert shapely.Polygon(found).symmetric_difference(shapely.Polygon(corners)).area < 150


@pytest.mark.parametrize(("count", "said"), [(2, "holds 2 places"), (1, "holds 1 place;")])
def test_too_few_places_are_said_with_what_to_do(
    tmp_path: Path, corners: list[tuple[float, float]], utm: Projection, count: int, said: str
) -> None:
    path = gpx(tmp_path / "marks.gpx", "wpt", degrees(corners, utm)[:count])
    with pytest.raises(PigmapError, match=said) as caught:
        corners_in(path, utm, PARTS)
    assert "Mark each corner with the phone" in str(caught.value)


def test_a_farm_without_a_place_says_that_a_phones_places_lie_nowhere_on_it(
    tmp_path: Path, corners: list[tuple[float, float]], utm: Projection
) -> None:
    path = gpx(tmp_path / "marks.gpx", "wpt", degrees(corners, utm))
    with pytest.raises(PigmapError, match=r"the places in marks\.gpx lie nowhere on its grid") as caught:
        corners_in(path, NO_PLACE, PARTS)
    assert "give the farm its place, under More" in str(caught.value)


def test_a_file_that_is_none_is_said(tmp_path: Path, utm: Projection) -> None:
    path = tmp_path / "walk.gpx"
    path.write_text("not one", encoding="utf-8")
    with pytest.raises(PigmapError, match=r"walk\.gpx") as caught:
        corners_in(path, utm, PARTS)
    assert caught.value.remedy
