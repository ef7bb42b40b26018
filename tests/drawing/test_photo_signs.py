from datetime import date, timedelta

import numpy as np
import pytest
import shapely

from pigmap.drawing.layer import Marks
from pigmap.drawing.photo_signs import PHOTOS_SHOWN_DAYS, photo_sign_layers
from pigmap.drawing.scene import map_layers
from pigmap.records import Farm, Photo
from pigmap.records.projection import NO_PLACE

DAY = date(2026, 5, 1)
HERE = shapely.Point(3, 4)


def farm(*photos: Photo) -> Farm:
    return Farm(document_uid="d", projection=NO_PLACE, photos={each.uid: each for each in photos})


def photo(taken_on: date | None = DAY, point: shapely.Point | None = HERE) -> Photo:
    return Photo(sha256="ab", width_px=1, height_px=1, point=point, taken_on=taken_on)


def test_photos_are_shown_where_they_were_taken() -> None:
    (layer,) = photo_sign_layers(farm(photo(), photo(point=None)), DAY)
    assert isinstance(layer, Marks)
    assert layer.sign == "photo"
    np.testing.assert_array_equal(layer.points, [(3, 4)])


@pytest.mark.parametrize(
    ("taken_on", "shown"),
    [
        (DAY + timedelta(days=1), False),
        (DAY - timedelta(days=PHOTOS_SHOWN_DAYS - 1), True),
        (DAY - timedelta(days=PHOTOS_SHOWN_DAYS), False),
        (None, True),
    ],
)
def test_they_are_shown_for_a_year_from_their_day(taken_on: date | None, shown: bool) -> None:
    assert bool(photo_sign_layers(farm(photo(taken_on)), DAY)) is shown


@pytest.mark.parametrize("printed", [False, True])
def test_they_lie_on_the_map_and_not_on_a_printed_sheet(printed: bool) -> None:
    layers = map_layers(farm(photo()), DAY, printed=printed)
    assert any(isinstance(each, Marks) and each.sign == "photo" for each in layers) is not printed
