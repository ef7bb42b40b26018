"""What becomes of every real image at hand; the list of them is typed, so that none is forgotten."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from pigmap.geometry.projection import projection_for
from pigmap.imagery.source import open_source
from tests import real_images

OPENED = ""
VERDICTS = {
    "ortho/neon_SJER_002_2017.tif": OPENED,
    "ortho/neon_SJER_002_2018.tif": OPENED,
    "ortho/2019_BLAN_3_751000_4330000_image_crop.jpg": "no coordinate system",
    "ortho/hro_colorado_201404.tif": OPENED,
    "ortho/hro_colorado_201404.tif.ovr": "belongs to an image",
    "ortho/hro_colorado_201404_alpha.tif": OPENED,
    "ortho/hro_colorado_201404_extmask.tif": OPENED,
    "ortho/hro_colorado_201404_extmask.tif.msk": "belongs to an image",
    "ortho/hro_colorado_201404_mask.tif": OPENED,
    "ortho/hro_colorado_201404_nodata.tif": OPENED,
    "ortho/naip_m_4709963_se_20140720.tif": OPENED,
    "ortho/naip_m_4709963_se_20200831.tif": OPENED,
    "georef/RGB.byte.tif": "pixels of 300 m",
    "georef/files.zip": "4 images: RGB.byte.tif, float.tif, float_nan.tif, shade.tif",
    "georef/files.zip/RGB.byte.tif": "pixels of 300 m",
    "georef/files.zip/float.tif": "no coordinate system",
    "georef/files.zip/float_nan.tif": "no coordinate system",
    "georef/files.zip/shade.tif": "pixels of 7.37 m",
    "georef/RGB2.byte.tif": "pixels of 300 m",
    "georef/RGB2.byte.tif.msk": "belongs to an image",
    "georef/RGBA.byte.tif": "pixels of 300 m",
    "georef/alpha.tif": OPENED,
    "georef/RGBA.uint16.tif": OPENED,
    "georef/rotated.tif": "no coordinate system",
    "georef/RGB.byte.gcp.vrt": "pixels of 7.33 m",
    "georef/RGB.byte.rpc.vrt": "only by a model of its camera",
    "georef/rt_cog_gcps.tif": "pixels of 204 m",
    "georef/test_esri_wkt.tif": "pixels of 10 m",
    "georef/ak-compdcs.zip": OPENED,
    "georef/corrupt.tif": "4 of 9 places",
    "georef/float_nan.tif": "no coordinate system",
    "georef/float_raster_with_nodata.tif": "pixels of 506 m",
    "georef/rt_cog_cmap.tif": OPENED,
    "georef/rt_cog_rgb_mask.tif": OPENED,
    "georef/rt_cog_rgba.tif": OPENED,
    "georef/rt_cog_nonearth.tif": "another body than the earth",
    "dem/opengeos_dtm.tif": OPENED,
    "dem/rmnp-dem.tif": "pixels of 234 m",
    "dem/shade.tif": "pixels of 7.37 m",
}
"""By the list of their sources: coarser than 5 m, without a place, not of the earth or torn is refused, else opened."""


def test_every_real_image_opens_where_it_lies_or_is_refused_in_words(shared_data: Path) -> None:
    rows = {
        row.file: row for row in (real_images.looked_at(shared_data, each) for each in real_images.files(shared_data))
    }
    assert sorted(rows) == sorted(VERDICTS)
    for name, row in rows.items():
        assert row.verdict == ("refused" if VERDICTS[name] else "opened"), row
        assert VERDICTS[name] in row.words
        assert row.right, row
        assert not VERDICTS[name] or row.words.endswith("."), row


def test_five_forms_of_one_picture_have_no_data_where_their_own_file_says_so(shared_data: Path) -> None:
    """Transparent pixels are counted by rasterio's mask of the same file: the five do not all mean the same pixels."""
    import rasterio

    counted = {}
    for form in ("", "_alpha", "_mask", "_extmask", "_nodata"):
        path = shared_data / "ortho" / f"hro_colorado_201404{form}.tif"
        with rasterio.open(path) as file:
            wanted, own = int((file.dataset_mask() == 0).sum()), file.crs.to_wkt()
        with open_source(path, projection_for(own, (-104.775, 38.9536))) as source:
            grid = source.grid
            got = source.read(source.bounds, (grid.columns, grid.rows), smooth=False)
        counted[form] = wanted, int((got[..., 3] == 0).sum())
    assert all(wanted == got for wanted, got in counted.values()), counted
    assert counted[""] == (0, 0)
    assert len(set(counted.values())) > 2


def test_heights_without_data_are_left_bare(shared_data: Path) -> None:
    import rasterio

    path = shared_data / "dem" / "opengeos_dtm.tif"
    with rasterio.open(path) as file:
        wanted, own = file.read_masks(1) == 0, file.crs.to_wkt()
    with open_source(path, projection_for(own, (-77.05, 38.81))) as source:
        got = source.read(source.bounds, (source.grid.columns, source.grid.rows), smooth=False)
    assert ((got[..., 3] == 0) == wanted).all()
    assert np.ptp(got[..., 0][~wanted]) == 255
