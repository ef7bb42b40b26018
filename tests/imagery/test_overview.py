from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np

from pigmap.geometry.projection import projection_for
from pigmap.imagery.overview import LONGEST_PX, make_overview, overview
from pigmap.imagery.source import open_source
from pigmap.records import Projection
from tests.imagery.conftest import NORTH, WEST, told_colours

MakeImage = Callable[..., Path]


def made(path: Path, projection: Projection, folder: Path) -> Path:
    with open_source(path, projection) as source:
        return make_overview(source, projection, folder).picture


def test_it_is_small_and_lies_where_the_image_lies(
    make_image: MakeImage, projection: Projection, tmp_path: Path
) -> None:
    path = make_image(told_colours(900, 4100))
    assert overview(path, projection, tmp_path / "cache") is None
    picture = made(path, projection, tmp_path / "cache")
    found = overview(path, projection, tmp_path / "cache")
    assert found is not None
    assert found.picture == picture
    assert found.bounds == (WEST, NORTH - 450, WEST + 2050, NORTH)
    assert (found.columns, found.rows) == (LONGEST_PX, 450)
    assert picture.suffix == ".jpg"
    assert picture.read_bytes()[:2] == b"\xff\xd8"
    assert sorted(each.suffix for each in picture.parent.iterdir()) == [".jpg", ".json"]  # nothing half written


def test_it_keeps_what_is_transparent(make_image: MakeImage, projection: Projection, tmp_path: Path) -> None:
    bands = told_colours()
    bands[:, :, :50] = 7
    picture = made(make_image(bands, nodata=7), projection, tmp_path / "cache")
    assert picture.suffix == ".png"


def test_qt_decodes_both_kinds(make_image: MakeImage, projection: Projection, tmp_path: Path) -> None:
    from PySide6.QtGui import QImage

    bands = told_colours()
    jpeg = QImage(str(made(make_image(bands), projection, tmp_path / "cache")))
    bands[:, :, :50] = 7
    png = QImage(str(made(make_image(bands, name="part.tif", nodata=7), projection, tmp_path / "cache")))
    assert (jpeg.width(), jpeg.height(), jpeg.hasAlphaChannel()) == (300, 200, False)
    assert png.hasAlphaChannel()
    assert png.pixelColor(10, 10).alpha() == 0
    assert png.pixelColor(100, 60).getRgb() == (100, 60, 200, 255)
    assert abs(jpeg.pixelColor(100, 60).green() - 60) < 12


def test_another_projection_or_a_changed_image_has_none_yet(
    make_image: MakeImage, projection: Projection, tmp_path: Path
) -> None:
    path = make_image()
    made(path, projection, tmp_path / "cache")
    assert overview(path, projection_for("EPSG:32633", (9.0, 50.0)), tmp_path / "cache") is None
    os.utime(path, ns=(1, 1))
    assert overview(path, projection, tmp_path / "cache") is None


def test_a_torn_note_or_a_missing_picture_counts_as_none(
    make_image: MakeImage, projection: Projection, tmp_path: Path
) -> None:
    path = make_image()
    picture = made(path, projection, tmp_path / "cache")
    note = picture.with_suffix(".json")
    told = note.read_text()
    for torn in (told[:40], "[]", json.dumps({**json.loads(told), "bounds": [1, 2]})):
        note.write_text(torn)
        assert overview(path, projection, tmp_path / "cache") is None
    note.write_text(told)
    assert overview(path, projection, tmp_path / "cache") is not None
    picture.unlink()
    assert overview(path, projection, tmp_path / "cache") is None
    assert overview(tmp_path / "gone.tif", projection, tmp_path / "cache") is None


def test_the_oldest_go_when_there_are_many(make_image: MakeImage, projection: Projection, tmp_path: Path) -> None:
    folder = tmp_path / "cache"
    folder.mkdir()
    for number in range(70):
        (folder / f"{number:032}.json").write_text("{}")
        (folder / f"{number:032}.jpg").touch()
        os.utime(folder / f"{number:032}.json", (number, number))
    newest = made(make_image(), projection, folder)
    assert len(list(folder.glob("*.json"))) == 64
    assert not (folder / f"{0:032}.jpg").exists()
    assert newest.exists()


def test_reading_it_back_loads_no_image_reader(make_image: MakeImage, projection: Projection, tmp_path: Path) -> None:
    path = make_image()
    made(path, projection, tmp_path / "cache")
    code = (
        "import sys; from pathlib import Path; from pigmap.imagery.overview import overview;"
        "from pigmap.records import Projection;"
        f"p = Projection(name='', authority='EPSG', code=32632, definition={projection.definition!r});"
        f"found = overview(Path({str(path)!r}), p, Path({str(tmp_path / 'cache')!r}));"
        "heavy = ('rasterio', 'pyproj', 'pandas', 'geopandas', 'scipy');"
        "print(found.bounds[0], [name for name in heavy if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == f"{WEST} []", done.stderr


def test_real_pictures_are_opaque_where_the_image_is(shared_data: Path, tmp_path: Path) -> None:
    path = shared_data / "ortho" / "naip_m_4709963_se_20200831.tif"
    projection = projection_for("EPSG:26914", (-99.2, 47.0))
    with open_source(path, projection) as source:
        found = make_overview(source, projection, tmp_path)
    assert found.bounds == (485899.0, 5205631.0, 490569.0, 5209246.0)
    assert found.picture.suffix == ".jpg"
    assert np.prod((found.columns, found.rows)) == 934 * 723
