from __future__ import annotations

import json
from pathlib import Path

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.geometry.projection import projection_for
from pigmap.records import Farm, Projection
from pigmap.session.intake import area_of, bounds_of, far_apart, fields_added, middle_of, take_outlines

UTM = "EPSG:32632"
EAST, NORTH = 500_000.0, 5_540_000.0


def box(x: float = 0.0, y: float = 0.0, side: float = 100.0) -> shapely.Polygon:
    return shapely.box(EAST + x, NORTH + y, EAST + x + side, NORTH + y + side)


def layer(*shapes: BaseGeometry | None) -> IncomingLayer:
    rows = tuple(Incoming(f"Field {number}", shape, {}) for number, shape in enumerate(shapes, start=1))
    return IncomingLayer("fields", UTM, rows)


@pytest.fixture
def projection() -> Projection:
    return projection_for(UTM, (9.0, 50.0))


BOW = shapely.Polygon([(EAST, NORTH), (EAST + 100, NORTH + 100), (EAST + 100, NORTH), (EAST, NORTH + 100)])
FLAT = shapely.Polygon([(EAST, NORTH), (EAST + 100, NORTH), (EAST + 200, NORTH)])
HIGH = shapely.Polygon([(x, y, 312.0) for x, y in box().exterior.coords])
HOLED = shapely.Polygon(box().exterior.coords, [box(20, 20, 10).exterior.coords])


@pytest.mark.parametrize(
    ("shape", "result", "words", "area_m2"),
    [
        (box(), "taken", [], 10_000),
        (shapely.MultiPolygon([box(), box(200)]), "taken", ["Field 1 has 2 parts; all belong to it."], 20_000),
        (HOLED, "taken", ["Field 1 has a hole, which stays outside it."], 9_900),
        (HIGH, "mended", ["The heights in Field 1 were left out."], 10_000),
        (
            BOW,
            "mended",
            ["The edge of Field 1 crossed itself; it was mended.", "Field 1 has 2 parts; all belong to it."],
            5_000,
        ),
        (
            FLAT,
            "refused",
            [
                "Field 1 encloses 0 m² of ground; a field has at least 1 m².",
                "Look at the outline where it comes from: its corners may lie in one line.",
            ],
            None,
        ),
        (None, "refused", ["Field 1 has no shape.", "Draw it on the map, or leave it out."], None),
        (
            shapely.Point(EAST, NORTH),
            "refused",
            ["Field 1 is a point, not an area.", "Give an area, or a line that ends where it began."],
            None,
        ),
        (
            box(side=20_000),
            "refused",
            [
                "Field 1 has 40 000 ha; a field has at most 10 000 ha.",
                "Look whether the file names the right coordinate system, or cut the outline into fields.",
            ],
            None,
        ),
    ],
)
def test_each_row_comes_in_or_is_refused_in_words(
    shape: BaseGeometry | None, result: str, words: list[str], area_m2: float | None, projection: Projection
) -> None:
    (taken,) = take_outlines(layer(shape), UTM, projection)
    assert (taken.result, [str(word) for word in taken.words]) == (result, words)
    area = area_of(taken, projection)
    assert (area is None) == (area_m2 is None)
    if area is not None and area_m2 is not None:
        assert area.value == pytest.approx(area_m2 / 0.9996**2, rel=1e-6)  # ground, not grid


def test_degrees_become_metres(projection: Projection) -> None:
    degrees = shapely.box(9.0, 50.0, 9.001, 50.001)
    (taken,) = take_outlines(layer(degrees), "EPSG:4326", projection)
    area = area_of(taken, projection)
    assert area is not None
    assert area.value == pytest.approx(71.696 * 111.229, rel=2e-3)  # a thousandth of a degree east and north


def test_a_corner_off_the_globe_is_refused_and_the_others_come_in(projection: Projection) -> None:
    taken = take_outlines(
        layer(shapely.box(9.0, 50.0, 9.001, 50.001), shapely.box(50.0, 195.0, 50.1, 196.0)), "EPSG:4326", projection
    )
    assert [each.result for each in taken] == ["taken", "refused"]
    assert str(taken[1].words[0]).endswith("lies nowhere in WGS 84 / UTM zone 32N.")


def test_all_fields_come_in_as_one_edit(projection: Projection) -> None:
    taken = take_outlines(layer(box(), None, box(200)), UTM, projection)
    edit = fields_added(taken, "fields.shp")
    farm = Farm(document_uid="d", projection=projection)
    after = farm.after(edit(farm))
    assert sorted(field.name for field in after.fields.values()) == ["Field 1", "Field 3"]
    assert str(edit.label) == "2 fields taken from fields.shp."
    assert {field.cell_m for field in after.fields.values()} == {2.0}
    assert bounds_of(taken) == (EAST, NORTH, EAST + 300, NORTH + 100)


def test_very_large_fields_are_kept_in_wider_squares(projection: Projection) -> None:
    taken = take_outlines(layer(box(side=5_000)), UTM, projection)
    farm = Farm(document_uid="d", projection=projection)
    (field,) = farm.after(fields_added(taken, "f")(farm)).fields.values()
    assert field.cell_m == 8.0
    assert field.outline.area / field.cell_m**2 < 1_500_000


def test_the_middle_is_where_most_fields_are() -> None:
    middle = middle_of(layer(box(), box(200), box(400_000, 900_000), None, shapely.Polygon()), UTM)
    assert middle is not None
    assert list(middle) == pytest.approx([9.003, 50.0128], abs=1e-3)
    assert middle_of(layer(None), UTM) is None


def test_fields_in_another_part_of_the_country_are_told_of(projection: Projection) -> None:
    def said(*shapes: BaseGeometry | None) -> list[str]:
        return [str(words) for words in far_apart(take_outlines(layer(*shapes), UTM, projection), projection)]

    assert said(box(), box(20_000)) == []
    assert said(box(), box(0, 40_000)) == [
        "The fields lie up to 40 km apart, so a map of them all shows little. Make a farm for each place."
    ]
    assert said(box(), box(300_000)) == [
        "The fields lie up to 300 km apart, so a map of them all shows little. Make a farm for each place.",
        "Lengths in 1 field far from the others are off by 0.11 %.",
    ]
    assert said(box(), box(300_000), box(350_000))[1] == (
        "Lengths in 2 fields far from the others are off by up to 0.15 %."
    )
    assert said(None) == []
    assert bounds_of(take_outlines(layer(None), UTM, projection)) is None


def shapes_in(path: Path) -> list[BaseGeometry]:
    told = json.loads(path.read_text(encoding="utf-8"))
    return [shapely.geometry.shape(row["geometry"]) for row in told.get("features", [told])]


def test_real_outlines_keep_their_ground(shared_data: Path) -> None:
    """The bent rings have known answers: beside each file stands one of all its ground."""
    given = sorted((shared_data / "parcels" / "clean").glob("*.args.geojson"))
    assert len(given) == 5
    for path in given:
        on_farm = [shapely.transform(shape, lambda xy: xy * 40 + (EAST, NORTH)) for shape in shapes_in(path)]
        (taken,) = take_outlines(layer(*on_farm), UTM, projection_for(UTM, (9.0, 50.0)))
        wanted = sum(shape.area for shape in shapes_in(path.with_name(path.name.replace(".args.", ".all."))))
        assert taken.vetted is not None, path.name
        assert taken.vetted.outline.area == pytest.approx(1600 * wanted), path.name
