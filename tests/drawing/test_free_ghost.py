from __future__ import annotations

import numpy as np

from pigmap.drawing.free_ghost import free_ghost, free_next, free_posts, free_sides, own_stakes
from pigmap.drawing.layer import Layer, Marks, Outlines
from pigmap.drawing.strokes import WALKED_CLOSING, WALKED_NEXT
from pigmap.drawing.tokens import MAP_NO, MAP_PLAN

CORNERS = np.array([(0.0, 0.0), (50.0, 0.0), (50.0, 30.0)])


def lines(layers: tuple[Layer, ...]) -> list[Outlines]:
    return [layer for layer in layers if isinstance(layer, Outlines) and layer.strokes and not layer.inside]


def test_sides_that_are_set_are_solid_and_the_next_and_the_closing_one_are_not() -> None:
    (solid,) = lines(free_sides(CORNERS))
    assert solid.strokes[0].dash == ()
    closing, coming = lines(free_next(CORNERS, (10.0, 40.0)))
    assert closing.strokes[0].dash == WALKED_CLOSING.dash
    assert coming.strokes[0].dash == WALKED_NEXT.dash
    assert coming.points.tolist() == [[50.0, 30.0], [10.0, 40.0]]


def test_a_closed_one_that_fits_has_a_band_and_a_refused_one_the_lattice_and_crosses() -> None:
    fits, refused = free_ghost(CORNERS), free_ghost(CORNERS, fits=False)
    assert any(isinstance(layer, Outlines) and layer.inside for layer in fits)
    assert any(isinstance(layer, Outlines) and layer.hatch is not None for layer in refused)
    assert [layer.sign for layer in refused if isinstance(layer, Marks)] == ["cross"]
    assert {each.strokes[0].colour for each in lines(fits)} == {MAP_PLAN}
    assert {each.strokes[0].colour for each in lines(refused)} == {MAP_NO}


def test_where_it_offends_a_ring_shows_it() -> None:
    layers = free_next(CORNERS, (10.0, 40.0), fits=False, spot=(30.0, 35.0))
    (ring,) = (layer for layer in layers if isinstance(layer, Marks))
    assert (ring.sign, ring.points.tolist()) == ("ring", [[30.0, 35.0]])


def test_of_nothing_nothing_is_drawn() -> None:
    none = np.empty((0, 2))
    assert free_ghost(none) == free_sides(none) == free_next(none, (0.0, 0.0)) == free_posts([]) == own_stakes([]) == ()


def test_sides_that_cross_have_no_ground() -> None:
    crossed = np.array([(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)])
    assert not any(isinstance(layer, Outlines) and layer.inside for layer in free_ghost(crossed))
