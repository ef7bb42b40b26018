"""A printed page as data: everything on it in millimetres from its upper left corner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, datetime
from typing import Literal, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Layer
from pigmap.drawing.tint import Layers, Tint
from pigmap.drawing.view import View
from pigmap.geometry.frame import CellFrame
from pigmap.geometry.steep import SlopeCells
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.units import System

PaperName = Literal["A4", "A3", "letter", "tabloid"]
PAPERS: Mapping[PaperName, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}
"""Short and long side [mm]: ISO 216 (A4, A3); 8.5 by 11 and 11 by 17 inches of 25.4 mm."""

Align = Literal["left", "centre", "right"]


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words; `y_mm` is its baseline."""

    x_mm: float
    y_mm: float
    words: str
    size_mm: float = 2.6
    """Height of the type (its em)."""
    weight: int = 400
    colour: str = "#121A17"
    align: Align = "left"
    turned_deg: float = 0.0
    """Anticlockwise."""
    halo_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    width_mm: float = 0.2
    colour: str = "#121A17"
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle with round corners."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    radius_mm: float = 0.0
    line_mm: float = 0.0
    colour: str = "#121A17"
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A filled polygon."""

    points_mm: tuple[tuple[float, float], ...]
    fill: str = "#121A17"


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign on the paper itself: that of a group (``group 0 D``), or an icon."""

    x_mm: float
    y_mm: float
    size_mm: float
    name: str


@dataclass(frozen=True, slots=True, eq=False)
class MapFrame:
    """A piece of the map: a view in millimetres and what is drawn in it; the key's signs are small ones."""

    x_mm: float
    y_mm: float
    view: View
    layers: tuple[Layer, ...]
    line_mm: float = 0.0
    """Breadth of the line around it; 0 for none."""
    clipped: bool = True


Item: TypeAlias = Words | Rule | Box | Shape | Sign | MapFrame


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """One page: its size and what lies on it, from below to above."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    title: str = ""
    """Title of the document in the file's own description."""


class FieldCells(Protocol):
    """The cells of one field."""

    @property
    def frame(self) -> CellFrame:
        """Where the cells lie."""
        ...

    @property
    def region_of(self) -> NDArray[np.signedinteger]:
        """Region of each cell, (rows, columns); -1 outside the field."""
        ...


class FieldState(Protocol):
    """The ground of one field on one day, as a page needs it."""

    @property
    def ground(self) -> FieldCells:
        """The cells."""
        ...

    @property
    def layers(self) -> Layers:
        """Arrays by name, one element for each region."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRequest:
    """What someone wants printed."""

    day: date
    field_uid: str | None = None
    """The field; None for the whole farm."""
    paper: PaperName = "A4"
    scale: int | None = None
    """Ground millimetres in one millimetre of paper; None for the best round scale at which it fits."""
    printed_at: datetime
    today: date
    system: System = "metric"
    language: str = "en"
    tint: Tint | None = None
    """How the ground is coloured; None leaves the photo bare."""
    sheet: int = 1
    sheets: int = 1
    slopes: Mapping[str, SlopeCells] = field(default_factory=dict)
    """How steep the cells of fields are, by their uids, where terrain images tell it."""


class Report(Protocol):
    """Makes a page from a farm; it knows no Qt and reads no file."""

    name: str

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return the page; `states` holds a `FieldState` for each field's uid.

        Raises
        ------
        SheetError
            If it cannot be printed as asked: the scale at which it would fit is named.
        """
        ...
