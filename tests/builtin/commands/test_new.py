from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely

from pigmap.cli.main import main
from pigmap.records import Farm
from pigmap.session import Session
from pigmap.session.images import images_of
from tests.builtin.formats.test_vector import EAST, SQUARE, write
from tests.imagery.test_terrain import made, plane

Captured = pytest.CaptureFixture[str]


def outlines(path: Path, *shapes: shapely.Polygon, crs: str = "urn:ogc:def:crs:EPSG::25832") -> Path:
    """Write shapes as GeoJSON."""
    told = {
        "type": "FeatureCollection",
        "crs": {"type": "name", "properties": {"name": crs}},
        "features": [
            {"type": "Feature", "properties": {"name": f"Hill {n}"}, "geometry": shapely.geometry.mapping(shape)}
            for n, shape in enumerate(shapes, start=1)
        ],
    }
    path.write_text(json.dumps(told))
    return path


def image(path: Path, *, crs: str = "EPSG:32633", west: float = 300_000, north: float = 5_540_000) -> Path:
    from pigmap.geometry.native import own_data

    own_data()
    import rasterio
    from rasterio.transform import from_origin

    pixel = 5e-6 if crs == "EPSG:4326" else 0.5
    with rasterio.open(
        path, "w", driver="GTiff", width=60, height=40, count=3, dtype="uint8", photometric="RGB", crs=crs,
        transform=from_origin(west, north, pixel, pixel),
    ) as out:  # fmt: skip
        out.write(np.full((3, 40, 60), 120, dtype=np.uint8))
    return path


def box(x: float = 500_000.0, y: float = 5_540_000.0, side: float = 100.0) -> shapely.Polygon:
    return shapely.box(x, y, x + side, y + side)


def opened(path: Path) -> Farm:
    with Session.open(path) as session:
        return session.farm


def test_outlines_images_and_weather_become_a_farm(tmp_path: Path, capsys: Captured) -> None:
    farm = tmp_path / "hill.gpkg"
    fields = outlines(tmp_path / "fields.geojson", box(), box(500_200))
    (tmp_path / "weather.csv").write_text("date,rain\n2026-03-14,4.5\n2026-03-15,-1\n")
    (tmp_path / "images").mkdir()
    under = image(tmp_path / "images" / "aerial.tif", crs="EPSG:32632", west=500_000, north=5_540_020)
    status = main(
        ["new", str(farm), "--fields", str(fields), "--image", str(under), "--weather", str(tmp_path / "weather.csv")]
    )
    said = capsys.readouterr()
    assert (status, said.err) == (0, "")
    made = opened(farm)
    assert sorted(field.name for field in made.fields.values()) == ["Hill 1", "Hill 2"]
    assert [row.link for row in made.images.values()] == ["images/aerial.tif"]
    assert [(day.day.isoformat(), day.rain_mm) for day in made.weather_days.values()] == [("2026-03-14", 4.5)]
    assert (made.name, made.projection.code) == ("hill", 32632)  # the image's coordinates lead
    lines = said.out.splitlines()
    assert lines[0].split() == ["file", "row", "name", "result", "area", "words"]
    assert "Row 2: The rain is -1." in said.out
    assert lines[-1] == (f"{farm} is made, in WGS 84 / UTM zone 32N: fields 2, images 1, days of weather 1.")
    with Session.open(farm) as session:
        uid = next(iter(session.farm.images))
        assert images_of(session).overview(uid) is not None  # made already, for the first frame


def test_json_lists_what_became_of_each_row(tmp_path: Path, capsys: Captured) -> None:
    bow = shapely.Polygon([(500_000, 5_540_000), (500_100, 5_540_100), (500_100, 5_540_000), (500_000, 5_540_100)])
    flat = shapely.Polygon([(500_000, 5_540_000), (500_100, 5_540_000), (500_200, 5_540_000)])
    fields = outlines(tmp_path / "fields.geojson", box(), bow, flat)
    assert main(["new", str(tmp_path / "hill.gpkg"), "--fields", str(fields), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert [(row["row"], row["name"], row["result"]) for row in rows] == [
        (1, "Hill 1", "taken"),
        (2, "Hill 2", "mended"),
        (3, "Hill 3", "refused"),
    ]
    assert rows[1]["words"].startswith("The edge of Hill 2 crossed itself; it was mended.")
    assert rows[2]["words"].startswith("Hill 3 encloses 0 m² of ground; a field has at least 1 m².")


@pytest.mark.parametrize(
    ("extra", "code"),
    [
        ([], 25832),  # outlines that are in a UTM zone keep theirs
        (["--crs", "EPSG:5243"], 5243),
        (["--image", "near.tif"], 32632),
        (["--image", "degrees.tif"], 25832),  # no metres in it
        (["--image", "far.tif"], 25832),  # from another part of the country
    ],
)
def test_the_projection_is_as_asked_else_the_images_else_the_utm_zone(
    tmp_path: Path, extra: list[str], code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    image(tmp_path / "near.tif", crs="EPSG:32632", west=500_000, north=5_540_020)
    image(tmp_path / "far.tif", crs="EPSG:32633", west=500_000)
    image(tmp_path / "degrees.tif", crs="EPSG:4326", west=9.0, north=50.0)
    outlines(tmp_path / "fields.geojson", box())
    assert main(["new", "hill.gpkg", "--fields", "fields.geojson", *extra]) == 0
    assert opened(tmp_path / "hill.gpkg").projection.code == code


def test_degrees_become_metres_of_the_zone_they_lie_in(tmp_path: Path) -> None:
    fields = outlines(
        tmp_path / "f.geojson", shapely.box(-99.2, 47.0, -99.198, 47.001), crs="urn:ogc:def:crs:OGC:1.3:CRS84"
    )
    assert main(["new", str(tmp_path / "hill.gpkg"), "--fields", str(fields)]) == 0
    made = opened(tmp_path / "hill.gpkg")
    (field,) = made.fields.values()
    assert made.projection.code == 32614
    assert field.outline.area == pytest.approx(152.0 * 111.2, rel=0.01)


def test_an_empty_map_needs_only_a_place(tmp_path: Path, capsys: Captured) -> None:
    assert main(["new", str(tmp_path / "hill.gpkg"), "--at", "47.03,-99.18", "--name", "Hill Farm"]) == 0
    made = opened(tmp_path / "hill.gpkg")
    assert (made.name, made.projection.code, len(made.fields)) == ("Hill Farm", 32614, 0)
    assert capsys.readouterr().out.count("\n") == 1


@pytest.mark.parametrize(("typed", "name"), [("Ridge\n Farm ", "Ridge Farm"), ("  ", "bare")])
def test_the_name_of_a_farm_is_one_line(tmp_path: Path, typed: str, name: str) -> None:
    assert main(["new", str(tmp_path / "bare.gpkg"), "--at", "50.66,-3.97", "--name", typed]) == 0
    assert opened(tmp_path / "bare.gpkg").name == name


def test_fields_and_image_that_lie_apart_are_told_of(tmp_path: Path, capsys: Captured) -> None:
    fields = outlines(tmp_path / "fields.geojson", box(), box(500_300), box(900_000))
    other = image(tmp_path / "other.tif", crs="EPSG:32632", west=500_000, north=5_600_000)
    assert main(["new", str(tmp_path / "hill.gpkg"), "--fields", str(fields), "--image", str(other)]) == 0
    assert capsys.readouterr().err.splitlines() == [
        "The fields lie up to 400 km apart, so a map of them all shows little. Make a farm for each place.",
        "Lengths in 1 field far from the others are off by 0.20 %.",
        "The image other shows none of the fields. Look whether it is the right one.",
    ]


def test_a_terrain_image_is_linked(tmp_path: Path, capsys: Captured) -> None:
    heights = made(tmp_path / "heights.tif", plane(5.0))
    farm = tmp_path / "hill.gpkg"
    assert main(["new", str(farm), "--at", "50.5,7.6", "--terrain", str(heights)]) == 0
    with Session.open(farm) as session:
        assert [(row.name, row.link) for row in session.farm.terrains.values()] == [("heights", "heights.tif")]
    assert "Its heights lie about 2 m apart." in capsys.readouterr().out


def test_what_is_no_terrain_image_ends_it_before_a_farm_is_made(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "heights.tif").touch()
    farm = tmp_path / "hill.gpkg"
    assert main(["new", str(farm), "--at", "50,9", "--terrain", str(tmp_path / "heights.tif")]) == 1
    assert "heights.tif cannot be read as a terrain image." in capsys.readouterr().err
    assert not farm.exists()


def no_place(folder: Path) -> list[str]:
    return []


def degrees_asked(folder: Path) -> list[str]:
    return ["--at", "50,9", "--crs", "EPSG:4326"]


def bad_position(folder: Path) -> list[str]:
    return ["--at", "behind the barn"]


def no_system(folder: Path) -> list[str]:
    (folder / "f.gpx").write_text('<gpx version="1.1" creator="x"><wpt lat="50" lon="9"/></gpx>')
    from tests.builtin.formats.test_vector import write

    write(folder / "f.shp", [box()], name=["a"])
    (folder / "f.prj").unlink()
    return ["--fields", str(folder / "f.shp")]


def no_ground(folder: Path) -> list[str]:
    line = shapely.LineString([(500_000, 5_540_000), (500_100, 5_540_000)])
    return ["--fields", str(outlines(folder / "f.geojson", line))]  # type: ignore[arg-type]


def missing_image(folder: Path) -> list[str]:
    return ["--image", str(folder / "gone.tif")]


def missing_outlines(folder: Path) -> list[str]:
    return ["--fields", str(folder / "gone.gpkg")]


def missing_weather(folder: Path) -> list[str]:
    return ["--at", "50,9", "--weather", str(folder / "gone.csv")]


def no_such_layer(folder: Path) -> list[str]:
    return ["--fields", str(outlines(folder / "f.geojson", box())), "--layer", "ponds"]


def nowhere(folder: Path) -> list[str]:
    (folder / "f.geojson").write_text(
        '{"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"a": 1}, "geometry": null}]}'
    )
    return ["--fields", str(folder / "f.geojson")]


TABLE: list[tuple[Callable[[Path], list[str]], int, str]] = [
    (
        no_place,
        2,
        "Nothing says where hill is. Give its fields or an image, or its place as a phone shows it: --at 47.03,-99.18.",
    ),
    (
        degrees_asked,
        1,
        "EPSG:4326 counts in degrees; nets and paddocks are measured in metres. Name one that counts in metres, "
        "such as EPSG:32632, or leave it out: one that suits is picked.",
    ),
    (
        bad_position,
        1,
        "behind the barn does not read as a place: the letter b in it. "
        "Type two numbers as the phone shows them, such as 47.03, -99.18.",
    ),
    (
        no_system,
        1,
        "f.shp does not say in which coordinate system its outlines are. "
        "Put its .prj file beside it, or name the system with --crs EPSG:N.",
    ),
    (
        no_ground,
        1,
        "Hill 1 is a line, not an area. Give an area, or a line that ends where it began.\n"
        "None of the rows of f.geojson can be a field (1 looked at); no farm was made. "
        "Give a file, or with --layer NAME a layer, that holds areas.",
    ),
    (missing_image, 1, "The image gone.tif is not in {folder}. Look for the file, and name it where it is."),
    (missing_outlines, 1, "The file gone.gpkg is not in {folder}. Look for the file, and name it where it is."),
    (missing_weather, 1, "The weather file gone.csv is not in {folder}. Look for the file, and name it where it is."),
    (no_such_layer, 1, "f.geojson has no layer ponds. Its layers are: f."),
    (
        nowhere,
        1,
        "f.geojson has no row with a shape; its layers are: f. "
        "Draw the outlines and save them, or give the file that holds them.",
    ),
]


@pytest.mark.parametrize(("given", "status", "words"), TABLE, ids=[row[0].__name__ for row in TABLE])
def test_what_makes_no_farm_is_refused_with_a_remedy_and_leaves_nothing(
    given: Callable[[Path], list[str]], status: int, words: str, tmp_path: Path, capsys: Captured
) -> None:
    farm = tmp_path / "hill.gpkg"
    assert main(["new", str(farm), *given(tmp_path)]) == status
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", words.format(folder=tmp_path) + "\n")
    assert not farm.exists()


def test_a_farm_that_is_there_is_not_overwritten(tmp_path: Path, capsys: Captured) -> None:
    farm = tmp_path / "hill.gpkg"
    farm.write_bytes(b"a farm of many years")
    assert main(["new", str(farm), "--at", "50,9"]) == 1
    assert capsys.readouterr().err == f"There is already a file hill.gpkg in {tmp_path}. Choose another name.\n"
    assert farm.read_bytes() == b"a farm of many years"


def test_a_folder_that_is_not_there_and_a_name_that_is_none_are_refused(tmp_path: Path, capsys: Captured) -> None:
    assert main(["new", str(tmp_path / "no" / "hill.gpkg"), "--at", "50,9"]) == 1
    assert capsys.readouterr().err == (
        f"There is no folder {tmp_path / 'no'} to make hill.gpkg in. Make the folder first.\n"
    )
    assert main(["new", str(tmp_path / "hill"), "--at", "50,9"]) == 2
    assert capsys.readouterr().err == (
        "hill does not end in .gpkg, so it is no name for a farm file. Name it hill.gpkg.\n"
    )


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_read_only_folder_is_named(tmp_path: Path, capsys: Captured) -> None:
    tmp_path.chmod(0o500)
    assert main(["new", str(tmp_path / "hill.gpkg"), "--at", "50,9"]) == 1
    tmp_path.chmod(0o700)
    assert capsys.readouterr().err == (
        f"hill.gpkg cannot be made: the folder {tmp_path} is read-only. Choose a folder of your own.\n"
    )


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("47° 1.8' N 99° 10.8' W", ""),
        ("47,-99", ""),
        ("-99.18,47.03", "-99.18,47.03 is read as 47.03000° north, 99.18000° west: the longitude came first.\n"),
    ],
)
def test_a_place_is_read_as_people_write_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], told: str, said: str
) -> None:
    assert main(["new", str(tmp_path / "hill.gpkg"), "--at", told]) == 0
    printed = capsys.readouterr()
    assert "hill.gpkg is made, in WGS 84 / UTM zone 14N" in printed.out
    assert printed.err == said


def test_layers_that_are_left_aside_are_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write(tmp_path / "a.gpkg", [SQUARE], layer="ley", name=["Ley"])
    write(path, [EAST], layer="wood", append=True, name=["Wood"])
    assert main(["new", str(tmp_path / "hill.gpkg"), "--fields", str(path)]) == 0
    assert capsys.readouterr().err == (
        "Out of a.gpkg the layer ley is taken; it also has: wood. --layer NAME takes another.\n"
    )
    assert main(["new", str(tmp_path / "dale.gpkg"), "--fields", str(path), "--layer", "wood"]) == 0
    assert capsys.readouterr().err == ""
