"""What a person chose of an image: its bands, and the values that are black and white."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

from pigmap.document.edits.image_look import show_image_as
from pigmap.errors import EditError, RasterError
from pigmap.imagery.look import AS_IT_IS, Look, picture_of
from pigmap.imagery.source import ImageSource, open_source
from pigmap.records import Farm, Image, Projection
from pigmap.session.images import FarmImages
from tests.imagery.conftest import MakeImage

VALUES = (10, 60, 110, 160)
"""Every pixel of each of four bands."""


def four(kind: type = np.uint8, times: int = 1) -> np.ndarray:
    return np.stack([np.full((40, 60), value * times, dtype=kind) for value in VALUES])


def colour(source: ImageSource) -> list[int]:
    """Return red, green and blue of the middle, and its alpha."""
    return [int(value) for value in source.read(source.bounds, (6, 4))[2, 3]]


def test_infrared_is_shown_as_red_where_someone_wants_it(make_image: MakeImage, projection: Projection) -> None:
    path = make_image(four(), photometric="RGB")
    assert colour(open_source(path, projection))[:3] == [10, 60, 110]
    infrared = open_source(path, projection, Look(bands=(4, 1, 2)))
    assert colour(infrared) == [160, 10, 60, 255]
    assert colour(open_source(path, projection, Look(bands=(4,)))) == [160, 160, 160, 255]


def test_black_and_white_are_where_someone_wants_them(make_image: MakeImage, projection: Projection) -> None:
    path = make_image(four(np.uint16, 10), photometric="RGB")
    source = open_source(path, projection, Look(darkest=100, brightest=1_100))
    assert colour(source) == [0, round(255 * 0.5), 255, 255]
    assert source.stretch == (100, 1_100)


def test_bytes_are_stretched_too_and_what_is_left_open_is_found(make_image: MakeImage, projection: Projection) -> None:
    source = open_source(make_image(four(), photometric="RGB"), projection, Look(darkest=60))
    assert not source.plain
    assert source.stretch is not None
    assert source.stretch.dark == 60
    assert source.stretch.bright == pytest.approx(110, abs=1)
    assert colour(source)[:2] == [0, 0]
    assert open_source(make_image(four(), photometric="RGB"), projection).stretch is None


def test_white_found_below_black_shows_black_and_white_alone(make_image: MakeImage, projection: Projection) -> None:
    source = open_source(make_image(four(), photometric="RGB"), projection, Look(darkest=200))
    assert colour(source) == [0, 0, 0, 255]


def test_a_band_that_is_not_there_is_refused_in_words(make_image: MakeImage, projection: Projection) -> None:
    with pytest.raises(RasterError) as refused:
        open_source(make_image(four()), projection, Look(bands=(1, 2, 7)))
    assert str(refused.value.message) == "aerial.tif has 4 bands, so band 7 cannot be shown."
    assert str(refused.value.remedy) == "Choose its colours again: Colours, in the list of images."


def test_a_palette_keeps_its_own_colours(make_image: MakeImage, projection: Projection) -> None:
    path = make_image(np.full((1, 40, 60), 3, dtype=np.uint8), colormap={3: (9, 8, 7, 255)})
    assert colour(open_source(path, projection, Look(bands=(1,), darkest=0, brightest=3)))[:3] == [9, 8, 7]


@pytest.mark.parametrize(
    ("chosen", "message", "remedy"),
    [
        (
            {"bands": (1, 2)},
            "1, 2 are no bands to show.",
            "Give three, for red, green and blue, or one for grey, counted from 1.",
        ),
        (
            {"bands": (0, 1, 2)},
            "0, 1, 2 are no bands to show.",
            "Give three, for red, green and blue, or one for grey, counted from 1.",
        ),
        (
            {"darkest": 300.0, "brightest": 100.0},
            "The picture would be black at 300 and white at 100.",
            "Give a value for white that is above that for black.",
        ),
    ],
)
def test_what_cannot_be_shown_is_refused(chosen: dict[str, object], message: str, remedy: str) -> None:
    with pytest.raises(EditError) as refused:
        show_image_as("any", **chosen)  # type: ignore[arg-type]
    assert (str(refused.value.message), str(refused.value.remedy)) == (message, remedy)


@dataclass(eq=False)
class Open:
    """A session as far as images go."""

    farm: Farm
    path: Path


def test_an_open_farm_shows_the_image_as_it_was_chosen_and_keeps_both_small_pictures(
    make_image: MakeImage, projection: Projection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PIGMAP_CACHE", str(tmp_path / "cache"))
    make_image(four(), photometric="RGB")
    image = Image(uid="a", name="Aerial", link="aerial.tif")
    farm = Farm(document_uid="d", projection=projection, images=MappingProxyType({"a": image}))
    session = Open(farm, tmp_path / "hill.gpkg")
    images = FarmImages(session)
    plain = images.overview("a", make=True)
    assert colour(images.source("a"))[:3] == [10, 60, 110]
    edit = show_image_as("a", bands=(4, 1, 2))
    session.farm = farm.after(edit(farm))
    assert colour(images.source("a"))[:3] == [160, 10, 60]
    other = images.overview("a", make=True)
    assert plain is not None
    assert other is not None
    assert plain.picture != other.picture
    images.close()


def test_what_is_kept_of_a_picture_goes_by_pins_and_look() -> None:
    image = Image(name="Aerial", link="a.tif")
    assert picture_of(image) == ""
    assert picture_of(replace(image, pins="[]")) == "[]"
    looks = [(), (4, 1, 2)]
    assert len({picture_of(replace(image, pins="[]", bands=bands, darkest=1.0)) for bands in looks}) == 2
    assert AS_IT_IS.text == ""
