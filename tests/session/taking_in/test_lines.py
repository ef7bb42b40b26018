from __future__ import annotations

import re
from pathlib import Path

import pytest
import shapely

from pigmap.records import PlaceKind, Way, WayKind
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.things import ways_of
from tests.builtin.formats.test_vector import write
from tests.ground.invented import SOUTH, WEST, square
from tests.session.taking_in.at_farm import after, file, here, said, taken


def line(*corners: tuple[float, float]) -> shapely.LineString:
    return shapely.LineString([(WEST + x, SOUTH + y) for x, y in corners])


HEDGE = line((0, -5), (100, -5), (120, 20))


def way(uid: str = "h") -> Way:
    return Way(uid=uid, kind=WayKind.HEDGE, name="Long hedge", line=HEDGE, note="gap at the oak")


def test_lines_that_tell_their_kind_are_taken_as_ways(tmp_path: Path) -> None:
    path = write(
        tmp_path / "a.gpkg",
        [HEDGE, line((0, 200), (300, 260)), line((5, 5), (90, 90))],
        kind="LineString",
        name=["Long hedge", None, "Mill line"],
        type=["hedge", "stream", "overhead line"],
        voltage=[None, None, "11 kV"],
        clearance_m=["", "", "6,5"],
    )
    told = taken(path, "ways")
    assert [row.result for row in told.rows] == ["taken"] * 3
    ways = {row.kind: row for row in after(told).ways.values()}
    assert ways[WayKind.HEDGE].name == "Long hedge"
    assert ways[WayKind.WATERCOURSE].name == ""
    assert (ways[WayKind.OVERHEAD_LINE].voltage_kv, ways[WayKind.OVERHEAD_LINE].clearance_m) == (11.0, 6.5)
    again = taken(path, "ways", at=after(told))
    assert {row.result for row in again.rows} == {"there already"}


def test_the_kind_of_a_line_is_found_in_the_name_of_its_file(tmp_path: Path) -> None:
    told = taken(write(tmp_path / "old hedges.gpkg", [HEDGE], kind="LineString", number=[1]), "ways")
    assert said(told)[-1] == "1: It is taken as: hedge."
    (new,) = after(told).ways.values()
    assert new.kind is WayKind.HEDGE


def test_a_line_of_which_nothing_tells_the_kind_is_refused(tmp_path: Path) -> None:
    told = taken(
        write(tmp_path / "a.gpkg", [HEDGE, HEDGE], kind="LineString", kind_=["", "wall"], number=[1, 2]), "ways"
    )
    assert [row.result for row in told.rows] == ["refused"] * 2
    assert said(told)[-4:-2] == [
        "1: nothing tells what kind of thing it is.",
        "1: Give a column 'kind', or put the word into its name or that of the file: path, road, track, ride, hedge, "
        "watercourse, overhead line, permanent fence, ditch.",
    ]
    told = taken(file(tmp_path, f'kind,wkt\nwall,"{HEDGE.wkt}"\n'), "ways")
    assert said(told)[-2:] == [
        "1: the kind, 'wall', is not known here.",
        "1: Give one of: path, road, track, ride, hedge, watercourse, overhead line, permanent fence, ditch.",
    ]


def test_parts_of_a_line_are_joined_where_they_meet_and_taken_by_themselves_where_not(tmp_path: Path) -> None:
    meets = shapely.MultiLineString([line((0, 0), (10, 0)), line((20, 9), (10, 0)), line((50, 0), (60, 0))])
    told = taken(write(tmp_path / "hedge.gpkg", [meets], kind="MultiLineString", name=["Low"]), "ways")
    assert [row.result for row in told.rows] == ["mended"]
    assert "1: The parts of Low were joined where their ends meet." in said(told)
    assert "1: Low has 2 parts; each is taken by itself." in said(told)
    assert sorted(round(row.line.length) for row in after(told).ways.values()) == [10, 23]


def test_the_edge_of_an_area_is_a_fence_and_no_hedge(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [square(0, 0), square(0, 0)], name=["A", "B"], type=["fence", "hedge"])
    told = taken(path, "ways")
    assert [row.result for row in told.rows] == ["mended", "refused"]
    assert "1: A is an area; its edge is taken." in said(told)
    assert said(told)[-2:] == [
        "2: B is an area, not a line.",
        "2: Give the line along its middle; ground to stay off is taken in as a keep-out.",
    ]
    (fence,) = after(told).ways.values()
    assert (fence.kind, round(fence.line.length)) == (WayKind.PERMANENT_FENCE, 200)


def test_a_way_that_was_redrawn_elsewhere_is_changed_and_keeps_what_the_file_does_not_tell(tmp_path: Path) -> None:
    moved = shapely.transform(HEDGE, lambda points: points + 3.0)
    path = write(tmp_path / "a.gpkg", [moved], kind="LineString", kind_=["hedge"], uid=["h"])
    told = taken(path, "ways", here(way()), columns={"kind": "kind_"})
    assert [row.result for row in told.rows] == ["changed"]
    (row,) = after(told, here(way())).ways.values()
    assert (row.uid, row.name, row.note) == ("h", "Long hedge", "gap at the oak")
    assert row.line.equals(moved)


def test_ways_that_were_handed_out_are_there_already(tmp_path: Path) -> None:
    farm = here(way(), Way(uid="d", kind=WayKind.DITCH, line=line((0, 0), (9, 9))))
    for suffix in ("csv", "gpkg", "geojson", "kml", "gpx", "zip"):
        path = tmp_path / f"ways.{suffix}"
        hand_out(ways_of(farm), path, farm.projection)
        told = taken(path, at=farm)
        assert (told.kind, [row.result for row in told.rows]) == ("ways", ["there already"] * 2), suffix


def test_points_are_places_by_their_kind_or_their_name(tmp_path: Path) -> None:
    rows = (
        "name,kind,lon,lat\nBarn tap,,9.001,46.951\nOak,tree,9.002,46.952\nNowhere,gate,,\nCairn,stones,9.001,46.951\n"
    )
    told = taken(file(tmp_path, rows), "places")
    assert [row.result for row in told.rows] == ["taken", "taken", "refused", "refused"]
    assert said(told) == [
        "1: It is taken as: water point.",
        "3: Nowhere has no shape.",
        "3: Draw it on the map, or leave it out.",
        "4: the kind, 'stones', is not known here.",
        "4: Give one of: gate, water point, shed, loading place, energizer, earth rod, tree.",
    ]
    assert {row.kind for row in after(told).places.values()} == {PlaceKind.WATER_POINT, PlaceKind.TREE}


def test_the_middle_of_an_area_is_a_place_which_is_told(tmp_path: Path) -> None:
    told = taken(write(tmp_path / "a.gpkg", [square(0, 0)], name=["Barn"], type=["shed"]), "places")
    assert said(told) == ["1: Barn is no point; the middle of it is taken."]
    (row,) = after(told).places.values()
    assert (row.point.x, row.point.y) == pytest.approx((WEST + 25, SOUTH + 25))


def test_the_walk_of_a_phone_is_no_track_because_its_layer_is_called_so(tmp_path: Path) -> None:
    farm = here(way("x"))
    path = tmp_path / "monday.gpx"
    hand_out(ways_of(farm), path, farm.projection)
    path.write_text(re.sub("<(ogr:kind|name|desc).*?</.*?>", "", path.read_text(encoding="utf-8")), encoding="utf-8")
    told = taken(path, "ways")
    assert [row.result for row in told.rows] == ["refused"]
    assert str(told.rows[0].words[0]) == "nothing tells what kind of thing it is."
