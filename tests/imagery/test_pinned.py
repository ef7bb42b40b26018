from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.geometry.pinned import Pin
from pigmap.imagery.overview import make_overview, overview
from pigmap.imagery.pinned import open_flat, open_pinned, pins_of, pins_text
from pigmap.records import Projection
from pigmap.records.projection import NO_PLACE
from tests.imagery.conftest import NORTH, WEST, MakeImage

CORNERS = [(20, 20), (280, 30), (150, 180), (40, 190), (260, 170), (150, 100), (30, 100), (270, 100), (150, 20)]


def _at(column: float, row: float, bend: float = 0.0) -> tuple[float, float]:
    """Return a place on ground turned by 37 degrees, half a metre a pixel."""
    return WEST + 0.4 * column + 0.3 * row + bend * (column - 150) ** 2, NORTH + 0.3 * column - 0.4 * row


def _pins(count: int, bend: float = 0.0) -> str:
    return pins_text([Pin(*spot, *_at(*spot, bend)) for spot in CORNERS[:count]])


def _scan(make_image: MakeImage, **differs: object) -> Path:
    return make_image(name="scan.png", driver="PNG", crs=None, transform=None, **differs)


def _seen(source: object, spot: tuple[float, float]) -> list[int]:
    from pigmap.imagery.source import ImageSource

    assert isinstance(source, ImageSource)
    x, y = spot
    half = source.metres_per_pixel / 2
    pixel = source.read((x - half, y - half, x + half, y + half), (1, 1), smooth=False)[0, 0]
    return [int(value) for value in pixel]


@pytest.mark.parametrize("bend", [0.0, 4e-4])
def test_a_pinned_picture_shows_each_of_its_points_where_the_pins_put_it(
    make_image: MakeImage, projection: Projection, bend: float
) -> None:
    with open_pinned(_scan(make_image), _pins(9, bend), projection) as source:
        for column, row in ((60, 60), (220, 90), (150, 140)):
            red, green, blue, alpha = _seen(source, _at(column, row, bend))
            assert (red, green) == pytest.approx((column, row), abs=2)
            assert (blue, alpha) == (200, 255)
        assert _seen(source, (WEST - 40, NORTH))[3] == 0


def test_on_a_grid_without_a_place_pins_are_metres_of_that_grid(make_image: MakeImage) -> None:
    pins = pins_text([Pin(0, 0, 100, 300), Pin(300, 0, 400, 290), Pin(0, 200, 95, 100)])
    with open_pinned(_scan(make_image), pins, NO_PLACE) as source:
        west, south, east, north = source.bounds
        assert (west, north) == pytest.approx((95, 300), abs=2)
        assert (east, south) == pytest.approx((400, 90), abs=2)


def test_pins_are_kept_and_read_again() -> None:
    pins = pins_of(_pins(4))
    assert len(pins) == 4
    assert pins_of(pins_text(pins)) == pins
    assert pins_of("") == ()


@pytest.mark.parametrize("told", ["{", "[1]", '[{"column": 1}]', "7"])
def test_pins_that_another_program_spoilt_are_told_of_in_words(told: str) -> None:
    with pytest.raises(RasterError) as refused:
        pins_of(told)
    assert str(refused.value) == (
        "The pins of the picture cannot be read. Pin the picture again, at three points or more."
    )


def test_a_pin_that_lies_nowhere_is_told_of_in_words() -> None:
    told = json.dumps([{"column": 1, "row": 2, "east_m": float("nan"), "north_m": 3}])
    with pytest.raises(RasterError) as refused:
        pins_of(told)
    assert str(refused.value) == (
        "A pin of the picture lies nowhere (a coordinate that is not a number). "
        "Pin the picture again, at three points or more."
    )


def test_in_its_own_pixels_a_picture_is_read_as_it_is(make_image: MakeImage) -> None:
    with open_flat(_scan(make_image)) as source:
        assert source.bounds == (0.0, -200.0, 300.0, 0.0)
        assert _seen(source, (120.5, -60.5)) == [120, 60, 200, 255]


def test_an_empty_file_is_refused_as_any_image(tmp_path: Path, projection: Projection) -> None:
    empty = tmp_path / "scan.jpg"
    empty.write_bytes(b"")
    with pytest.raises(RasterError) as refused:
        open_pinned(empty, _pins(3), projection)
    assert str(refused.value) == "scan.jpg is empty (0 bytes). Fetch or copy it again; it was cut off."


def test_words_in_the_place_of_a_picture_are_refused_as_any_image(tmp_path: Path) -> None:
    words = tmp_path / "scan.jpg"
    words.write_text("no picture")
    with pytest.raises(RasterError) as refused:
        open_flat(words)
    assert str(refused.value) == (
        "scan.jpg is not an image that can be read here. Export it as a GeoTIFF, or fetch it again if it was one."
    )


def test_a_picture_with_a_model_of_its_camera_is_not_pinned(shared_data: Path) -> None:
    with pytest.raises(RasterError) as refused:
        open_flat(shared_data / "georef" / "RGB.byte.rpc.vrt")
    assert str(refused.value) == (
        "RGB.byte.rpc.vrt says where it lies only by a model of its camera. "
        "Warp it first, and export it as a GeoTIFF with its projection."
    )


def test_another_set_of_pins_has_another_small_picture(
    make_image: MakeImage, projection: Projection, tmp_path: Path
) -> None:
    scan, folder = _scan(make_image), tmp_path / "small"
    with open_pinned(scan, _pins(3), projection) as source:
        made = make_overview(source, projection, folder)
    assert overview(scan, projection, folder, _pins(3)) == made
    assert overview(scan, projection, folder, _pins(4)) is None
    assert overview(scan, projection, folder) is None


def test_a_page_reads_it_blended(make_image: MakeImage, projection: Projection) -> None:
    with open_pinned(_scan(make_image), _pins(4), projection) as source:
        x, y = _at(150, 100)
        piece = source.read((x - 10, y - 10, x + 10, y + 10), (40, 40), smooth=True)
    assert np.ptp(piece[..., 3]) == 0
    assert piece[20, 20, :2].tolist() == pytest.approx([150, 100], abs=2)
