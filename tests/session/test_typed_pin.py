from __future__ import annotations

import pytest

from pigmap.errors import PigmapError
from pigmap.geometry.pinned import Pin, fit_pins
from pigmap.geometry.projection import projection_for
from pigmap.records.projection import NO_PLACE
from pigmap.session.pinned_words import fit_words
from pigmap.session.typed_pin import typed_ground, typed_pin

SOMEWHERE = projection_for("", (9.0, 50.0))


def test_a_place_is_metres_of_the_grid_or_the_pair_that_a_phone_shows() -> None:
    assert typed_ground("E 12.5, N 7", NO_PLACE) == (12.5, 7.0)
    assert typed_ground("50.0, 9.0", SOMEWHERE) == pytest.approx((500_000, 5_538_630.7), abs=0.1)


def test_a_pin_is_a_point_and_its_place() -> None:
    assert typed_pin("120 340 at E 500 N -30", NO_PLACE) == Pin(120, 340, 500, -30)
    assert typed_pin("120, 340.5 at 50.0, 9.0", SOMEWHERE)[:2] == (120, 340.5)


def test_degrees_on_a_farm_that_lies_nowhere_are_refused_in_words() -> None:
    with pytest.raises(PigmapError) as refused:
        typed_ground("47.03, -99.18", NO_PLACE)
    assert str(refused.value) == (
        "This farm has no place on the map of the world yet, so 47.03, -99.18 lies nowhere on its grid. "
        "Type metres of the grid: E 120 N 80; or give the farm its place, under More."
    )


@pytest.mark.parametrize("words", ["", "120 at E 1 N 2", "a b at E 1 N 2"])
def test_what_is_no_pin_is_refused_in_words(words: str) -> None:
    with pytest.raises(PigmapError) as refused:
        typed_pin(words, NO_PLACE)
    assert str(refused.value) == (
        f"{words or 'An empty line'} is not a point of the picture and its place. "
        "Type 120 340 at 47.03, -99.18: 120 pixels from the left, 340 from the top, then the place."
    )


def _square(more: int = 1, **off: float) -> list[Pin]:
    spots = [(0, 0), (400, 0), (0, 200), (400, 200), (200, 100), (100, 50), (300, 60), (120, 160), (290, 150)]
    return [Pin(c, r, c + off.get(f"east{n}", 0.0), 500.0 - r) for n, (c, r) in enumerate(spots[: 3 + more])]


def test_how_well_it_fits_is_one_sentence() -> None:
    pins = _square(1, east3=2.0)
    assert str(fit_words(pins, fit_pins(pins))) == "Fits to about 0.5 m."
    pins = _square(2, east4=30.0)
    assert str(fit_words(pins, fit_pins(pins))) == "Fits to about 12 m; pin 5 is 24 m off."
    assert str(fit_words(pins[:3], fit_pins(pins[:3]))) == "Three pins always fit. A fourth would show how well."


def test_a_bent_picture_is_said_to_be() -> None:
    pins = [pin._replace(east_m=pin.east_m + 2e-4 * (pin.column - 200) ** 2) for pin in _square(6)]
    assert str(fit_words(pins, fit_pins(pins))) == "The picture is bent. It fits to about 0.0 m."


def test_pins_that_slant_the_picture_are_spoken_of() -> None:
    pins = [pin._replace(east_m=pin.east_m + pin.row) for pin in _square(1)]
    assert fit_pins(pins).stretch == pytest.approx((3 + 5**0.5) / 2, rel=1e-6)
    assert str(fit_words(pins, fit_pins(pins))) == (
        "It is stretched or slanted by these pins, as a map seldom is. Look whether one of them is in the wrong place."
    )
