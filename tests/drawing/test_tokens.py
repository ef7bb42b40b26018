from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from pigmap.drawing.tokens import (
    CLOD_SIZES,
    GROUP_SIGNS,
    REST_COLOURS,
    THEMES,
    Theme,
    rest_step,
    rgb,
    rooting_class,
)


def _luminance(colour: str) -> float:
    """Return relative luminance: WCAG 2.2 (W3C, 2023), definition of relative luminance."""
    parts = np.array(rgb(colour)[:3]) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return float(linear @ (0.2126, 0.7152, 0.0722))


def _contrast(one: str, other: str) -> float:
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


WORDS_ON = (
    *[(ink, ground) for ink in ("ink", "ink2") for ground in ("paper", "plate", "well")],
    *[(ink, ground) for ink in ("plan", "no") for ground in ("paper", "plate")],
    ("plan", "planbg"),
    ("no", "nobg"),
    ("warn", "warnbg"),
    ("ink", "warnbg"),
    ("ink", "planbg"),
    ("paper", "ink"),
)
"""Words, and what they stand on, anywhere in the window."""


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda theme: theme.name)
@pytest.mark.parametrize(("words", "ground"), WORDS_ON)
def test_all_text_stands_out_from_what_lies_under_it(theme: Theme, words: str, ground: str) -> None:
    assert _contrast(getattr(theme, words), getattr(theme, ground)) >= 4.5


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda theme: theme.name)
def test_edges_of_controls_stand_out_from_what_they_lie_on(theme: Theme) -> None:
    assert min(_contrast(theme.edge, theme.plate), _contrast(theme.edge, theme.paper)) >= 3.0


def test_rest_grows_lighter_at_every_step() -> None:
    light = [_luminance(colour) for colour in REST_COLOURS]
    assert light == sorted(light)
    assert len(set(light)) == len(light)


def test_letters_of_groups_are_legible_on_their_colour() -> None:
    assert all(_contrast(sign.letter, sign.colour) >= 4.5 for sign in GROUP_SIGNS)


def test_edges_of_rooting_lie_half_way_between_the_scores_of_a_check() -> None:
    scores = np.arange(5) / 4
    assert rooting_class(scores).tolist() == [0, 1, 2, 3, 4]
    assert rooting_class(scores[1:] - 0.126).tolist() == [0, 1, 2, 3]
    assert rooting_class(scores[:-1] + 0.1249).tolist() == [0, 1, 2, 3]


def test_never_used_is_bare_and_today_is_the_darkest_step() -> None:
    assert rest_step(np.array([-1, 0, 7, 105])).tolist() == [255, 0, 1, 5]


def test_each_density_of_clods_has_about_twice_the_ink_of_the_one_before() -> None:
    ink = [(size.radius_px / size.spacing_px) ** 2 for size in CLOD_SIZES[1:]]
    assert all(1.7 < more / less < 3.2 for less, more in pairwise(ink))
