from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from pigmap.builtin.tints.nitrogen import tint as nitrogen
from pigmap.builtin.tints.none import tint as none
from pigmap.builtin.tints.ready import tint as ready
from pigmap.builtin.tints.rest import tint as rest
from pigmap.builtin.tints.rest_and_rooting import tint as rest_and_rooting
from pigmap.builtin.tints.rooting import tint as rooting
from pigmap.builtin.tints.since_pigs import tint as since_pigs
from pigmap.builtin.tints.stocking import tint as stocking
from pigmap.drawing.clods import clods_in
from pigmap.drawing.layer import Cells
from pigmap.drawing.tint import Tint
from pigmap.drawing.tinted import colour_table, tinted_cells
from pigmap.drawing.tokens import BARE, UNKNOWN
from pigmap.drawing.unknown import ACROSS, DOWN, MARK, unknown_spots
from pigmap.drawing.view import View
from pigmap.ground import prepare
from pigmap.records import GroundJobKind
from tests.ground.invented import SOUTH, WEST, farm, field, herd, on, square, stay
from tests.ground.test_told import told

MIDDLE = View(WEST + 50, SOUTH + 50, 0.2, 600, 600)


def cells(tint: Tint, day: int = 9) -> Cells:
    """Return a field of which a quarter was used, a quarter never, and of half of it nothing is known."""
    made = farm(field(), *herd(), stay("s", 0, 5), told(GroundJobKind.NEVER_USED, square(50, 0)))
    state = prepare(made, "f").on(on(day))
    return tinted_cells(made.fields["f"], state.ground.frame, state.ground.region_of, state.layers, tint)


@pytest.mark.parametrize(
    "tint", [rest, rooting, rest_and_rooting, ready, stocking, nitrogen, since_pigs], ids=lambda tint: tint.name
)
def test_never_and_unknown_are_two_steps_and_neither_is_a_class(tint: Tint) -> None:
    found = cells(tint).codes
    assert found[40, 10] == found[40, 40] == UNKNOWN
    assert found[10, 10] < len(tint.key())
    assert found[10, 40] == (0 if tint is ready else BARE)


def test_unknown_ground_is_painted_in_no_colour() -> None:
    assert colour_table(rest)[UNKNOWN].tolist() == [0, 0, 0, 0]


def test_the_photo_alone_shows_no_sign() -> None:
    assert set(np.unique(cells(none).codes).tolist()) == {BARE}


def test_marks_stand_on_unknown_ground_only_and_off_its_edge() -> None:
    found = cells(rest)
    spots = unknown_spots(found, MIDDLE)
    ground = np.array([MIDDLE.to_ground(x, y) for x, y in spots.tolist()]) - (WEST, SOUTH)
    assert len(spots) > 4
    assert (ground[:, 1] >= 50 + MARK.px / 2 * MIDDLE.metres_per_unit - 2).all()
    assert ((ground >= 0) & (ground <= 100)).all()


def test_marks_are_few_at_every_scale() -> None:
    found = cells(rest)
    for scale in (0.05, 0.2, 0.6):
        view = replace(MIDDLE, metres_per_unit=scale)
        spots = unknown_spots(found, view)
        room = min(view.width, 100 / scale) * min(view.height, 100 / scale) / 2
        assert len(spots) * MARK.px**2 < 0.1 * room


def test_wide_ground_has_few_marks_and_a_narrow_strip_still_has_some() -> None:
    found = cells(rest)
    lattice = 600 * 600 / (ACROSS.px * DOWN.px)
    wide = unknown_spots(replace(found, codes=np.full_like(found.codes, UNKNOWN)), replace(MIDDLE, metres_per_unit=0.1))
    assert 0.15 < len(wide) / lattice < 0.35
    for first in range(0, 40, 5):
        strip = np.full_like(found.codes, BARE)
        strip[:, first : first + 7] = UNKNOWN
        assert 2 <= len(unknown_spots(replace(found, codes=strip), MIDDLE)) <= 40


def test_a_piece_of_a_view_has_the_marks_of_the_whole() -> None:
    found = cells(rest)
    whole = unknown_spots(found, MIDDLE)
    piece = View(WEST + 50 - 30, SOUTH + 50 + 20, 0.2, 300, 400)
    shift = np.array([300 - 150 - 150, 300 - 200 - 100])
    part = unknown_spots(found, piece) + shift
    inside = [
        spot for spot in part.round(6).tolist() if 0 <= spot[0] - shift[0] < 300 and 0 <= spot[1] - shift[1] < 400
    ]
    assert inside
    assert all(spot in whole.round(6).tolist() for spot in inside)


def test_no_marks_without_unknown_ground_or_out_of_view() -> None:
    found = cells(rest)
    assert len(unknown_spots(replace(found, codes=np.zeros_like(found.codes)), MIDDLE)) == 0
    assert len(unknown_spots(found, View(WEST + 5000, SOUTH, 0.2, 600, 600))) == 0


def test_unknown_ground_has_no_clods() -> None:
    found = cells(rest_and_rooting)
    rooted = replace(found, clods=np.full_like(found.codes, 4))
    spots = np.concatenate([each.spots for each in clods_in(rooted, MIDDLE).values()])
    ground = np.array([MIDDLE.to_ground(x, y) for x, y in spots.tolist()]) - (WEST, SOUTH)
    assert len(ground)
    assert (ground[:, 1] < 50.0).all()
