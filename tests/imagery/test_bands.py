from __future__ import annotations

from enum import Enum
from types import SimpleNamespace
from typing import Any

import pytest

from pigmap.errors import RasterError
from pigmap.imagery.bands import shown_bands


def told(*names: str, kind: str = "uint8") -> Any:
    """Return what an open file says of its bands."""
    colour = Enum("colour", [(name, number) for number, name in enumerate(dict.fromkeys(names))])  # type: ignore[misc]
    return SimpleNamespace(
        colorinterp=[colour[name] for name in names], dtypes=[kind] * len(names), tags=lambda *_, **__: {}
    )


@pytest.mark.parametrize(
    ("names", "message"),
    [
        (
            ("cyan", "magenta", "yellow", "black"),
            "aerial.tif holds its colours as cyan, magenta, yellow, black; the map shows red, green and blue.",
        ),
        (
            ("hue", "saturation", "lightness"),
            "aerial.tif holds its colours as hue, saturation, lightness; the map shows red, green and blue.",
        ),
    ],
)
def test_amounts_of_ink_and_hues_are_refused(names: tuple[str, ...], message: str) -> None:
    with pytest.raises(RasterError) as refused:
        shown_bands(told(*names), "aerial.tif")
    assert str(refused.value.message) == message
    assert str(refused.value.remedy) == "Export it as 8-bit red, green and blue."


def test_alpha_may_stand_anywhere() -> None:
    bands = shown_bands(told("alpha", "red", "green", "blue"), "aerial.tif")
    assert (bands.colours, bands.alpha) == ((2, 3, 4), 1)


def test_grey_with_alpha_stays_grey() -> None:
    bands = shown_bands(told("gray", "alpha"), "aerial.tif")
    assert (bands.colours, bands.alpha, bands.named) == ((1,), 2, True)


def test_a_single_bit_for_a_pixel_is_stretched_to_black_and_white() -> None:
    one = told("gray")
    one.tags = lambda *_, **__: {"NBITS": "1"}
    assert shown_bands(one, "plan.tif").stretched
