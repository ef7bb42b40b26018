from __future__ import annotations

import os
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.imagery.vet import vet

MakeImage = Callable[..., Path]
PLACE = "Put its world file and {stem}.prj beside it, or export it with its projection."
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


def no_system(make: MakeImage, folder: Path) -> Path:
    return make(crs=None)


def no_corners(make: MakeImage, folder: Path) -> Path:
    return make(transform=None)


def control_points(make: MakeImage, folder: Path) -> Path:
    from rasterio.control import GroundControlPoint

    corners = [GroundControlPoint(r, c, 500_000 + c, 5_540_000 - r) for r, c in ((0, 0), (0, 300), (200, 0))]
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
    (zipped, "all.zip is a zip file; images in it: north.tif, south.tif.", "Unpack it, and name one of them."),
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
        "aerial.tif says where it lies only by 3 control points.",
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


REFUSED = {
    "RGB.byte.gcp.vrt": "only by 4 control points",
    "RGB.byte.rpc.vrt": "only by a model of its camera",
    "RGB.byte.tif": "pixels of 300 m",
    "RGB2.byte.tif": "pixels of 300 m",
    "RGB2.byte.tif.msk": "belongs to an image",
    "RGBA.byte.tif": "pixels of 300 m",
    "ak-compdcs.zip": "is a zip file; images in it: test.tif",
    "corrupt.tif": "is damaged: 4 of 9 places",
    "files.zip": "is a zip file",
    "float_nan.tif": "no coordinate system",
    "float_raster_with_nodata.tif": "pixels of 506 m",
    "rotated.tif": "no coordinate system",
    "rt_cog_gcps.tif": "only by 210 control points",
    "rt_cog_nonearth.tif": "another body than the earth",
    "test_esri_wkt.tif": "pixels of 10 m",
    "2019_BLAN_3_751000_4330000_image_crop.jpg": "no coordinate system",
    "hro_colorado_201404.tif.ovr": "belongs to an image",
    "hro_colorado_201404_extmask.tif.msk": "belongs to an image",
}


def test_every_real_image_passes_or_is_refused_in_words(shared_data: Path) -> None:
    seen: dict[str, Any] = {}
    for path in sorted([*(shared_data / "ortho").iterdir(), *(shared_data / "georef").iterdir()]):
        try:
            vet(path)
        except RasterError as why:
            seen[path.name] = str(why.message) if str(why.remedy).endswith(".") else "no remedy"
    assert sorted(seen) == sorted(REFUSED)
    assert {name: REFUSED[name] in said for name, said in seen.items()} == dict.fromkeys(seen, True)
