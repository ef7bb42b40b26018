"""Kept tiles of an image that lies otherwise than on the map: each pixel where it belongs, blended with its like."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from pigmap.imagery.sidecar_build import StoppedError
from pigmap.imagery.sidecar_need import form_of
from pigmap.imagery.sidecar_warp import WarpedRows, cell_for
from pigmap.imagery.source import ImageSource, open_source
from pigmap.records import Projection
from tests.imagery.conftest import NORTH, WEST, told_colours

MakeImage = Callable[..., Path]
SIDE = 240


def bands(blue: int = 200) -> NDArray[np.uint8]:
    """Return red that tells the column and green that tells the row, up to 240."""
    made = told_colours(SIDE, SIDE)
    made[2] = blue
    return made


def in_degrees() -> dict[str, Any]:
    from affine import Affine

    step = 0.5 / 111_200
    return {"crs": "EPSG:4326", "transform": Affine(step * 1.5, 0, 9.02, 0, -step, 50.0)}


def turned(degrees: float = 17.0) -> dict[str, Any]:
    from affine import Affine

    return {"transform": Affine.translation(WEST, NORTH) @ Affine.rotation(degrees) @ Affine.scale(0.5, -0.5)}


def where(source: ImageSource) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return column and row in the file of each pixel of the map's grid, by pyproj alone."""
    from pyproj import Transformer

    grid, facts = source.grid, source.facts
    columns, rows = np.meshgrid(np.arange(grid.columns) + 0.5, np.arange(grid.rows) + 0.5)
    back = Transformer.from_crs("EPSG:32632", facts.crs, always_xy=True)
    x, y = back.transform(grid.west + columns * grid.pixel_x_m, grid.north - rows * grid.pixel_y_m)
    a, b, c, d, e, f = facts.transform
    column, row = np.tensordot(np.linalg.inv(np.array([[a, b], [d, e]])), np.stack([x - c, y - f]), axes=1)
    return column, row


def drawn(source: ImageSource, projection: Projection, *, pieces: int = 1) -> NDArray[np.uint8]:
    grid = source.grid
    out = np.zeros((grid.rows, grid.columns, 4), dtype=np.uint8)
    cell = cell_for(source, projection.definition)
    assert cell
    with WarpedRows(source, projection.definition, cell, form_of(source.facts, warped=True)) as rows:
        for top in range(0, grid.rows, -(-grid.rows // pieces)):
            for left in range(0, grid.columns, -(-grid.columns // pieces)):
                part = out[top : top + -(-grid.rows // pieces), left : left + -(-grid.columns // pieces)]
                rows.fill(part, top, left)
    return out


@pytest.mark.parametrize("jpeg", [False, True])
@pytest.mark.parametrize("lies", [in_degrees, turned])
def test_every_pixel_shows_what_lies_there(
    make_image: MakeImage, projection: Projection, lies: Callable[[], dict[str, Any]], jpeg: bool
) -> None:
    how = {"tiled": True, "blockxsize": 128, "blockysize": 128, "compress": "jpeg", "photometric": "ycbcr"}
    path = make_image(bands(), **lies(), **({**how, "jpeg_quality": 100} if jpeg else {}))
    with open_source(path, projection) as source:
        got = drawn(source, projection)
        columns, rows = where(source)
        assert (drawn(source, projection, pieces=3) == got)[..., 3].all()
    middle = (columns > 1) & (columns < SIDE - 1) & (rows > 1) & (rows < SIDE - 1)
    assert (got[middle, 3] == 255).all()
    off = 4.0 if jpeg else 1.1  # bytes: red tells the column, green the row; a JPEG loses some
    assert np.abs(got[..., 0][middle] - (columns[middle] - 0.5)).max() <= off
    assert np.abs(got[..., 1][middle] - (rows[middle] - 0.5)).max() <= off
    beyond = (columns < -1) | (columns > SIDE + 1) | (rows < -1) | (rows > SIDE + 1)
    assert beyond.any() == (lies is turned)
    assert (got[beyond] == 0).all()


def test_of_a_file_of_long_rows_few_are_unpacked_before_it_stops(make_image: MakeImage, projection: Projection) -> None:
    wide = np.random.default_rng(3).integers(0, 255, (3, 300, 9000), dtype=np.uint8)
    path = make_image(wide, compress="lzw", blockysize=1, **turned(1.0))
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > 3

    with open_source(path, projection) as source:
        form = form_of(source.facts, warped=True)
        cell = cell_for(source, projection.definition)
        out = np.zeros((512, 512, 4), dtype=np.uint8)
        with WarpedRows(source, projection.definition, cell, form, stop) as rows, pytest.raises(StoppedError):
            rows.fill(out, 0, 4000)
    assert len(asked) == 4


def test_it_is_what_the_image_library_blends(make_image: MakeImage, projection: Projection) -> None:
    x, y = np.meshgrid(np.arange(SIDE), np.arange(SIDE))
    waves = np.stack([128 + 90 * np.sin(x / long) * np.cos(y / long) for long in (4.0, 7.0, 11.0)])
    path = make_image(waves.astype(np.uint8), **turned(30.0))
    with open_source(path, projection) as source, ImageSource(source.facts, projection, blended=True) as blended:
        got = drawn(source, projection).astype(int)
        grid = source.grid
        wanted = blended.read(source.bounds, (grid.columns, grid.rows), smooth=False).astype(int)
    both = (got[..., 3] == 255) & (wanted[..., 3] == 255)
    assert both.mean() > 0.5
    assert np.percentile(np.abs(got - wanted)[both], 99) <= 3


def test_what_is_no_data_leaves_no_fringe(make_image: MakeImage, projection: Projection) -> None:
    from rasterio.enums import ColorInterp

    four = np.concatenate([np.full((3, SIDE, SIDE), 180, dtype=np.uint8), np.zeros((1, SIDE, SIDE), dtype=np.uint8)])
    four[3, 60:180, 60:180] = 255
    four[:3, four[3] == 0] = 0
    colours = (ColorInterp.red, ColorInterp.green, ColorInterp.blue, ColorInterp.alpha)
    path = make_image(four, **turned(), photometric="RGB", colorinterp=colours)
    with open_source(path, projection) as source:
        assert source.facts.bands.alpha == 4
        got = drawn(source, projection)
    shown = got[got[..., 3] > 0]
    assert len(shown) > 10_000
    share = shown[:, 3:] / 255  # as it is drawn: a colour that is hardly there may be rounded
    assert np.abs(shown[:, :3] * share - 180 * share).max() <= 2
    assert (got[got[..., 3] == 0] == 0).all()
    assert 0 < ((got[..., 3] > 0) & (got[..., 3] < 255)).sum() < 3000


def test_values_that_are_no_bytes_are_stretched_as_on_the_map(make_image: MakeImage, projection: Projection) -> None:
    path = make_image(bands().astype(np.uint16) * 40, **turned())
    with open_source(path, projection) as source:
        got = drawn(source, projection).astype(int)
        live = source.read(source.bounds, (source.grid.columns, source.grid.rows), smooth=False).astype(int)
    both = (got[..., 3] == 255) & (live[..., 3] == 255)
    assert np.percentile(np.abs(got - live)[both], 99) <= 3


def test_a_palette_and_pixels_that_would_be_skipped_are_left_to_the_image_library(
    make_image: MakeImage, projection: Projection
) -> None:
    from affine import Affine

    table = {number: (number, 0, 0, 255) for number in range(256)}
    path = make_image(bands()[:1], name="palette.tif", photometric="palette", colormap=table, **turned())
    flat = Affine.translation(WEST, NORTH) @ Affine.rotation(10) @ Affine.scale(0.5, -2.5)
    for each in (path, make_image(bands(), name="flat.tif", transform=flat)):
        with open_source(each, projection) as source:
            assert source.warped
            assert cell_for(source, projection.definition) == 0
    with open_source(make_image(bands(), name="straight.tif"), projection) as source:
        assert cell_for(source, projection.definition) == 0
