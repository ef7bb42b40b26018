from __future__ import annotations

import os
import zipfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.imagery.vet import vet

MakeImage = Callable[..., Path]
PLACE = "Put its world file and {stem}.prj beside it, or export it with its projection."
NO_IMAGE = "Choose the zip that holds the image: a .tif, .jp2, .jpg or .png file."
UNPACK = "Fetch or copy it again, or unpack it with another program and choose the image."
BYTES = "Export it as 8-bit red, green and blue."
EUROPA = (
    'PROJCS["Equirectangular EUROPA",GEOGCS["GCS_EUROPA",DATUM["D_EUROPA",SPHEROID["EUROPA",1560800,0]],'
    'PRIMEM["Reference_Meridian",0],UNIT["degree",0.0174532925199433]],PROJECTION["Equirectangular"],'
    'PARAMETER["standard_parallel_1",0],PARAMETER["central_meridian",0],PARAMETER["false_easting",0],'
    'PARAMETER["false_northing",0],UNIT["metre",1]]'
)


def refused(path: Path) -> tuple[str, str]:
    with pytest.raises(RasterError) as caught:
        vet(path)
    return str(caught.value.message), str(caught.value.remedy)


def missing(make: MakeImage, folder: Path) -> Path:
    return folder / "gone.tif"


def a_folder(make: MakeImage, folder: Path) -> Path:
    (folder / "images").mkdir()
    return folder / "images"


def empty(make: MakeImage, folder: Path) -> Path:
    (folder / "empty.tif").touch()
    return folder / "empty.tif"


def text_renamed(make: MakeImage, folder: Path) -> Path:
    (folder / "notes.tif").write_text("move the sows on Monday\n" * 40)
    return folder / "notes.tif"


def side_file(make: MakeImage, folder: Path) -> Path:
    (folder / "aerial.tif.ovr").write_bytes(b"II*\0")
    return folder / "aerial.tif.ovr"


def zipped(make: MakeImage, folder: Path) -> Path:
    with zipfile.ZipFile(folder / "all.zip", "w") as packed:
        for name in ("north.tif", "south.tif", "read me.txt"):
            packed.writestr(name, "x")
    return folder / "all.zip"


def zip_of_words(make: MakeImage, folder: Path) -> Path:
    with zipfile.ZipFile(folder / "words.zip", "w") as packed:
        packed.writestr("read me.txt", "x")
    return folder / "words.zip"


def torn_zip(make: MakeImage, folder: Path) -> Path:
    whole = zipped(make, folder).read_bytes()
    (folder / "torn.zip").write_bytes(whole[: len(whole) // 2])
    return folder / "torn.zip"


def not_in_zip(make: MakeImage, folder: Path) -> Path:
    return zipped(make, folder) / "gone.tif"


def locked_zip(make: MakeImage, folder: Path) -> Path:
    with zipfile.ZipFile(folder / "locked.zip", "w") as packed:
        packed.writestr("aerial.tif", "x")
    whole = bytearray((folder / "locked.zip").read_bytes())
    whole[whole.index(b"PK\x01\x02") + 8] |= 1  # as a packing program marks what it locked (APPNOTE 4.4.4)
    (folder / "locked.zip").write_bytes(whole)
    return folder / "locked.zip"


def empty_in_zip(make: MakeImage, folder: Path) -> Path:
    with zipfile.ZipFile(folder / "empty.zip", "w") as packed:
        packed.writestr("aerial.tif", "")
    return folder / "empty.zip"


def drone_photo(make: MakeImage, folder: Path) -> Path:
    """Return a JPEG with what a camera writes of itself: here its model, as Exif 2.3 lays it out."""
    path = make(name="IMG_0042.JPG", driver="JPEG", crs=None, transform=None)
    model = b"AB\0\0"  # four bytes or fewer stand in the line itself
    entry = b"\x10\x01\x02\x00\x03\x00\x00\x00" + model
    exif = b"Exif\0\0II*\0\x08\0\0\0\x01\0" + entry + b"\0\0\0\0"
    plain = path.read_bytes()
    path.write_bytes(plain[:2] + b"\xff\xe1" + (len(exif) + 2).to_bytes(2, "big") + exif + plain[2:])
    return path


def degrees_as_metres(make: MakeImage, folder: Path) -> Path:
    from rasterio.transform import from_origin

    return make(transform=from_origin(9.0, 50.0, 5e-6, 5e-6))


def metres_as_degrees(make: MakeImage, folder: Path) -> Path:
    return make(crs="EPSG:4326")


def no_system(make: MakeImage, folder: Path) -> Path:
    return make(crs=None)


def no_corners(make: MakeImage, folder: Path) -> Path:
    return make(transform=None)


def control_points(make: MakeImage, folder: Path) -> Path:
    from rasterio.control import GroundControlPoint

    corners = [GroundControlPoint(r, c, 500_000 + c, 5_540_000 - r) for r, c in ((0, 0), (0, 300))]
    return make(transform=None, gcps=(corners, "EPSG:32632"))


def another_planet(make: MakeImage, folder: Path) -> Path:
    return make(crs=EUROPA)


def own_plan(make: MakeImage, folder: Path) -> Path:
    return make(crs='LOCAL_CS["barn plan",UNIT["metre",1],AXIS["x",EAST],AXIS["y",NORTH]]')


def coarse(make: MakeImage, folder: Path) -> Path:
    from rasterio.transform import from_origin

    return make(transform=from_origin(500_000, 5_540_000, 30, 30))


def coarse_in_degrees(make: MakeImage, folder: Path) -> Path:
    from rasterio.transform import from_origin

    return make(crs="EPSG:4326", transform=from_origin(9.0, 50.0, 0.0001, 0.0001))


def off_the_earth(make: MakeImage, folder: Path) -> Path:
    from rasterio.transform import from_origin

    return make(crs="EPSG:4326", transform=from_origin(9.0, 196.0, 0.000001, 0.000001))


def complex_numbers(make: MakeImage, folder: Path) -> Path:
    return make(np.ones((1, 20, 20), dtype=np.complex64))


def cut_off(make: MakeImage, folder: Path) -> Path:
    path = make(
        np.random.default_rng(1).integers(0, 255, (3, 900, 900), dtype=np.uint8), tiled=True, compress="deflate"
    )
    whole = path.read_bytes()
    with path.open("r+b") as file:  # the head stays, the end of the data is lost
        file.seek(len(whole) // 2)
        file.write(bytes(len(whole) - len(whole) // 2))
    return path


TABLE: list[tuple[Callable[[MakeImage, Path], Path], str, str]] = [
    (missing, "The image gone.tif is not in {folder}.", "Look for the file, and name it where it is."),
    (a_folder, "images is a folder, not an image.", "Name one image in it, such as a .tif file."),
    (empty, "empty.tif is empty (0 bytes).", "Fetch or copy it again; it was cut off."),
    (
        text_renamed,
        "notes.tif is not an image that can be read here.",
        "Export it as a GeoTIFF, or fetch it again if it was one.",
    ),
    (side_file, "aerial.tif.ovr belongs to an image and is none itself.", "Name the image aerial.tif instead."),
    (
        zipped,
        "all.zip is a zip file with 2 images: north.tif, south.tif.",
        "Name one of them: all.zip/north.tif.",
    ),
    (zip_of_words, "words.zip is a zip file with no image in it.", NO_IMAGE),
    (torn_zip, "torn.zip cannot be unpacked: it is damaged or was packed in an unusual way.", UNPACK),
    (
        not_in_zip,
        "The image gone.tif is not in all.zip.",
        "Look into the zip, and name the image as it is called there.",
    ),
    (locked_zip, "locked.zip is locked with a password.", "Unpack it, and choose the image."),
    (empty_in_zip, "aerial.tif is empty (0 bytes).", "Fetch or copy it again; it was cut off."),
    (
        drone_photo,
        "IMG_0042.JPG is a single photo as a camera took it, not a map: nothing says where its corners lie.",
        "Use the map that was made of the flight (an orthophoto), or pin the photo at three points.",
    ),
    (
        degrees_as_metres,
        "aerial.tif says that it counts in metres (WGS 84 / UTM zone 32N), but its corner lies at 9.00000, 50.00000: "
        "those are degrees.",
        "Export it again with the coordinate system in which it was made, often WGS 84 (EPSG:4326).",
    ),
    (
        metres_as_degrees,
        "aerial.tif says that it counts in degrees (WGS 84), but its corner lies at 500000, 5540000: those are metres.",
        "Export it again with the coordinate system in which it was made, such as EPSG:32632.",
    ),
    (
        no_system,
        "aerial.tif does not say where on earth it lies (no coordinate system).",
        PLACE.format(stem="aerial"),
    ),
    (
        no_corners,
        "aerial.tif does not say where on earth it lies (no place of its corners).",
        PLACE.format(stem="aerial"),
    ),
    (
        control_points,
        "aerial.tif says where it lies only by 2 control points.",
        "Warp it first, and export it as a GeoTIFF with its projection.",
    ),
    (
        another_planet,
        "aerial.tif shows another body than the earth: Equirectangular EUROPA, with a radius of 1561 km.",
        "Use an image of the farm, or work without one.",
    ),
    (
        own_plan,
        "aerial.tif lies on a plan of its own (barn plan), not on a map of the earth.",
        "Export it in the coordinate system of its country.",
    ),
    (
        coarse,
        "aerial.tif has pixels of 30 m; nets cannot be placed by an image coarser than 5 m.",
        "Use a finer image, or work without one.",
    ),
    (
        coarse_in_degrees,
        "aerial.tif has pixels of 11.1 m; nets cannot be placed by an image coarser than 5 m.",
        "Use a finer image, or work without one.",
    ),
    (
        off_the_earth,
        "aerial.tif lies where WGS 84 does not reach.",
        "Look whether its world file belongs to it, or export it again with its projection.",
    ),
    (
        complex_numbers,
        "aerial.tif holds values of the kind complex64; a picture needs whole or decimal numbers.",
        BYTES,
    ),
    (cut_off, "aerial.tif is damaged: 6 of 9 places in it cannot be read.", "Fetch or copy it again."),
]


@pytest.mark.parametrize(("made", "message", "remedy"), TABLE, ids=[row[0].__name__ for row in TABLE])
def test_what_cannot_lie_under_the_map_is_refused_with_a_remedy(
    made: Callable[[MakeImage, Path], Path], message: str, remedy: str, make_image: MakeImage, tmp_path: Path
) -> None:
    assert refused(made(make_image, tmp_path)) == (message.format(folder=tmp_path), remedy)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_named(make_image: MakeImage) -> None:
    path = make_image()
    path.chmod(0)
    assert refused(path) == ("aerial.tif may not be read by you.", "Ask its owner to let you read it, or copy it.")


def test_pixels_of_five_metres_pass_although_their_ground_is_a_little_more(make_image: MakeImage) -> None:
    from rasterio.transform import from_origin

    facts = vet(make_image(transform=from_origin(500_000, 5_540_000, 5, 5)))
    assert facts.cell_m == pytest.approx(5.002, abs=1e-3)


def test_size_counts_on_the_ground_not_on_a_web_map(make_image: MakeImage) -> None:
    from rasterio.transform import from_origin

    facts = vet(make_image(crs="EPSG:3857", transform=from_origin(1_001_875, 6_446_275, 7.5, 7.5)))
    assert facts.cell_m == pytest.approx(7.5 * 0.644, abs=0.02)  # cosine of 50 degrees, and the earth's flattening


def test_degrees_are_fine(make_image: MakeImage) -> None:
    from rasterio.transform import from_origin

    facts = vet(make_image(crs="EPSG:4326", transform=from_origin(9.0, 50.0, 5e-6, 5e-6)))
    assert facts.cell_m == pytest.approx(5e-6 * 111_229, rel=1e-3)  # a degree of latitude at 50 north, WGS 84
    assert facts.north_up


def test_turned_sheared_and_upside_down_pictures_are_fine(make_image: MakeImage) -> None:
    from rasterio.transform import Affine

    turned = Affine(0.866, 0.25, 500_000, 0.5, -0.433, 5_540_000)
    facts = vet(make_image(transform=turned))
    assert not facts.north_up
    assert facts.bounds == pytest.approx((500_000, 5_540_000 - 200 * 0.433, 500_000 + 300 * 0.866 + 50, 5_540_150))
    assert not vet(make_image(transform=Affine(0.5, 0, 500_000, 0, 0.5, 5_540_000), name="south.tif")).north_up


def test_a_world_file_and_a_prj_beside_the_picture_say_where_it_lies(make_image: MakeImage, tmp_path: Path) -> None:
    from pyproj import CRS

    plain = make_image(np.ones((3, 40, 60), dtype=np.uint8), name="plain.png", driver="PNG", crs=None, transform=None)
    for left_over in tmp_path.glob("plain.png.aux.xml"):
        left_over.unlink()
    # Lines of a world file: a, d, b, e, and the middle of the first pixel.
    plain.with_suffix(".pgw").write_text("0.5\n0.1\n0.1\n-0.5\n500000.25\n5539999.75\n")
    assert refused(plain)[0] == "plain.png does not say where on earth it lies (no coordinate system)."
    plain.with_suffix(".prj").write_text(CRS.from_epsg(32632).to_wkt("WKT1_ESRI"))
    facts = vet(plain)
    assert facts.transform == pytest.approx((0.5, 0.1, 499_999.95, 0.1, -0.5, 5_539_999.95))
    assert not facts.north_up


def test_colours_go_by_what_the_file_says_not_by_their_order(make_image: MakeImage) -> None:
    from rasterio.enums import ColorInterp as Colour

    swapped = make_image(
        np.ones((4, 20, 20), dtype=np.uint16), colorinterp=[Colour.blue, Colour.green, Colour.red, Colour.alpha]
    )
    bands = vet(swapped).bands
    assert (bands.colours, bands.alpha, bands.stretched) == ((3, 2, 1), 4, True)


def test_a_file_without_names_of_colours_shows_its_first_three_and_says_so(make_image: MakeImage) -> None:
    from rasterio.enums import ColorInterp as Colour

    facts = vet(
        make_image(
            np.ones((4, 20, 20), dtype=np.uint8),
            photometric="MINISBLACK",
            colorinterp=[Colour.gray, Colour.undefined, Colour.undefined, Colour.undefined],
        )
    )
    assert facts.bands.colours == (1, 2, 3)
    assert facts.bands.alpha is None  # the fourth is neither taken for alpha nor for infrared
    assert [str(note) for note in facts.notes] == [
        "aerial.tif does not say which of its 4 bands is which colour; "
        "the first three are shown as red, green and blue."
    ]


@pytest.mark.parametrize("kind", ["uint8", "uint16", "int16", "float32", "float64"])
def test_one_band_is_shown_in_grey(make_image: MakeImage, kind: str) -> None:
    bands = vet(make_image(np.ones((1, 20, 20), dtype=kind))).bands
    assert (bands.colours, bands.stretched) == ((1,), kind != "uint8")


def test_a_palette_is_shown_in_its_colours(make_image: MakeImage) -> None:
    path = make_image(np.ones((1, 20, 20), dtype=np.uint8), photometric="palette", colormap={1: (10, 20, 30, 255)})
    assert vet(path).bands.palette


def test_an_image_with_a_few_damaged_places_passes_and_says_so(make_image: MakeImage) -> None:
    path = make_image(
        np.random.default_rng(1).integers(0, 255, (3, 900, 900), dtype=np.uint8), tiled=True, compress="deflate"
    )
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 9 // 10] + bytes(len(whole) // 10))
    assert [str(note) for note in vet(path).notes] == [
        "Parts of aerial.tif cannot be read and are hatched on the map. Fetch or copy the image again."
    ]


def test_a_zip_with_one_image_stands_for_it_also_with_its_world_file(make_image: MakeImage, tmp_path: Path) -> None:
    from pyproj import CRS

    plain = make_image(np.ones((3, 40, 60), dtype=np.uint8), name="plain.png", driver="PNG", crs=None, transform=None)
    with zipfile.ZipFile(tmp_path / "county.ZIP", "w") as packed:
        packed.write(plain, "2025/plain.png")
        packed.writestr("2025/plain.pgw", "0.5\n0\n0\n-0.5\n500000.25\n5539999.75\n")
        packed.writestr("2025/plain.prj", CRS.from_epsg(32632).to_wkt("WKT1_ESRI"))
        packed.writestr("__MACOSX/2025/._plain.png", "x")
    facts = vet(tmp_path / "county.ZIP")
    assert facts.path == tmp_path / "county.ZIP" / "2025" / "plain.png"
    assert facts.bounds == pytest.approx((500_000, 5_539_980, 500_030, 5_540_000))


def test_control_points_place_an_image(make_image: MakeImage) -> None:
    from rasterio.control import GroundControlPoint

    corners = [
        GroundControlPoint(r, c, 500_000 + c / 2, 5_540_000 - r / 2)
        for r, c in ((0, 0), (0, 300), (200, 0), (200, 300))
    ]
    facts = vet(make_image(transform=None, gcps=(corners, "EPSG:32632")))
    assert facts.bounds == pytest.approx((500_000, 5_539_900, 500_150, 5_540_000))
    assert facts.cell_m == pytest.approx(0.5, rel=1e-3)
    assert not facts.north_up  # the reader goes by the points


def test_of_many_images_in_a_zip_the_first_are_named_and_the_rest_are_counted(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "all.zip", "w") as packed:
        for each in range(9):
            packed.writestr(f"tile{each}.tif", "x")
    with pytest.raises(RasterError, match=r"9 images: tile0.tif, .*tile5.tif and 3 more\."):
        vet(tmp_path / "all.zip")
