from __future__ import annotations

import json
from pathlib import Path

import pytest
import shapely
from shapely.geometry import shape
from shapely.geometry.base import BaseGeometry

from pigmap.errors import OutlineError
from pigmap.geometry.outlines import vet_outline

CLEAN = (
    "backward-ring-winding-order",
    "interior-ring-overlapping-exterior",
    "interior-ring-splitting-exterior",
    "interior-ring-touching-exterior",
    "repeated-and-extra-points",
)
SQUARE = shapely.box(0, 0, 50, 50)


def notes(outline: BaseGeometry) -> list[str]:
    return [str(note) for note in vet_outline("Ley", outline).notes]


@pytest.mark.parametrize("name", CLEAN)
def test_known_faults_are_mended_as_their_authors_expect(name: str, shared_data: Path) -> None:
    def read(which: str) -> BaseGeometry:
        text = (shared_data / "parcels" / "clean" / f"clean-poly-with-{name}.{which}.geojson").read_text(
            encoding="utf-8"
        )
        found = json.loads(text)
        return shape(found["features"][0]["geometry"] if "features" in found else found["geometry"])

    vetted = vet_outline(name, read("args"))
    assert vetted.outline.equals(read("all"))
    assert vetted.outline.is_valid


def test_a_plain_outline_passes_without_a_word() -> None:
    vetted = vet_outline("Ley", SQUARE)
    assert (vetted.outline.geom_type, vetted.outline.area, vetted.notes) == ("MultiPolygon", 2500.0, ())


@pytest.mark.parametrize(
    ("outline", "words", "area"),
    [
        (
            shapely.Polygon([(0, 0), (50, 50), (50, 0), (0, 50)]),
            ["The edge of Ley crossed itself; it was mended.", "Ley has 2 parts; all belong to it."],
            1250,
        ),
        (
            shapely.MultiPolygon([SQUARE, shapely.box(60, 0, 70, 10)]),
            ["Ley has 2 parts; all belong to it."],
            2600,
        ),
        (
            SQUARE.difference(shapely.box(10, 10, 20, 20)),
            ["Ley has a hole, which stays outside it."],
            2400,
        ),
        (
            SQUARE.difference(shapely.box(10, 10, 20, 20)).difference(shapely.box(30, 30, 31, 31)),
            ["Ley has 2 holes, which stay outside it."],
            2399,
        ),
        (
            shapely.Polygon([(0, 0, 7), (50, 0, 7), (50, 50, 8), (0, 50, 9)]),
            ["The heights in Ley were left out."],
            2500,
        ),
        (
            shapely.MultiPolygon([SQUARE, shapely.box(60, 0, 60.01, 40)]),
            ["A sliver of Ley was left out."],
            2500,
        ),
        (
            shapely.MultiPolygon([SQUARE, shapely.box(60, 0, 60.01, 40), shapely.box(70, 0, 70.1, 0.1)]),
            ["2 slivers of Ley were left out."],
            2500,
        ),
        (
            shapely.LineString([(0, 0), (50, 0), (50, 50), (0, 50), (0, 1)]),
            ["Ley was a line; its ends were joined."],
            2500,
        ),
        (
            shapely.GeometryCollection([SQUARE, shapely.Point(1, 1)]),
            ["Only the areas of Ley were taken; it has lines or points too."],
            2500,
        ),
        (
            shapely.GeometryCollection([shapely.GeometryCollection([SQUARE]), shapely.box(60, 0, 70, 10)]),
            ["Ley has 2 parts; all belong to it."],
            2600,
        ),
    ],
    ids=["crossing", "parts", "hole", "holes", "heights", "sliver", "slivers", "line", "collection", "nested"],
)
def test_what_was_done_is_said(outline: BaseGeometry, words: list[str], area: float) -> None:
    assert notes(outline) == words
    assert vet_outline("Ley", outline).outline.area == pytest.approx(area)
    assert not vet_outline("Ley", outline).outline.has_z


@pytest.mark.parametrize(
    ("outline", "words"),
    [
        (None, "Ley has no shape. Draw it on the map, or leave it out."),
        (shapely.Polygon(), "Ley has no shape. Draw it on the map, or leave it out."),
        (
            shapely.Polygon([(0, 0), (50, 0), (100, 0)]),
            "Ley encloses 0 m² of ground; a field has at least 1 m². "
            "Look at the outline where it comes from: its corners may lie in one line.",
        ),
        (
            shapely.box(0, 0, 1.2, 0.6),
            "Ley encloses 0.72 m² of ground; a field has at least 1 m². "
            "Look at the outline where it comes from: its corners may lie in one line.",
        ),
        (
            shapely.Polygon([(0, 0), (50, 0), (50, float("inf"))]),
            "Ley has a corner that lies nowhere (a coordinate that is not a number). "
            "Mend the outline where it comes from, or draw it on the map.",
        ),
        (
            shapely.box(9.5, 47.1, 9.502, 47.101),
            "Ley lies at 9.50000, 47.10000 and is 0.00200 across: that looks like degrees, not metres. "
            "Say which coordinate system it is in: longitude and latitude is EPSG:4326.",
        ),
        (
            shapely.Point(5e5, 6e6),
            "Ley is a point, not an area. Give an area, or a line that ends where it began.",
        ),
        (
            shapely.LineString([(0, 0), (50, 0), (50, 50)]),
            "Ley is a line, not an area. Give an area, or a line that ends where it began.",
        ),
    ],
    ids=["none", "empty", "in one line", "tiny", "nowhere", "degrees", "point", "open line"],
)
def test_what_is_no_ground_is_refused_in_words(outline: BaseGeometry | None, words: str) -> None:
    with pytest.raises(OutlineError) as refused:
        vet_outline("Ley", outline)
    assert str(refused.value) == words
