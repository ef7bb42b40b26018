"""A number together with its unit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

Unit = Literal["m", "m²", "kg", "d", "kV", "J", "°C", "mm", "L", "1", "kg·d/m²", "kg/ha", "°"]
"""Units that are used inside: SI, with days, kilovolts and degrees as the trade has them. ``1`` is a share."""

UNITS: tuple[str, ...] = get_args(Unit)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in an inside unit; which unit a person sees is decided where it is shown.

    Examples
    --------
    >>> Quantity(50.0, "m")
    Quantity(value=50.0, unit='m', digits=None)
    """

    value: float
    unit: Unit
    digits: int | None = None
    """Digits after the point when shown; None leaves it to the unit."""

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise ValueError(f"unit {self.unit!r} is not one of {', '.join(UNITS)}")
