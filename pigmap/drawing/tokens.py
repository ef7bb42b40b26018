"""Colours, sizes and edges of classes: one set for screen and paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from types import MappingProxyType
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass
from pigmap.text import Text

ThemeName = Literal["light", "dark", "bright"]


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours of the window; signs on the map and the ground keep theirs in every theme."""

    name: ThemeName
    paper: str
    plate: str
    well: str
    line: str
    edge: str
    ink: str
    ink2: str
    plan: str
    planbg: str
    no: str
    nobg: str
    warn: str
    warnbg: str
    off: str = "#7C877F"
    """Words and icons of what cannot be pressed now."""
    body_weight: int = 400
    casing_more_px: float = 0.0
    """How much wider casings are on the map."""
    photo_dimmed: float = 0.0
    """Share of black laid over the photo."""


LIGHT = Theme(
    name="light",
    paper="#F1F3EF",
    plate="#FFFFFF",
    well="#E4E8E3",
    line="#C6CDC6",
    edge="#7C877F",
    ink="#121A17",
    ink2="#46514C",
    plan="#1650B8",
    planbg="#E6EEFB",
    no="#B3211C",
    nobg="#FBE9E7",
    warn="#7A4B00",
    warnbg="#FFF0CC",
)
DARK = Theme(
    name="dark",
    paper="#10161A",
    plate="#1A2226",
    well="#263137",
    line="#37444A",
    edge="#7F8E93",
    ink="#EEF2ED",
    ink2="#B3BFBB",
    plan="#8FBAFF",
    planbg="#1B2C47",
    no="#FF9186",
    nobg="#3B1D1C",
    warn="#F3C66F",
    warnbg="#392D12",
    off="#7F8E93",
    photo_dimmed=0.16,
)
BRIGHT = replace(LIGHT, name="bright", edge=LIGHT.ink, ink2=LIGHT.ink, body_weight=500, casing_more_px=1.0)

THEMES: MappingProxyType[str, Theme] = MappingProxyType({theme.name: theme for theme in (LIGHT, DARK, BRIGHT)})

# Signs on the map, the same in every theme.
MAP_INK = "#121A17"
MAP_PLAN = "#1650B8"
MAP_NO = "#B3211C"
CASING = "#FFFFFF"
GREY = "#6B726E"
WATER = "#0E3A66"
DRY = "#5C2E00"
SOFT_CASING = "#1A231FA0"
PLAN_BAND = "#8DB4F7"
ENERGIZER = "#FFE27A"


class GroupSign(NamedTuple):
    """Sign, colour and the colour of the letter of a group."""

    sign: str
    colour: str
    letter: str


_WHITE = "#FFFFFF"
GROUP_SIGNS: tuple[GroupSign, ...] = (
    GroupSign("disc", "#00A8A3", MAP_INK),
    GroupSign("square", "#C14762", _WHITE),
    GroupSign("arch", "#A89700", MAP_INK),
    GroupSign("hexagon", "#1B5700", _WHITE),
    GroupSign("stadium", "#F8BEFC", MAP_INK),
    GroupSign("pentagon", "#6A396F", _WHITE),
    GroupSign("shield", "#B4DE9B", MAP_INK),
    GroupSign("trapezium", "#635FE9", _WHITE),
)


REST_FROM_DAY = (0, 7, 21, 42, 70, 105)
"""First day of each step of rest [d]; the edges are ours to change, the order is not."""
REST_COLOURS = ("#795376", "#976773", "#B1837E", "#CCA38F", "#E8C69F", "#FFEEB0")
STOCKING_COLOURS = ("#F4F1EB", "#C5B9A8", "#988A7A", "#736659", "#4A3F36")
SINCE_COLOURS = ("#5F351D", "#99572A", "#C5814C", "#E1B389", "#F5E9DC")
"""Rust, from pigs within a year to pigs long ago: not the plum of rest, no green, no blue of what is intended."""
WET_COLOURS = ("#EEF3F3", "#7CA4C7", "#2F5A90")
"""Dry enough, take care, too wet: paler ground can be used, as everywhere."""
SLOPE_COLOURS = ("#F4F2F3", "#A297A5", "#5E5566")
"""Gentle, steeper, steep."""
BARE = 255
"""The step that leaves the photo bare."""
UNKNOWN = 254
"""The step of ground of which nobody knows whether pigs were on it: bare, with a quiet sign strewn over it."""

ROOTING_FROM = (0.0, 0.125, 0.375, 0.625, 0.875)
"""Lower edge of each class of rooting, half way between the scores of a daily check (0, 1/4, 1/2, 3/4, 1)."""
ROOTING_WORDS = (Text("hardly"), Text("a quarter"), Text("half"), Text("most"), Text("all"))


class ClodSize(NamedTuple):
    """Clods of one class of rooting: least distance between two and radius, in pixels and millimetres."""

    spacing_px: float
    spacing_mm: float
    radius_px: float
    radius_mm: float


CLOD_COLOUR = "#120C16"
CLOD_SIZES: tuple[ClodSize, ...] = (
    ClodSize(0.0, 0.0, 0.0, 0.0),
    ClodSize(10.0, 2.1, 1.30, 0.27),
    ClodSize(6.9, 1.46, 1.50, 0.32),
    ClodSize(4.9, 1.04, 1.52, 0.32),
    ClodSize(3.55, 0.75, 1.55, 0.33),
)
"""Sizes of clods from hardly to all rooted; each about doubles the ink of the one before."""
HOLLOW_FACTOR = 1.06
HOLLOW_STROKE_PX = 0.9


def rooting_class(rooting: NDArray[np.floating]) -> NDArray[np.uint8]:
    """Return the class (0 hardly to 4 all) of each rooted share (0 to 1).

    Examples
    --------
    >>> rooting_class(np.array([0.0, 0.13, 0.5, 1.0])).tolist()
    [0, 1, 2, 4]
    """
    return _steps(rooting, ROOTING_FROM[1:])


def rest_step(days: NDArray[np.integer]) -> NDArray[np.uint8]:
    """Return the step of rest (0 to 5) of each number of days, and `BARE` where ground was never used (-1).

    Examples
    --------
    >>> rest_step(np.array([-1, 0, 6, 7, 200])).tolist()
    [255, 0, 0, 1, 5]
    """
    steps = _steps(days, REST_FROM_DAY[1:])
    return np.where(days < 0, np.uint8(BARE), steps)


def _steps(values: NDArray[np.floating] | NDArray[np.integer], edges: Sequence[float]) -> NDArray[np.uint8]:
    """Return how many edges each value has reached: for a few edges ten times as fast as a search."""
    steps = np.zeros(np.shape(values), dtype=np.uint8)
    for edge in edges:
        steps += values >= edge
    return steps


@cache
def rgb(colour: str) -> tuple[int, int, int, int]:
    """Return red, green, blue and alpha (0 to 255) of ``#RRGGBB`` or ``#RRGGBBAA``.

    Examples
    --------
    >>> rgb("#FFEEB0")
    (255, 238, 176, 255)
    """
    digits = colour.lstrip("#")
    red, green, blue = (int(digits[at : at + 2], 16) for at in (0, 2, 4))
    return red, green, blue, int(digits[6:8], 16) if len(digits) == 8 else 255
