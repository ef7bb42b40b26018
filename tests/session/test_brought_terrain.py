from __future__ import annotations

from pathlib import Path

import shapely

from pigmap.geometry.projection import projection_for
from pigmap.imagery.terrain import TerrainFacts
from pigmap.records import Farm, Field
from pigmap.session.brought_terrain import said_of_terrain, terrain_linked

UTM = projection_for("", (7.6, 50.5))


def a_farm(east: float) -> Farm:
    outline = shapely.MultiPolygon([shapely.box(east, 5_600_000, east + 100, 5_600_100)])
    field = Field(uid="f", name="Top", outline=outline, origin_x_m=0, origin_y_m=0, turned_deg=0)
    return Farm(document_uid="d", projection=UTM, fields={"f": field})


def facts(step_m: float) -> TerrainFacts:
    bounds = (399_000.0, 5_599_000.0, 401_000.0, 5_601_000.0)
    return TerrainFacts(Path("/maps/hill.tif"), UTM.definition, bounds, step_m)


def test_what_lies_over_the_fields_is_told_by_how_fine_it_is() -> None:
    assert [str(words) for words in said_of_terrain(facts(5.0), a_farm(400_000))] == [
        "Its heights lie about 5 m apart."
    ]


def test_coarse_heights_and_heights_elsewhere_are_said() -> None:
    assert [str(words) for words in said_of_terrain(facts(234.0), a_farm(500_000))] == [
        "Its heights lie about 234 m apart.",
        "It shows hillsides, and no bank in a field.",
        "It shows none of the fields. Look whether it is the right one.",
    ]


def test_a_terrain_image_beside_the_farm_is_linked_from_its_folder() -> None:
    edit = terrain_linked(facts(5.0), Path("/maps/farm.gpkg"))
    after = a_farm(0).after(edit.changes(a_farm(0)))
    assert [(row.name, row.link) for row in after.terrains.values()] == [("hill", "hill.tif")]
    assert str(edit.label) == "Terrain image hill linked."
