from __future__ import annotations

import numpy as np

from pigmap.drawing.layer import Tiles
from pigmap.drawing.photo import pressed, toned
from tests.drawing.small_farm import photo

PIXELS = photo("x", (0.0, 0.0, 200.0, 100.0), (200, 100))


def test_lifting_leaves_room_for_a_pencil() -> None:
    lifted = toned(PIXELS, Tiles("x", desaturated=0.55, lifted=0.53))
    assert lifted[..., :3].min() >= 0.53 * 255 - 1
    assert np.ptp(lifted[..., :3], axis=2).max() < np.ptp(PIXELS[..., :3], axis=2).max() / 2


def test_a_photo_without_tone_is_handed_on_as_it_is() -> None:
    assert toned(PIXELS, Tiles("x")) is PIXELS


def test_dimming_darkens_by_its_share() -> None:
    assert np.allclose(toned(PIXELS, Tiles("x", dimmed=0.16))[..., :3], PIXELS[..., :3] * 0.84, atol=1)


def test_fine_structure_has_the_middle_grey_as_its_mean_and_keeps_an_edge() -> None:
    step = np.full((80, 80, 4), 60, dtype=np.uint8)
    step[:, 40:, :3] = 160
    fine = pressed(step, 6.0)
    assert abs(float(fine.mean()) - 128) < 2
    assert fine[40, 41] - 128 > 30
    assert 128 - fine[40, 38] > 30
    assert abs(int(fine[40, 2]) - 128) < 3
