from __future__ import annotations

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.geometry.pinned import Pin, begun, fit_pins

SPOTS = [(100, 80), (900, 120), (850, 640), (130, 700), (500, 400), (300, 620), (700, 200), (220, 330)]


def _placed(column: float, row: float) -> tuple[float, float]:
    """Return a place on ground that is turned by a quarter of a half right angle, in pixels of half a metre."""
    return 500_000 + 0.45 * column + 0.2 * row, 5_200_000 + 0.2 * column - 0.45 * row


def _pins(count: int, *, off: dict[int, tuple[float, float]] | None = None) -> list[Pin]:
    moved = off or {}
    pins = []
    for number, (column, row) in enumerate(SPOTS[:count]):
        east, north = _placed(column, row)
        by = moved.get(number, (0.0, 0.0))
        pins.append(Pin(column, row, east + by[0], north + by[1]))
    return pins


def test_three_pins_place_every_point_of_the_picture() -> None:
    fit = fit_pins(_pins(3))
    assert fit.to_ground(np.array([(0.0, 0.0), (1000.0, 500.0)])) == pytest.approx(
        np.array([_placed(0, 0), _placed(1000, 500)]), abs=1e-6
    )
    assert fit.off_m == pytest.approx((0, 0, 0), abs=1e-6)


def test_the_way_back_leads_to_the_same_point() -> None:
    fit = fit_pins(_pins(4, off={1: (3.0, -2.0)}))
    points = np.array([(10.0, 20.0), (640.0, 480.0)])
    assert fit.to_picture(fit.to_ground(points)) == pytest.approx(points, abs=1e-6)


def test_the_transform_is_the_same_as_the_fit() -> None:
    fit = fit_pins(_pins(3))
    a, b, c, d, e, f = fit.transform
    assert (a * 70 + b * 90 + c, d * 70 + e * 90 + f) == pytest.approx(_placed(70, 90), abs=1e-6)


def test_a_pin_that_is_off_shows_most_and_in_metres_of_ground() -> None:
    fit = fit_pins(_pins(5, off={2: (12.0, 0.0)}), ground_per_grid=1.5)
    assert int(np.argmax(fit.off_m)) == 2
    plain = fit_pins(_pins(5, off={2: (12.0, 0.0)}))
    assert fit.about_m == pytest.approx(1.5 * plain.about_m)
    assert not fit.bent


def _bend(pins: list[Pin]) -> list[Pin]:
    return [pin._replace(east_m=pin.east_m + 4e-5 * (pin.column - 500) ** 2) for pin in pins]


def test_a_bent_picture_is_bent_where_its_pins_say_so() -> None:
    pins = _bend(_pins(8))
    fit = fit_pins(pins)
    assert fit.bent
    assert fit.about_m < 1e-6
    points = np.array([(300.0, 300.0), (700.0, 600.0)])
    assert fit.to_picture(fit.to_ground(points)) == pytest.approx(points, abs=1e-4)


def test_six_pins_that_a_bend_always_passes_through_speak_for_none() -> None:
    assert not fit_pins(_bend(_pins(6))).bent


def test_a_slip_of_the_hand_is_no_bend() -> None:
    assert not fit_pins(_pins(8, off={3: (9.0, 4.0)})).bent


@pytest.mark.parametrize("count", [0, 1, 2])
def test_fewer_than_three_pins_are_refused_in_words(count: int) -> None:
    with pytest.raises(RasterError) as refused:
        fit_pins(_pins(count))
    assert str(refused.value) == (
        f"The picture has {count} of the 3 pins that it takes. "
        "Click another point of the picture, then its place on the map."
    )


def test_pins_in_one_line_are_refused_in_words() -> None:
    with pytest.raises(RasterError) as refused:
        fit_pins([Pin(at, at, *_placed(at, at)) for at in (0, 300, 700)])
    assert str(refused.value) == (
        "The pins lie in one line on the picture. Set another pin well to one side of that line."
    )
    with pytest.raises(RasterError) as refused:
        fit_pins([Pin(*spot, 10.0 * number, 5.0) for number, spot in enumerate(SPOTS[:3])])
    assert str(refused.value) == "The pins lie in one line on the map. Set another pin well to one side of that line."


def test_pins_that_mirror_the_picture_are_refused_in_words() -> None:
    with pytest.raises(RasterError) as refused:
        fit_pins([pin._replace(east_m=-pin.east_m) for pin in _pins(4)])
    assert str(refused.value) == (
        "These pins would show the picture as in a mirror. "
        "Look whether two pins have changed places: each place belongs to the point of the same number."
    )


def test_before_three_pins_the_picture_lies_in_view_then_at_its_pin_then_turned_by_two() -> None:
    view = (0.0, 0.0, 400.0, 200.0)
    shown = begun([], (1000, 800), view).to_ground(np.array([(0.0, 0.0), (1000.0, 800.0)]))
    assert shown == pytest.approx(np.array([(100.0, 180.0), (300.0, 20.0)]))
    one = begun(_pins(1), (1000, 800), view)
    assert one.to_ground(np.array([SPOTS[0]], float))[0] == pytest.approx(_placed(*SPOTS[0]))
    two = begun(_pins(2), (1000, 800), view)
    assert two.to_ground(np.array([SPOTS[2]], float))[0] == pytest.approx(_placed(*SPOTS[2]))
