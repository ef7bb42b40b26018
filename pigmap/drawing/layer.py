"""Layer descriptions: shapes in grid metres and signs in pixels and millimetres, without any drawing in them.

There are five. One painter each turns them into paint, for the window, the picture and the page alike. Arrays are
never written to after a description is made; a new description takes its place.
"""

from __future__ import annotations

from dataclasses import field
from typing import Literal, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.frame import CellFrame
from pigmap.records.frozen import dataclass


class Size(NamedTuple):
    """The size of a sign: pixels on a screen at scale 1, millimetres on paper."""

    px: float
    mm: float


NO_SIZE = Size(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: a core, over a wider casing so that it stands out on any ground."""

    colour: str
    width: Size
    casing: str = ""
    """Colour of the casing; empty for none."""
    casing_width: Size = NO_SIZE
    dash: tuple[float, ...] = ()
    """Lengths of strokes and spaces in pixels; on paper in proportion of `width.mm` to `width.px`."""


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel lines inside an outline."""

    colour: str
    every: Size
    width: Size
    angle_deg: float = 45.0
    crossed: bool = False


@dataclass(frozen=True, slots=True)
class Tiles:
    """An aerial image, read in tiles by its own source; equal ones are painted once."""

    image_uid: str
    opacity: float = 1.0
    desaturated: float = 0.0
    """Share of the colour that is taken out, 0 to 1."""
    lifted: float = 0.0
    """Share of white that is laid over it, 0 to 1: room for a pencil on paper."""
    dimmed: float = 0.0
    """Share of black that is laid over it, 0 to 1: the dark theme."""


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """The tinted ground of one field."""

    field_uid: str
    frame: CellFrame
    codes: NDArray[np.uint8]
    """Step of the ramp for each cell, (rows, columns); 255 where the photo shows, 254 where it is unknown."""
    colours: NDArray[np.uint8]
    """Colour of each step as red, green, blue, alpha, (256, 4)."""
    clods: NDArray[np.uint8] | None = None
    """How rooted each cell is, 0 to 4, (rows, columns)."""
    seen: NDArray[np.bool_] | None = None
    """Where the rooting was seen (filled clods), not computed (hollow ones), (rows, columns)."""
    outline: NDArray[np.float64] | None = None
    """Parts of the field as closed rings in grid metres, separated by rows of NaN: cells are clipped to it."""


@dataclass(frozen=True, slots=True, eq=False)
class Outlines:
    """Many lines or rings with one look."""

    points: NDArray[np.float64]
    """Corners of all of them, one after the other, in grid metres, (n, 2)."""
    starts: NDArray[np.int64]
    """Index of the first corner of each, and at the end n, (k + 1,)."""
    closed: bool
    strokes: tuple[Stroke, ...] = ()
    """From below to above."""
    fill: str = ""
    """``#RRGGBB`` or ``#RRGGBBAA``; empty for none."""
    hatch: Hatch | None = None
    smallest_scale: float = float("inf")
    """Not drawn where a pixel is more metres than this."""
    inside: bool = False
    """Whether strokes are bands that lie wholly inside the rings, from their edge inwards."""
    holes: bool = False
    """Whether rings that lie inside others are holes of the fill and hatch."""
    still: bool = False
    """Whether it is the same on all days: the window keeps it apart, and paints it once."""


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """Many small signs of one kind, each at a point."""

    points: NDArray[np.float64]
    """Where they are, in grid metres, (n, 2)."""
    sign: str
    """Name of a sign that the painter knows: ``dot``, ``nick``, ``link``, ``bracket``, ``cross``, or an icon's."""
    size: Size
    colour: str = "#121A17"
    casing: str = "#FFFFFF"
    casing_width: Size = NO_SIZE
    turned_deg: NDArray[np.float64] | None = None
    """Direction of each, anticlockwise from east, (n,); None for upright."""
    values: tuple[int, ...] = ()
    """A number for each, where the sign needs one: how many quarters are rooted, which group's sign."""
    smallest_scale: float = float("inf")
    starts: NDArray[np.int64] | None = None
    """Where given, (k + 1,), `points` are corners of lines and the sign is repeated along each, turned to it."""
    every: Size = NO_SIZE
    """How far apart signs are along a line."""
    first: float = 0.5
    """Where the first sign along a line stands, as a share of `every`."""
    still: bool = False
    """As `Outlines` has it."""


Look: TypeAlias = Literal["name", "quiet", "plate", "plan plate", "number", "plan number", "letter", "length", "clear"]
Side: TypeAlias = Literal[
    "middle", "above", "below", "right", "right above", "right below", "left", "left above", "left below"
]


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place on the ground."""

    x_m: float
    y_m: float
    words: str
    second: str = ""
    """A quieter second line, or the rest of the line after a name."""
    look: Look = "name"
    priority: int = 0
    """Higher ones keep their place where two would collide."""
    sign: str = ""
    """Sign of a group drawn before the words: ``group 0 D`` for colour 0 and letter D."""
    room_m: float = float("inf")
    """Breadth of the thing it names: where it is less, the second line goes, then the words grow short or go."""
    smallest_scale: float = float("inf")
    side: Side = "middle"
    """Where the words lie from their point."""
    turned_deg: float = 0.0
    short: str = ""
    """Fewer words, for a thing too small for all of them."""
    once: str = ""
    """Labels that share this name are one label that may stand in several places: the first with room is shown."""


@dataclass(frozen=True, slots=True, eq=False)
class Labels:
    """Words on the map; those that would collide give way to ones of higher priority."""

    labels: tuple[Label, ...] = field(default=())


Layer: TypeAlias = Tiles | Cells | Outlines | Marks | Labels
