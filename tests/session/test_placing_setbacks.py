from __future__ import annotations

from datetime import date

import numpy as np
import pytest
import shapely

from pigmap.drawing.words import render
from pigmap.fence.cautions.setbacks import setbacks_of
from pigmap.geometry.frame import CellFrame
from pigmap.geometry.steep import SlopeCells
from pigmap.records import Farm, Field, FlowLine, Group, Litter, PigClass, Projection, add
from pigmap.session.placing.setbacks import setback_cares, steep_cares

GROUND = shapely.box(0, 0, 50, 50)
FIELD = Field(
    uid="f",
    name="Hill",
    outline=shapely.MultiPolygon([shapely.box(0, 0, 100, 100)]),
    origin_x_m=0,
    origin_y_m=0,
    turned_deg=0,
)


def a_farm(*rows: object) -> Farm:
    plane = Projection(name="plane", authority="NONE", code=0, definition="")
    return Farm(document_uid="made up", projection=plane).after(add(row) for row in (FIELD, *rows))  # type: ignore[arg-type]


def steep(farm: Farm, deg: float, group: str | None = None) -> list[tuple[str, str]]:
    cells = SlopeCells(CellFrame(0, 0, 0, 2.0, 50, 50), np.full((50, 50), deg))
    found = steep_cares(farm, group, GROUND, {"f": cells}, [FIELD])
    return [(render(each.text, language=""), render(each.remedy, language="")) for each in found if each.care]


def test_a_place_near_a_flow_line_wants_care_and_is_not_refused() -> None:
    farm = a_farm(FlowLine(name="Dip", line=shapely.LineString([(0, 54), (100, 54)])))
    (care,) = setback_cares(farm, GROUND, setbacks_of(farm))
    assert care.care
    assert str(care.text) == "It comes within 4.0 m of Dip. That 10 m are kept off is assumed."
    assert str(care.remedy).endswith("Local rules come first.")


@pytest.mark.parametrize(
    ("deg", "words", "remedy"),
    [
        (
            14.0,
            "100 % of it is steeper than 12°, up to 14°: rain takes rooted ground down.",
            "Move them on before it is bare, and leave green below it. Local rules come first.",
        ),
        (
            9.0,
            "It slopes up to 9°: rain runs off, and takes rooted ground along.",
            "Move them on sooner, and leave green below it.",
        ),
    ],
)
def test_steep_ground_is_told_where_a_terrain_image_says_so(deg: float, words: str, remedy: str) -> None:
    assert steep(a_farm(), deg) == [(words, remedy)]


def test_level_ground_and_ground_without_a_terrain_image_are_not_told_of() -> None:
    assert steep(a_farm(), 5.0) == []
    assert not list(steep_cares(a_farm(), None, GROUND, {}, [FIELD]))


def test_where_sows_farrow_a_slope_matters_more() -> None:
    sows = Group(uid="sows", name="Sows", pig_class=PigClass.LACTATING)
    dry = Group(uid="dry", name="Dry", pig_class=PigClass.GESTATING)
    due = Litter(group_uid="dry", sow="417", served_on=date(2026, 3, 1))
    said = [("It slopes up to 9°, and sows farrow there.", "Choose level ground for huts with piglets.")]
    assert steep(a_farm(sows), 9.0, "sows") == said
    assert steep(a_farm(dry, due), 9.0, "dry") == said
    assert steep(a_farm(dry), 9.0, "dry") != said
