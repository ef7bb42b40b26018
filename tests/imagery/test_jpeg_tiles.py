from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from pigmap.imagery.jpeg_tiles import jpeg_tiles
from pigmap.imagery.pyramid import Spot
from pigmap.imagery.source import open_source
from pigmap.imagery.tiff import COLUMNS, directories
from pigmap.records import Projection

MakeImage = Callable[..., Path]

DECODERS_DIFFER = 12
"""Grey levels by which two decoders of the same JPEG may differ: how they bring colour to full size."""


def smooth_colours(rows: int, columns: int) -> NDArray[np.uint8]:
    """Return bands without hard edges, each place with a colour of its own."""
    y, x = np.mgrid[:rows, :columns].astype(np.float64)
    picture = [127 + 120 * np.sin(x / 97), 127 + 120 * np.sin(y / 83), 127 + 120 * np.sin((x + y) / 140)]
    return np.stack(picture).astype(np.uint8)


def _jpeg(make_image: MakeImage, rows: int = 1100, columns: int = 1300, **differs: Any) -> Path:
    how = {"tiled": True, "compress": "jpeg", "photometric": "ycbcr", "blockxsize": 512, "blockysize": 512, **differs}
    return make_image(smooth_colours(rows, columns), **how)


def _with_overviews(path: Path) -> Path:
    import rasterio
    from rasterio.enums import Resampling

    how = {"COMPRESS_OVERVIEW": "JPEG", "PHOTOMETRIC_OVERVIEW": "YCBCR", "GDAL_TIFF_OVR_BLOCKSIZE": "512"}
    with rasterio.Env(**how), rasterio.open(path, "r+") as image:
        image.build_overviews([2, 4], Resampling.average)
    return path


@pytest.mark.parametrize(
    "form",
    [{}, {"blockxsize": 256, "blockysize": 256}, {"bigtiff": "YES"}, {"endianness": "BIG"}],
    ids=["512", "256", "64 bits", "other end first"],
)
def test_tiles_straight_from_the_file_are_the_general_readers(
    make_image: MakeImage, projection: Projection, form: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = _with_overviews(_jpeg(make_image, **form))
    with open_source(path, projection) as straight:
        assert straight.bgra
        spots = [Spot(level, *at) for level in range(3) for at in ((0, 0), (1, 0), (1, 1), (2, 2))]
        spots = [spot for spot in spots if spot in set(straight.pyramid.tiles(straight.bounds, spot.level))]
        assert {spot.level for spot in spots} == {0, 1, 2}
        got = {spot: straight.tile(*spot) for spot in spots}
        assert {spot: _told(path, spot) for spot in spots} == dict.fromkeys(spots, True)  # none by way of the other
    monkeypatch.setattr("pigmap.imagery.source.jpeg_tiles", lambda _: None)
    with open_source(path, projection) as general:
        assert not general.bgra
        for spot, tile in got.items():
            wanted = general.tile(*spot)
            assert (tile[..., 3] == wanted[..., 3]).all(), spot
            apart = np.abs(tile[..., [2, 1, 0]].astype(int) - wanted[..., :3])
            assert apart.max() <= DECODERS_DIFFER, spot


def _told(path: Path, spot: Spot) -> bool:
    tiles = jpeg_tiles(path)
    assert tiles is not None
    try:
        return tiles.tile(spot) is not None
    finally:
        tiles.close()


def test_a_level_that_the_file_lacks_is_read_by_the_general_reader(
    make_image: MakeImage, projection: Projection
) -> None:
    with open_source(_jpeg(make_image), projection) as source:
        whole = source.tile(2, 0, 0)
        assert not _told(source.facts.path, Spot(2, 0, 0))
    wanted = smooth_colours(1100, 1300)
    assert np.abs(whole[100, 100, [2, 1, 0]].astype(int) - wanted[:, 402, 402]).max() < 20
    assert not whole[280:].any()


@pytest.mark.parametrize(
    "form",
    [
        {"compress": "deflate", "photometric": None},
        {"compress": "jpeg", "photometric": "rgb"},
        {"tiled": False, "blockxsize": None, "blockysize": 16},
        {"interleave": "band", "photometric": None},
        {"mask": np.full((1100, 1300), True)},
        {"blockxsize": 1024, "blockysize": 1024},
        {"blockxsize": 512, "blockysize": 256},
    ],
    ids=["not JPEG", "no luminance", "strips", "band by band", "a mask", "large tiles", "long tiles"],
)
def test_other_forms_are_left_to_the_general_reader(
    make_image: MakeImage, projection: Projection, form: dict[str, Any]
) -> None:
    path = _jpeg(make_image, **form)
    assert jpeg_tiles(path) is None
    with open_source(path, projection) as source:
        assert not source.bgra
        assert source.tile(0, 0, 0)[..., 3].min() == 255


def test_a_value_for_no_data_is_left_to_the_general_reader(make_image: MakeImage, projection: Projection) -> None:
    with open_source(_jpeg(make_image, nodata=0), projection) as source:
        assert not source.bgra


def test_a_torn_tile_is_none_and_the_others_are_read(make_image: MakeImage) -> None:
    path = _jpeg(make_image)
    tiles = jpeg_tiles(path)
    assert tiles is not None
    level = tiles._levels[0]
    with path.open("r+b") as file:
        file.seek(int(level.offsets[1]))
        file.write(b"\x13" * int(level.lengths[1]))
    assert tiles.tile(Spot(0, 1, 0)) is None
    assert tiles.tile(Spot(0, 0, 0)) is not None
    tiles.close()
    assert tiles.tile(Spot(0, 0, 0)) is None


def test_a_directory_that_is_torn_anywhere_is_no_fault(make_image: MakeImage, tmp_path: Path) -> None:
    whole = _jpeg(make_image, rows=40, columns=40, blockxsize=16, blockysize=16).read_bytes()
    torn = tmp_path / "torn.tif"
    for end in range(0, len(whole), 7):
        torn.write_bytes(whole[:end])
        tiles = jpeg_tiles(torn)
        if tiles is not None:
            tiles.tile(Spot(0, 0, 0))
            tiles.close()
    rng = np.random.default_rng(5)
    for _ in range(200):
        bent = bytearray(whole)
        for at in rng.integers(0, 400, 4):
            bent[at] = int(rng.integers(256))
        torn.write_bytes(bytes(bent))
        directories(torn)


def test_a_ring_of_directories_ends(tmp_path: Path) -> None:
    ring = tmp_path / "ring.tif"
    line = (256).to_bytes(2, "little") + (3).to_bytes(2, "little") + (1).to_bytes(4, "little") + b"\x07\0\0\0"
    ring.write_bytes(b"II*\0" + (8).to_bytes(4, "little") + b"\x01\0" + line + (8).to_bytes(4, "little"))
    (only,) = directories(ring)
    assert only.one(COLUMNS) == 7
