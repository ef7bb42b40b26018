from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from pigmap.imagery.sidecar_first import FIRST_S, first_picture, first_size
from pigmap.imagery.sidecar_need import FileForm, form_of, is_quick
from pigmap.imagery.source import ImageSource, open_source
from pigmap.records import Projection
from tests.imagery.conftest import told_colours

MakeImage = Callable[..., Path]


@pytest.fixture
def source(make_image: MakeImage, projection: Projection) -> Iterator[ImageSource]:
    with open_source(make_image(told_colours(1100, 2048), compress="lzw", blockysize=1), projection) as opened:
        yield opened


def test_it_shows_all_of_the_image_where_there_is_time(source: ImageSource) -> None:
    picture = first_picture(source, source.bounds, form_of(source.facts, warped=False))
    assert picture.shape == (550, 1024, 4)
    assert picture[..., 3].min() == 255
    assert np.abs(picture[200, 100, :2].astype(int) - (200, 150)).max() <= 2


def test_it_ends_when_its_time_is_up(source: ImageSource) -> None:
    clock = iter(np.arange(0.0, 100.0, FIRST_S / 3))
    picture = first_picture(source, source.bounds, form_of(source.facts, warped=False), lambda: float(next(clock)))
    assert picture[..., 3].min() == 255
    fine = np.flatnonzero((picture[1:, :, 1] != picture[:-1, :, 1]).any(axis=1))  # each row of its own
    assert (np.diff(fine)[:40] == 1).all()
    assert (np.diff(fine)[60:] > 1).all()


def test_it_is_as_fine_as_there_is_time(source: ImageSource) -> None:
    assert first_size(source, FileForm(2048, 1100, (1, 2048), True)) == (1024, 550)
    assert first_size(source, FileForm(60_000, 60_000, (1, 60_000), True))[0] == 512
    assert first_size(source, FileForm(90_000, 90_000, (256, 256), True))[0] == 128


def test_a_tile_is_read_from_the_image_where_that_is_quick() -> None:
    rows = FileForm(30_000, 30_000, (1, 30_000), True)
    assert [is_quick(rows, level) for level in range(4)] == [True, False, False, False]
    copies = FileForm(30_000, 30_000, (512, 512), True, (2, 4, 8), warped=True)
    assert all(is_quick(copies, level) for level in range(5))


def test_opening_an_image_of_long_rows_unpacks_few_of_them(
    make_image: MakeImage, projection: Projection, monkeypatch: pytest.MonkeyPatch
) -> None:
    import rasterio

    from pigmap.imagery.vet import vet

    path = make_image(np.zeros((3, 600, 9000), dtype=np.uint8), compress="lzw", blockysize=1)
    unpacked: list[int] = []
    read = rasterio.io.DatasetReader.read

    def counting(self: object, *args: object, **how: object) -> object:
        unpacked.append(int(how["window"].height) * 9000)  # type: ignore[attr-defined]
        return read(self, *args, **how)

    monkeypatch.setattr(rasterio.io.DatasetReader, "read", counting)
    vet(path)
    assert 0 < max(unpacked) <= 250_000
