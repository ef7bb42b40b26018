"""How far colours lie apart, also for eyes that see fewer, and in grey.

Distances are CIEDE2000 (CIE 142-2001); eyes are simulated after Machado, Oliveira and Fernandes, "A
physiologically-based model for simulation of color vision deficiency" (IEEE Transactions on Visualization and Computer
Graphics, 2009) at severity 1, in linear light. Both are those of coloraide.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise

import pytest
from coloraide import Color

from pigmap.drawing.tokens import (
    GROUP_SIGNS,
    REST_COLOURS,
    SINCE_COLOURS,
    SLOPE_COLOURS,
    STOCKING_COLOURS,
    WET_COLOURS,
)

EYES = ("usual", "protan", "deutan", "tritan", "grey")
LEAST = {
    "rest": (11.6, 9.4, 8.2, 8.6, 7.8),
    "stocking": (13.8, 13.6, 13.7, 13.7, 12.8),
    "wet": (20.0, 20.0, 20.0, 20.0, 18.0),
    "slope": (20.0, 20.0, 20.0, 20.0, 20.0),
    "since": (14.2, 13.9, 12.8, 14.0, 11.1),
    "groups": (23.4, 19.1, 19.0, 19.4, 0.0),
}
"""What was measured when the colours were chosen, for each kind of eye. Groups merge in grey; their signs do not."""
PAIRS = {
    "rest": list(pairwise(REST_COLOURS)),
    "stocking": list(pairwise(STOCKING_COLOURS)),
    "since": list(pairwise(SINCE_COLOURS)),
    "wet": list(pairwise(WET_COLOURS)),
    "slope": list(pairwise(SLOPE_COLOURS)),
    "groups": list(combinations([sign.colour for sign in GROUP_SIGNS], 2)),
}


def _seen(colour: str, eyes: str) -> Color:
    if eyes == "usual":
        return Color(colour)
    if eyes == "grey":
        return Color(colour).filter("grayscale")
    return Color(colour).filter(eyes, 1.0, method="machado")


def _least(pairs: Iterable[tuple[str, str]], eyes: str) -> float:
    return min(float(_seen(one, eyes).delta_e(_seen(other, eyes), method="2000")) for one, other in pairs)


@pytest.mark.parametrize("what", PAIRS)
@pytest.mark.parametrize("eyes", EYES)
def test_colours_stay_as_far_apart_as_they_were_chosen(what: str, eyes: str) -> None:
    assert _least(PAIRS[what], eyes) >= LEAST[what][EYES.index(eyes)] - 0.05


RAMPS = {
    "rest": REST_COLOURS,
    "stocking": STOCKING_COLOURS,
    "since": SINCE_COLOURS,
    "wet": WET_COLOURS,
    "slope": SLOPE_COLOURS,
}


@pytest.mark.parametrize("what", RAMPS)
@pytest.mark.parametrize("eyes", EYES)
def test_no_two_steps_are_nearer_than_neighbours_for_any_eyes(what: str, eyes: str) -> None:
    far = [pair for pair in combinations(RAMPS[what], 2) if pair not in PAIRS[what]]
    assert _least(far, eyes) > _least(PAIRS[what], eyes)


@pytest.mark.parametrize("what", RAMPS)
def test_steps_go_one_way_from_dark_to_light_on_a_grey_printer(what: str) -> None:
    light = [Color(colour).convert("lab").coords()[0] for colour in RAMPS[what]]
    assert light in (sorted(light), sorted(light, reverse=True))
