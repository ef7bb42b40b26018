from __future__ import annotations

import json
from pathlib import Path

import pytest
import shapely

from pigmap.errors import OutlineError
from pigmap.geometry.projection import projection_for, to_projection
from pigmap.records import Farm
from pigmap.session.county import FEW, MOST_LISTED, Parcels, farms_or_offered, parcels_near
from tests.qt.window_farm import PARTS

FARM = Farm(document_uid="farm", projection=projection_for("", (9.0, 50.0)))
YARD = shapely.Point(500_000, 5_538_630)


def county(path: Path, columns: int, rows: int, *, step: float = 0.002) -> Path:
    """Write outlines in a grid round 9.0, 50.0: each of about 100 by 160 m."""
    features = []
    for number in range(columns * rows):
        x = 9.0 + (number % columns - columns / 2) * step
        y = 50.0 + (number // columns - rows / 2) * step
        ring = [[x, y], [x + step * 0.7, y], [x + step * 0.7, y + step * 0.7], [x, y + step * 0.7], [x, y]]
        shape = {"type": "Polygon", "coordinates": [ring]}
        features.append({"type": "Feature", "properties": {"name": f"Parcel {number}"}, "geometry": shape})
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")
    return path


def test_a_few_outlines_round_the_place_come_in_as_they_are(tmp_path: Path) -> None:
    taken = farms_or_offered(county(tmp_path / "own.geojson", 3, 2), FARM, PARTS, YARD)
    assert isinstance(taken, tuple)
    assert len(taken) == 6


def test_out_of_a_county_the_nearest_are_offered_with_their_ground(tmp_path: Path) -> None:
    offered = farms_or_offered(county(tmp_path / "county.geojson", 40, 40), FARM, PARTS, YARD)
    assert isinstance(offered, Parcels)
    assert (offered.all_there, len(offered.offered)) == (1600, MOST_LISTED)
    assert MOST_LISTED < offered.near < 1600
    assert len(offered.offered) > FEW
    away = [each.vetted.outline.centroid.distance(YARD) for each in offered.offered if each.vetted is not None]
    assert away == pytest.approx(sorted(away), abs=1.0)
    assert offered.area_m2({0, 1}) == pytest.approx(sum(offered.areas_m2[:2]))
    assert offered.areas_m2[0] == pytest.approx(100 * 156, rel=0.05)


def test_a_place_far_from_the_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(OutlineError) as refused:
        parcels_near(county(tmp_path / "county.geojson", 5, 5), FARM, PARTS, shapely.Point(560_000, 5_538_630))
    assert str(refused.value) == (
        "county.geojson holds 25 outlines, and none within 3 km of the farm's place. "
        "Look at the place again, or choose the file of that place."
    )


@pytest.mark.parametrize(
    "name",
    [
        "se_se2023.zip",
        "dk_Marker_2026.zip",
        "india_10k_india_10k.zip",
    ],
)
def test_of_real_files_the_parcels_round_one_of_theirs_are_offered(shared_data: Path, name: str) -> None:
    from pigmap.session.brought import read_outlines
    from pigmap.session.intake import middle_of

    file = shared_data / "parcels" / name
    layer = read_outlines(file, PARTS)
    middle = middle_of(layer, layer.crs)
    assert middle is not None
    farm = Farm(document_uid="farm", projection=projection_for("", middle))
    (first, *_) = to_projection([row.shape for row in layer.rows if row.shape is not None], layer.crs, farm.projection)
    offered = parcels_near(file, farm, PARTS, first.representative_point())
    assert offered.all_there == len(layer.rows)
    outline = offered.offered[0].vetted
    assert outline is not None
    assert outline.outline.distance(first) == pytest.approx(0, abs=1e-3)
