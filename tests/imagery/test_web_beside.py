"""What stands beside an image on the web counts as it does beside a file: masks, copies, its place; and pins do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from pigmap.geometry.pinned import Pin
from pigmap.imagery.pinned import open_flat, open_pinned, pins_text
from pigmap.imagery.place import NoPlaceError
from pigmap.imagery.source import open_source
from pigmap.imagery.unread import TileLaterError
from pigmap.imagery.vet import vet
from pigmap.imagery.web_file import BLOCK_BYTES, web_file
from pigmap.imagery.where import web_path
from pigmap.records import Projection
from tests.imagery.conftest import NORTH, WEST, told_colours
from tests.imagery.web_server import Server, serving

MakeImage = Callable[..., Path]


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Path], Server]]:
    """Return a function that serves an image and the files beside it."""
    open_now = []
    for module in ("web_file", "web"):
        monkeypatch.setattr(f"pigmap.imagery.{module}.WAIT_S", 1)

    def serve(image: Path) -> Server:
        holding = serving(image)
        open_now.append(holding)
        server = holding.__enter__()
        server.beside = {each.name: each.read_bytes() for each in image.parent.iterdir() if each != image}
        return server

    yield serve
    for each in open_now:
        each.__exit__(None, None, None)


def masked(make_image: MakeImage) -> Path:
    """Write an image whose mask stands beside it: the upper 50 rows are no data."""
    import rasterio

    mask = np.full((200, 300), 255, dtype=np.uint8)
    mask[:50] = 0
    path = make_image()
    with rasterio.Env(GDAL_TIFF_INTERNAL_MASK=False), rasterio.open(path, "r+") as out:
        out.write_mask(mask)
    assert path.with_name("aerial.tif.msk").is_file()
    return path


@pytest.mark.parametrize("asked", ["", "?key=a1/b2"])
def test_a_mask_beside_an_image_counts_on_the_web_as_beside_a_file(
    make_image: MakeImage, served: Callable[[Path], Server], projection: Projection, asked: str
) -> None:
    path = masked(make_image)
    with open_source(path, projection) as source:
        by_file = source.read(source.bounds, (300, 200), smooth=False)
    server = served(path)
    with open_source(web_path(server.address() + asked), projection) as source:
        on_the_web = source.read(source.bounds, (300, 200), smooth=False)
        assert not source.plain
    assert (by_file[:50, :, 3] == 0).all()
    assert (by_file[50:, :, 3] == 255).all()
    assert (on_the_web == by_file).all()


def test_a_page_that_a_server_sends_for_any_name_is_no_mask(
    make_image: MakeImage, served: Callable[[Path], Server], projection: Projection
) -> None:
    server = served(make_image())
    page = b"<!DOCTYPE html><title>Nothing here</title>"
    server.beside = {f"aerial{end}": page for end in (".tif.msk", ".tif.ovr", ".tif.aux.xml")}
    with open_source(web_path(server.address()), projection) as source:
        assert source.read(source.bounds, (300, 200), smooth=False)[..., 3].min() == 255
        assert not source.troubles


def test_smaller_copies_beside_an_image_spare_reading_all_of_it(
    make_image: MakeImage, served: Callable[[Path], Server], projection: Projection
) -> None:
    import rasterio
    from rasterio.enums import Resampling

    noise = np.random.default_rng(5).integers(0, 255, (3, 1500, 1500), dtype=np.uint8)
    path = make_image(noise, tiled=True, blockxsize=256, blockysize=256)
    with rasterio.Env(TIFF_USE_OVR=True), rasterio.open(path, "r+") as image:
        image.build_overviews([2, 4, 8], Resampling.nearest)
    assert path.with_name("aerial.tif.ovr").is_file()
    server = served(path)
    with open_source(web_path(server.address()), projection) as source:
        server.names.clear()
        source.read(source.bounds, (180, 180), smooth=False)
        assert server.names.count("aerial.tif.ovr") >= 1
        assert server.names.count("aerial.tif") == 0


def test_a_picture_on_the_web_without_a_place_is_refused_with_what_to_do(
    make_image: MakeImage, served: Callable[[Path], Server]
) -> None:
    server = served(make_image(crs=None, transform=None, photometric="RGB"))
    with pytest.raises(NoPlaceError) as caught:
        vet(web_path(server.address() + "?key=a1"))
    assert str(caught.value) == (
        "aerial.tif does not say where on earth it lies (no coordinate system). "
        "Download it with its world file, or pin it at three points."
    )


@pytest.mark.parametrize("bent", [False, True])
@pytest.mark.parametrize("asked", ["", "?key=a1"])
def test_a_picture_on_the_web_is_pinned_like_a_file(
    make_image: MakeImage, served: Callable[[Path], Server], projection: Projection, bent: bool, asked: str
) -> None:
    bands: NDArray[np.uint8] = told_colours()
    path = make_image(bands, crs=None, transform=None, photometric="RGB")
    server = served(path)
    web = web_path(server.address() + asked)
    with open_flat(path) as flat, open_flat(web) as other:
        whole = flat.read((0.0, -200.0, 300.0, 0.0), (300, 200))
        assert (other.read((0.0, -200.0, 300.0, 0.0), (300, 200)) == whole).all()
    spots = [(0, 0), (300, 0), (0, 200), (300, 200), (150, 100), (150, 0), (0, 100), (300, 90)]
    bend = 0.0004 if bent else 0.0
    pins = pins_text([Pin(c, r, WEST + 0.5 * c + bend * c * c, NORTH - 0.5 * r) for c, r in spots])
    with open_pinned(path, pins, projection) as pinned, open_pinned(web, pins, projection) as other:
        ground = pinned.bounds
        by_file = pinned.read(ground, (250, 160))
        assert (other.read(ground, (250, 160)) == by_file).all()
        assert by_file[..., 3].max() == 255
        assert (other.tile(0, 0, 0) == pinned.tile(0, 0, 0)).all()


def test_another_image_at_the_same_address_is_said_and_the_old_one_let_go(
    make_image: MakeImage, served: Callable[[Path], Server], projection: Projection
) -> None:
    noise = np.random.default_rng(5).integers(0, 255, (3, 1300, 1300), dtype=np.uint8)
    server = served(make_image(noise, tiled=True, blockxsize=256, blockysize=256))
    told: list[str] = []
    with open_source(web_path(server.address()), projection) as source:
        source.told = lambda why: told.append(str(why))
        source.tile(0, 0, 0)
        server.tag = "second"
        with pytest.raises(TileLaterError):
            source.tile(0, 2, 2)
        assert source.stale
        assert told == [
            f"{server.host} hands out another aerial.tif now. The map reads it anew; look whether it still lies right."
        ]
        with open_source(web_path(server.address()), projection) as again:
            assert again.tile(0, 2, 2)[..., 3].max() == 255
            assert not again.stale


def test_what_came_over_a_slow_connection_before_it_stalled_is_kept(
    make_image: MakeImage, served: Callable[[Path], Server]
) -> None:
    noise = np.random.default_rng(5).integers(0, 255, (3, 700, 700), dtype=np.uint8)
    server = served(make_image(noise))
    whole = server.content
    file = web_file(server.address())
    server.manner = "stalls"  # after half of what was asked for
    most = 8 * BLOCK_BYTES
    assert file.read(0, most) == b""
    assert file.read(0, most) == b""
    server.manner = "well"
    server.starts.clear()
    assert file.read(0, most) == whole[:most]
    assert server.starts == [7 * BLOCK_BYTES]
