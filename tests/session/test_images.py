from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.geometry.projection import projection_for
from pigmap.records import Farm, Image
from pigmap.session.images import FarmImages, image_link, image_path, images_of, tile_reader


@dataclass(eq=False)
class Open:
    """A session as far as images go."""

    farm: Farm
    path: Path


def written(path: Path, *, grey: int = 120) -> Path:
    from pigmap.geometry.native import own_data

    own_data()
    import rasterio
    from rasterio.transform import from_origin

    path.parent.mkdir(parents=True, exist_ok=True)
    with rasterio.open(
        path, "w", driver="GTiff", width=60, height=40, count=3, dtype="uint8", photometric="RGB",
        crs="EPSG:32632", transform=from_origin(500_000, 5_540_000, 0.5, 0.5),
    ) as out:  # fmt: skip
        out.write(np.full((3, 40, 60), grey, dtype=np.uint8))
    return path


def session(folder: Path, *images: Image) -> Open:
    projection = projection_for("EPSG:32632", (9.0, 50.0))
    farm = Farm(
        document_uid="d", projection=projection, images=MappingProxyType({image.uid: image for image in images})
    )
    return Open(farm, folder / "hill.gpkg")


AERIAL = Image(uid="a", name="Aerial 2025", link="images/aerial.tif")


def test_links_start_at_the_farms_folder(tmp_path: Path) -> None:
    farm = tmp_path / "farm" / "hill.gpkg"
    inside, beside = tmp_path / "farm" / "images" / "a.tif", tmp_path / "air" / "b.tif"
    far = Path(tmp_path.anchor) / "elsewhere" / "c.tif"
    assert image_link(farm, inside) == "images/a.tif"
    assert image_link(farm, beside) == "../air/b.tif"
    assert image_link(farm, far) == str(far)
    for there in (inside, beside, far):
        found = image_path(farm, replace(AERIAL, link=image_link(farm, there)))
        assert found.resolve() == there


def test_a_page_reads_a_piece_and_opens_the_file_once(tmp_path: Path) -> None:
    written(tmp_path / "images" / "aerial.tif")
    opened = session(tmp_path, AERIAL)
    read = tile_reader(opened)
    piece = read("a", (500_000, 5_539_990, 500_010, 5_540_000), (20, 20))
    assert piece is not None
    assert piece[5, 5].tolist() == [120, 120, 120, 255]
    assert images_of(opened) is images_of(opened)
    assert images_of(opened).source("a") is images_of(opened).source("a")
    assert images_of(opened).troubles() == ()
    images_of(opened).close()


def test_an_image_that_has_moved_is_named_with_its_path_and_the_map_goes_on(tmp_path: Path) -> None:
    opened = session(tmp_path, AERIAL)
    images = FarmImages(opened)
    with pytest.raises(RasterError) as refused:
        images.source("a")
    path = tmp_path / "images" / "aerial.tif"
    assert str(refused.value.message) == f"Aerial 2025 has moved: no image is at {path}."
    assert str(refused.value.remedy) == "Put it back, or show where it is."
    assert images.read("a", (0, 0, 1, 1), (2, 2)) is None
    assert images.overview("a", make=True) is None
    assert [str(said) for said in images.troubles()] == [str(refused.value)]
    assert images.gone() == images.troubles()
    written(path)  # put back while the farm is open
    assert images.source("a").metres_per_pixel == 0.5
    assert (images.troubles(), images.gone()) == ((), ())


def test_a_new_link_is_followed_while_the_farm_is_open(tmp_path: Path) -> None:
    written(tmp_path / "images" / "aerial.tif", grey=10)
    written(tmp_path / "new.tif", grey=200)
    opened = session(tmp_path, AERIAL)
    images = FarmImages(opened)
    bounds = (500_000, 5_539_990, 500_010, 5_540_000)
    before = images.read("a", bounds, (2, 2))
    opened.farm = session(tmp_path, replace(AERIAL, link="new.tif")).farm
    after = images.read("a", bounds, (2, 2))
    assert before is not None
    assert after is not None
    assert (before[0, 0, 0], after[0, 0, 0]) == (10, 200)


def test_an_image_that_cannot_be_shown_says_why_and_is_not_tried_again(tmp_path: Path) -> None:
    path = tmp_path / "images" / "aerial.tif"
    path.parent.mkdir()
    path.write_text("not a picture " * 20)
    images = FarmImages(session(tmp_path, AERIAL))
    assert [str(said) for said in images.troubles()] == [
        "aerial.tif is not an image that can be read here. Export it as a GeoTIFF, or fetch it again if it was one."
    ]
    assert images.read("a", (0, 0, 1, 1), (2, 2)) is None
    assert images.read("no such image", (0, 0, 1, 1), (2, 2)) is None


def test_the_small_picture_is_made_when_asked_and_found_without_the_image_reader(tmp_path: Path) -> None:
    written(tmp_path / "images" / "aerial.tif")
    opened = session(tmp_path, AERIAL)
    assert FarmImages(opened).overview("a") is None
    made = FarmImages(opened).overview("a", make=True)
    assert made is not None
    again = session(tmp_path, AERIAL)
    found = FarmImages(again).overview("a")
    assert found == made
    code = (
        "import sys, pigmap.session.images;"
        "print([n for n in ('rasterio', 'pyproj', 'pandas', 'geopandas', 'scipy') if n in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "[]", done.stderr


def test_a_cache_that_cannot_be_written_costs_only_the_small_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path / "images" / "aerial.tif")
    (tmp_path / "file").touch()
    monkeypatch.setenv("PIGMAP_CACHE", str(tmp_path / "file" / "below"))
    images = FarmImages(session(tmp_path, AERIAL))
    assert images.overview("a", make=True) is None
    assert images.read("a", (500_000, 5_539_990, 500_010, 5_540_000), (2, 2)) is not None
