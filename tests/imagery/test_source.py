from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from pigmap.errors import RasterError
from pigmap.geometry.projection import from_projection, projection_for, to_projection
from pigmap.imagery.pyramid import Spot
from pigmap.imagery.source import open_source
from pigmap.records import Projection
from tests.imagery.conftest import NORTH, PIXEL, WEST, told_colours

MakeImage = Callable[..., Path]


def test_a_piece_on_whole_pixels_is_the_files_own_pixels(make_image: MakeImage, projection: Projection) -> None:
    with open_source(make_image(), projection) as source:
        assert source.bounds == (WEST, NORTH - 100, WEST + 150, NORTH)
        got = source.read((WEST + 10, NORTH - 60, WEST + 60, NORTH - 20), (100, 80), smooth=False)
    wanted = told_colours()[:, 40:120, 20:120]
    assert (got[..., :3] == np.moveaxis(wanted, 0, -1)).all()
    assert (got[..., 3] == 255).all()


def test_a_piece_that_reaches_beyond_the_image_is_transparent_there(
    make_image: MakeImage, projection: Projection
) -> None:
    with open_source(make_image(), projection) as source:
        got = source.read((WEST - 10, NORTH - 20, WEST + 10, NORTH + 20), (40, 80), smooth=False)
        beside = source.read((WEST - 500, NORTH, WEST - 400, NORTH + 100), (50, 50))
    assert got.shape == (80, 40, 4)
    assert (got[:40] == 0).all()
    assert (got[:, :20] == 0).all()
    assert (got[40:, 20:, 3] == 255).all()
    assert (got[40:, 20:, 0] == np.arange(20)).all()
    assert not beside.any()


def test_a_piece_much_coarser_than_the_image_still_lies_where_it_belongs(
    make_image: MakeImage, projection: Projection
) -> None:
    with open_source(make_image(), projection) as source:
        got = source.read((WEST - 1000, NORTH - 1000, WEST + 1000, NORTH + 1000), (200, 200))
    rows, columns = np.nonzero(got[..., 3])
    assert (int(rows.min()), int(rows.max())) == (100, 109)  # 150 by 100 m at 10 m
    assert (int(columns.min()), int(columns.max())) == (100, 114)


def test_tiles_join_without_a_seam_and_halve_from_level_to_level(make_image: MakeImage, projection: Projection) -> None:
    bands = told_colours(1100, 1300)
    with open_source(make_image(bands), projection) as source:
        assert (source.levels, source.metres_per_pixel) == (3, PIXEL)
        rows = [np.hstack([source.tile(0, column, row) for column in range(3)]) for row in range(3)]
        whole = np.vstack(rows)
        half = source.tile(1, 0, 0)
        bounds = source.tile_bounds(1, 1, 0)
    assert (whole[:1100, :1300, :3] == np.moveaxis(bands, 0, -1)).all()
    assert not whole[1100:].any()
    assert not whole[:, 1300:].any()
    # A pixel of the half picture is one of the four it stands for.
    four = bands[:, :1024, :1024].reshape(3, 512, 2, 512, 2)
    same = (np.moveaxis(half[..., :3], -1, 0)[:, :, None, :, None] == four).all(axis=0)
    assert same.any(axis=(1, 3)).all()
    assert bounds == (WEST + 512, NORTH - 512, WEST + 1024, NORTH)


def test_tiles_of_an_image_with_long_pixels_are_square_on_the_ground(
    make_image: MakeImage, projection: Projection
) -> None:
    from rasterio.transform import from_origin

    path = make_image(transform=from_origin(WEST, NORTH, 0.25, 0.5))
    with open_source(path, projection) as source:
        assert source.metres_per_pixel == 0.25
        west, south, east, north = source.tile_bounds(0, 0, 0)
        assert east - west == north - south == 128.0
        tile = source.tile(0, 0, 0)
    assert tile[300, 120, 0] == 120  # column 120 of the file
    assert tile[300, 120, 1] == 150  # 75 m south of the corner: its row 150
    assert tile[300, 305, 3] == 0


def test_wanted_tiles_are_those_in_view(make_image: MakeImage, projection: Projection) -> None:
    with open_source(make_image(told_colours(1100, 1300)), projection) as source:
        seen = list(source.pyramid.tiles((WEST + 300, NORTH - 300, WEST + 10_000, NORTH + 50), 0))
        assert seen == [Spot(0, 1, 0), Spot(0, 2, 0), Spot(0, 1, 1), Spot(0, 2, 1)]
        assert [source.pyramid.level_for(pixel) for pixel in (0.1, 0.5, 0.99, 1.0, 2.0, 500.0)] == [0, 0, 0, 1, 2, 2]


@pytest.mark.parametrize("crs", ["EPSG:4326", "EPSG:3857", "EPSG:32633"])
def test_an_image_in_any_other_system_lies_where_it_belongs(
    make_image: MakeImage, projection: Projection, crs: str
) -> None:
    """A bright square in a dark image: its middle comes out where the coordinates say, to half a pixel."""
    from rasterio.transform import from_bounds

    at = shapely.Point(WEST + 200, NORTH - 150)
    (there,) = from_projection([at], projection, crs)
    x, y = there.bounds[:2]
    (east,) = from_projection([shapely.Point(WEST + 201, NORTH - 150)], projection, crs)
    metre = abs(east.bounds[0] - x)
    half = 100 * metre
    bands = np.full((3, 400, 400), 20, dtype=np.uint8)
    bands[:, 198:202, 198:202] = 240
    path = make_image(bands, crs=crs, transform=from_bounds(x - half, y - half, x + half, y + half, 400, 400))
    with open_source(path, projection) as source:
        got = source.read((WEST + 180, NORTH - 170, WEST + 220, NORTH - 130), (400, 400))
        tile = source.tile(0, 0, 0)
        west, _, _, north = source.tile_bounds(0, 0, 0)
    rows, columns = np.nonzero(got[..., 0] > 120)
    assert WEST + 180 + (columns.mean() + 0.5) / 10 == pytest.approx(at.x, abs=0.3)
    assert NORTH - 130 - (rows.mean() + 0.5) / 10 == pytest.approx(at.y, abs=0.3)
    rows, columns = np.nonzero(tile[..., 0] > 120)
    pixel = source.metres_per_pixel
    assert west + (columns.mean() + 0.5) * pixel == pytest.approx(at.x, abs=1.0)
    assert north - (rows.mean() + 0.5) * pixel == pytest.approx(at.y, abs=1.0)


def test_a_turned_and_an_upside_down_picture_are_set_upright(make_image: MakeImage, projection: Projection) -> None:
    from rasterio.transform import Affine

    bands = np.full((3, 100, 100), 20, dtype=np.uint8)
    bands[:, 10:20, 80:90] = 240
    turned = Affine.translation(WEST, NORTH) @ Affine.rotation(30) @ Affine.scale(0.5, -0.5)
    for transform in (turned, Affine(0.5, 0, WEST, 0, 0.5, NORTH)):
        with open_source(make_image(bands, transform=transform), projection) as source:
            west, south, east, north = source.bounds
            size = round((east - west) * 10), round((north - south) * 10)
            rows, columns = np.nonzero(source.read(source.bounds, size)[..., 0] > 120)
            wanted = transform @ (85, 15)
            assert west + (columns.mean() + 0.5) / 10 == pytest.approx(wanted[0], abs=0.3)
            assert north - (rows.mean() + 0.5) / 10 == pytest.approx(wanted[1], abs=0.3)


def masked(make: MakeImage, means: str) -> Path:
    """Return an image whose western half has no data, told by one of four means."""
    from rasterio.enums import ColorInterp as Colour

    bands = told_colours(100, 100)
    hidden = np.full((100, 100), 255, dtype=np.uint8)
    hidden[:, :50] = 0
    if means == "alpha":
        four = np.concatenate([bands, hidden[None]])
        return make(four, colorinterp=[Colour.red, Colour.green, Colour.blue, Colour.alpha])
    if means == "mask":
        return make(bands, mask=hidden)
    if means == "not a number":
        floats = bands.astype(np.float32)
        floats[:, :, :50] = np.nan
        return make(floats, photometric="RGB")
    bands[:, :, :50] = 7
    return make(bands, nodata=7)


@pytest.mark.parametrize("means", ["alpha", "mask", "nodata", "not a number"])
@pytest.mark.parametrize("warped", [False, True], ids=["as it lies", "warped"])
def test_what_has_no_data_is_transparent(make_image: MakeImage, means: str, warped: bool) -> None:
    projection = projection_for("EPSG:32633" if warped else "EPSG:32632", (9.0, 50.0))
    (inside,) = to_projection([shapely.box(WEST + 27, NORTH - 48, WEST + 48, NORTH - 2)], "EPSG:32632", projection)
    (outside,) = to_projection([shapely.box(WEST + 2, NORTH - 48, WEST + 23, NORTH - 2)], "EPSG:32632", projection)
    with open_source(masked(make_image, means), projection) as source:
        seen, unseen = (
            source.read(shape.centroid.buffer(4).bounds, (16, 16), smooth=False) for shape in (inside, outside)
        )
    assert (seen[..., 3] == 255).all()
    assert not unseen.any()


def test_values_that_are_no_bytes_are_stretched_by_one_measure_for_all_bands(
    make_image: MakeImage, projection: Projection
) -> None:
    bands = np.linspace(1000, 3000, 3 * 100 * 100).reshape(3, 100, 100).astype(np.uint16)
    with open_source(make_image(bands, photometric="RGB"), projection) as source:
        got = source.read(source.bounds, (100, 100), smooth=False)
    assert got[0, 0].tolist() == [0, 83, 172, 255]  # black at 1040, white at 2960
    assert got[..., 2].max() == 255
    assert not source.troubles


def test_one_value_everywhere_is_grey(make_image: MakeImage, projection: Projection) -> None:
    with open_source(
        make_image(np.full((3, 20, 20), 10_000, dtype=np.uint16), photometric="RGB"), projection
    ) as source:
        assert source.read(source.bounds, (4, 4))[1, 1].tolist() == [128, 128, 128, 255]


def test_a_palette_is_never_blended(make_image: MakeImage, projection: Projection) -> None:
    numbers = np.ones((1, 40, 40), dtype=np.uint8)
    numbers[:, :, 20:] = 9
    path = make_image(numbers, photometric="palette", colormap={1: (10, 20, 30, 255), 9: (200, 100, 50, 255)})
    with open_source(path, projection) as source:
        got = source.read(source.bounds, (133, 133))
    assert {tuple(pixel) for pixel in got.reshape(-1, 4).tolist()} == {(10, 20, 30, 255), (200, 100, 50, 255)}


def test_a_place_that_cannot_be_read_is_transparent_and_said_once(
    make_image: MakeImage, projection: Projection
) -> None:
    """The file is damaged after it was opened: the tiles go empty, nothing is raised."""
    noise = np.random.default_rng(1).integers(0, 255, (3, 2100, 2100), dtype=np.uint8)
    path = make_image(noise, tiled=True, compress="deflate")
    with open_source(path, projection) as source:
        state = path.stat()
        with path.open("r+b") as file:
            file.seek(state.st_size // 4)
            file.write(bytes(state.st_size - state.st_size // 4))
        os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))  # a disk that fails tells nothing of it
        tiles = [source.tile(0, column, row) for column in range(5) for row in range(5)]
        assert any(not tile.any() for tile in tiles)
        assert [str(said) for said in source.troubles] == [
            "A part of aerial.tif cannot be read; there the map is hatched or empty. Fetch or copy the image again."
        ]


def test_closing_does_not_wait_long_for_a_disk_that_does_not_answer(
    make_image: MakeImage, projection: Projection, monkeypatch: pytest.MonkeyPatch
) -> None:
    from time import perf_counter

    from pigmap.imagery.handle import Handle

    source, held, goes_on = open_source(make_image(), projection), threading.Event(), threading.Event()
    reads = Handle._read

    def slow(self: Handle, *given: Any, **how: Any) -> Any:
        held.set()
        assert goes_on.wait(20)
        return reads(self, *given, **how)

    monkeypatch.setattr(Handle, "_read", slow)
    reader = threading.Thread(target=lambda: source.read(source.bounds, (300, 200), smooth=False))
    reader.start()
    assert held.wait(10)
    handles, begun = list(source._handles), perf_counter()
    source.close()
    assert perf_counter() - begun < 5
    goes_on.set()
    reader.join(10)
    assert len(handles) == 2
    assert all(handle._dataset.closed for handle in handles)  # the one that was read lets go by itself


def test_many_threads_read_the_same_pixels_each_with_its_own_hold(make_image: MakeImage) -> None:
    projection = projection_for("EPSG:32633", (12.0, 50.0))
    with open_source(make_image(told_colours(1100, 1300)), projection) as source:
        spots = list(source.pyramid.tiles(source.bounds, 0)) * 4
        alone = {spot: source.tile(*spot) for spot in spots}
        wait = threading.Barrier(4)

        def read(part: int) -> list[bool]:
            wait.wait()
            return [bool((source.tile(*spot) == alone[spot]).all()) for spot in spots[part::4]]

        with ThreadPoolExecutor(4) as pool:
            same = [each for part in pool.map(read, range(4)) for each in part]
        assert len(same) == len(spots)
        assert all(same)
        assert len(source._handles) == 5
    assert not source.tile(0, 0, 0).any()  # closed: empty, not a fault


def test_an_image_from_elsewhere_is_refused(make_image: MakeImage) -> None:
    from rasterio.transform import from_origin

    south = make_image(crs="EPSG:3031", transform=from_origin(0, 0, 0.5, 0.5))  # the South Pole
    with pytest.raises(RasterError) as refused:
        open_source(south, projection_for("EPSG:2154", (3.0, 46.5)))
    assert str(refused.value.message) == (
        "aerial.tif lies where the farm's coordinates (RGF93 v1 / Lambert-93) do not reach."
    )
    assert str(refused.value.remedy) == "Use an image of the farm, or make the farm from this image."


def test_the_reader_keeps_to_its_share_of_memory(make_image: MakeImage, projection: Projection) -> None:
    """The library counts in bytes or megabytes as the number looks: 64 would be 64 bytes in one place."""
    from rasterio._env import get_gdal_config

    with open_source(make_image(), projection) as source:
        source.tile(0, 0, 0)
    assert int(get_gdal_config("GDAL_CACHEMAX")) == 64_000_000


def test_swapping_the_order_of_bands_changes_nothing(shared_data: Path) -> None:
    path = shared_data / "georef" / "RGBA.uint16.tif"
    with open_source(path, projection_for("EPSG:32612", (-108.0, 36.8))) as source:
        assert source.facts.bands.colours == (3, 2, 1)
        assert source.read(source.bounds, (64, 64))[..., 3].max() == 255


def test_an_image_with_control_points_lies_where_they_say(make_image: MakeImage, projection: Projection) -> None:
    from rasterio.control import GroundControlPoint

    bands = np.full((3, 200, 300), 20, dtype=np.uint8)
    bands[:, 40:50, 200:210] = 240
    points = [GroundControlPoint(r, c, WEST + c / 2, NORTH - r / 2) for r in (0, 100, 200) for c in (0, 150, 300)]
    with open_source(make_image(bands, transform=None, gcps=(points, "EPSG:32632")), projection) as source:
        assert source.bounds == pytest.approx((WEST, NORTH - 100, WEST + 150, NORTH), abs=0.5)
        got = source.read((WEST, NORTH - 100, WEST + 150, NORTH), (300, 200), smooth=False)
    rows, columns = np.nonzero(got[..., 0] > 120)
    assert (rows.mean() + 0.5, columns.mean() + 0.5) == pytest.approx((45, 205), abs=1)


def test_a_warped_page_has_no_seam_between_its_strips(make_image: MakeImage) -> None:
    """Red tells the column and green the row: over the whole page both rise evenly."""
    from rasterio.transform import from_origin

    ramps = np.full((3, 240, 240), 100, dtype=np.uint8)
    ramps[0], ramps[1] = np.arange(240)[None, :], np.arange(240)[:, None]
    path = make_image(ramps, crs="EPSG:25832", transform=from_origin(WEST, NORTH, 0.5, 0.5))
    projection = projection_for("EPSG:32633", (9.0, 50.0))
    with open_source(path, projection) as source:
        west, south, east, north = source.bounds
        inner = (west + 30, south + 30, east - 30, north - 30)
        page = source.read(inner, (700, 700)).astype(int)
    assert (page[..., 3] == 255).all()
    assert np.abs(np.diff(page[..., 1], axis=0)).max() <= 1
    assert np.abs(np.diff(page[..., 0], axis=1)).max() <= 1


def test_a_warped_page_of_a_large_image_is_read_from_the_smaller_copy_in_it(
    make_image: MakeImage, monkeypatch: pytest.MonkeyPatch
) -> None:
    import rasterio
    from rasterio.enums import Resampling

    path = make_image(np.full((3, 2048, 2048), 90, dtype=np.uint8), tiled=True)
    with rasterio.open(path, "r+") as file:
        file.build_overviews([2, 4, 8], Resampling.average)
    opened: list[int] = []
    usual = rasterio.open

    def noted(*where: object, **how: object) -> object:
        opened.append(int(str(how.get("overview_level", -1))))
        return usual(*where, **how)

    with open_source(path, projection_for("EPSG:32633", (9.0, 50.0))) as source:
        monkeypatch.setattr(rasterio, "open", noted)
        picture = source.read(source.bounds, (300, 300))
    assert opened == [1]  # shrunk seven times: a quarter of the size still has all the detail
    assert picture[150, 150].tolist() == [90, 90, 90, 255]
