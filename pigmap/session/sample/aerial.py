"""The invented aerial image of the sample farm: fields, hedges, a wood, a pond, ways and roofs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.native import own_data
from pigmap.session.sample.layout import (
    BROOK,
    FIELDS,
    FOOTPATH,
    KEEP_OUTS,
    ROAD,
    ROOFS,
    TRACK,
    YARD,
    FieldPlan,
    pond,
)
from pigmap.session.sample.noise import Picture, coarse, enlarged, smooth
from pigmap.session.sample.pixels import PIXEL_M, SHAPE, burnt, middles, window
from pigmap.session.sample.planting import hedge_bushes, single_trees, wood_trees
from pigmap.session.sample.rooted import root
from pigmap.session.sample.site import (
    EAST_M,
    NORTH_M,
    SOUTH_M,
    WEST_M,
    Site,
)
from pigmap.session.sample.timeline import SEED
from pigmap.session.sample.trees import Forester, Image

JPEG_QUALITY = 72
STEP = 16
"""Slow changes are made so many times smaller and then enlarged."""
TILE = (911, 1103)
"""Rows and columns of the pattern of grass and grain."""
MOWER_M = 6.0
BAND_ROWS = 64
"""Rows that are coloured at once: few enough to stay in the processor's memory."""


class Ground(NamedTuple):
    """One kind of ground on the image: where it lies and its colour."""

    shape: BaseGeometry
    colour: tuple[int, int, int]


_GRASS = {
    "Long Field": (116, 138, 76),
    "Barn Field": (142, 158, 88),
    "Bank Wood": (58, 74, 42),
    "Pond Field": (104, 130, 74),
}


def write_image(path: Path, site: Site, today: date) -> None:
    """Write the image as a tiled GeoTIFF with overviews, JPEG inside."""
    own_data()
    import rasterio
    from rasterio.enums import Resampling
    from rasterio.transform import from_origin

    pixels = draw(today)
    step = PIXEL_M / site.projection.ground_per_grid
    left, top = site.grid_point(WEST_M, NORTH_M)
    jpeg = {"compress": "jpeg", "photometric": "ycbcr", "jpeg_quality": JPEG_QUALITY}
    with (
        rasterio.Env(GDAL_TIFF_OVR_BLOCKSIZE=256, JPEG_QUALITY_OVERVIEW=JPEG_QUALITY),
        rasterio.open(
            path,
            "w",
            driver="GTiff",
            height=SHAPE[0],
            width=SHAPE[1],
            count=3,
            dtype="uint8",
            crs=f"{site.projection.authority}:{site.projection.code}",
            transform=from_origin(left, top, step, step),
            tiled=True,
            blockxsize=256,
            blockysize=256,
            num_threads="ALL_CPUS",
            **jpeg,
        ) as made,
    ):
        made.write(np.moveaxis(pixels, 2, 0))
        made.build_overviews([2, 4, 8, 16], Resampling.average)


def draw(today: date) -> Image:
    """Return the image of a day, (rows, columns, 3), the same each time."""
    rng = np.random.default_rng(SEED)
    image = _ground(rng)
    root(image, today)
    _roofs(image)
    forester = Forester(rng)
    forester.plant(image, list(hedge_bushes(rng)))
    forester.plant(image, list(wood_trees(rng)), shadows=False, light=1.08)
    forester.plant(image, list(single_trees(rng)))
    return image


def _ground(rng: np.random.Generator) -> Image:
    parts = list(_parts())
    kinds = burnt([part.shape for part in parts])
    light, hue = _light(rng), enlarged(smooth(rng, coarse(SHAPE, STEP), 10), STEP, SHAPE)
    colours = np.array([(128, 140, 84), *(part.colour for part in parts)], dtype=np.float32)
    image = np.empty((*SHAPE, 3), dtype=np.uint8)
    for top in range(0, SHAPE[0], BAND_ROWS):
        rows = slice(top, top + BAND_ROWS)
        for colour, sway in enumerate((0.028, 0.0, -0.025)):
            shown = colours[:, colour][kinds[rows]] * (light[rows] + np.float32(sway) * hue[rows])
            image[rows, :, colour] = np.clip(shown, 0, 255)
    return image


def _parts() -> Iterator[Ground]:
    """Yield kinds of ground from below to above."""
    yield from _neighbours()
    for field in FIELDS:
        yield Ground(field.outline, _GRASS[field.name])
    yield Ground(BROOK.buffer(5), (88, 112, 62))
    yield Ground(BROOK.buffer(1.6), (70, 86, 76))
    yield Ground(YARD, (168, 160, 142))
    yield Ground(FOOTPATH.buffer(0.6), (156, 148, 108))
    yield Ground(TRACK.buffer(1.9), (178, 162, 130))
    yield Ground(TRACK.buffer(0.4), (136, 144, 92))
    yield Ground(ROAD.buffer(5), (122, 138, 82))
    yield Ground(ROAD.buffer(2.6), (146, 146, 144))
    yield Ground(pond().buffer(4), (82, 104, 56))
    yield Ground(pond(), (60, 78, 72))
    wet = next(plan.shape for plan in KEEP_OUTS if plan.name == "Wet corner")
    yield Ground(wet.buffer(-6), (112, 138, 84))


def _neighbours() -> Iterator[Ground]:
    """Yield the neighbours' fields, so that the farm does not lie in one flat meadow."""
    yield Ground(shapely.box(WEST_M, SOUTH_M, 46, 330), (156, 148, 100))
    yield Ground(shapely.box(WEST_M, 330, 30, NORTH_M), (118, 136, 78))
    yield Ground(shapely.Polygon([(30, 706), (600, 722), (600, NORTH_M), (30, NORTH_M)]), (164, 156, 106))
    yield Ground(shapely.Polygon([(950, 396), (EAST_M, 362), (EAST_M, NORTH_M), (966, NORTH_M)]), (140, 150, 92))
    yield Ground(shapely.Polygon([(850, 240), (1046, 250), (1040, 372), (846, 396)]), (150, 152, 96))
    yield Ground(shapely.box(WEST_M, SOUTH_M, EAST_M, 24), (112, 132, 72))


def _light(rng: np.random.Generator) -> Picture:
    """Return how bright each pixel is, about 1: slow and fast changes, mown stripes, grain."""
    small = coarse(SHAPE, STEP)
    slow = 0.04 * smooth(rng, small, 14) + 0.04 * smooth(rng, small, 3)
    light = enlarged(1 + slow, STEP, SHAPE)
    _add_tiles(light, 0.045 * smooth(rng, TILE, 6) + 0.02 * rng.standard_normal(TILE, dtype=np.float32))
    for field in FIELDS:
        if field.name != "Bank Wood":
            _mow(light, field)
    return light


def _add_tiles(light: Picture, tile: Picture) -> None:
    """Add a fine pattern over and over, each time mirrored so that no seam shows; in place."""
    high, wide = tile.shape
    for down, top in enumerate(range(0, SHAPE[0], high)):
        for right, left in enumerate(range(0, SHAPE[1], wide)):
            part = light[top : top + high, left : left + wide]
            mirrored = tile[:: (-1) ** down, :: (-1) ** right]
            part += mirrored[: part.shape[0], : part.shape[1]]


def _mow(light: Picture, field: FieldPlan) -> None:
    """Lay stripes along the field, as wide as a mower, up to a headland; in place."""
    inner = field.outline.buffer(-8)
    rows, columns = window(inner)
    mask = burnt([inner], rows, columns)
    turned = math.radians(field.corner.turned_deg)
    north, east = middles(rows, columns)
    across = (north - field.corner.north)[:, None] * math.cos(turned) - (east - field.corner.east) * math.sin(turned)
    stripes = np.sin(across * np.float32(math.pi / MOWER_M))
    light[rows, columns] += np.float32(0.035) * mask * np.clip(stripes * 3, -1, 1)


def _roofs(image: Image) -> None:
    for roof in ROOFS:
        _paint(image, shapely.affinity.translate(roof, 3.2, 3.0), (40, 44, 38), 0.55)
    for count, roof in enumerate(ROOFS):
        corners = shapely.get_coordinates(roof)
        ends = (corners[1] + corners[2]) / 2, (corners[0] + corners[3]) / 2
        dark = shapely.Polygon([ends[1], ends[0], corners[2], corners[3]])
        light, shade = ((132, 134, 138), (104, 106, 112)) if count % 2 else ((146, 104, 88), (116, 80, 68))
        _paint(image, roof, light, 1.0)
        _paint(image, dark, shade, 1.0)


def _paint(image: Image, shape: BaseGeometry, colour: tuple[int, int, int], cover: float) -> None:
    rows, columns = window(shape)
    mask = burnt([shape], rows, columns).astype(bool)
    under = image[rows, columns]
    under[mask] = under[mask] * (1 - cover) + np.array(colour, dtype=np.float32) * cover
