"""What the tray is made of, for whoever lays it out: in a column, or in lines where the window is narrow."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pigmap.builtin.panels.tray_choices import ChoiceButton
from pigmap.builtin.panels.tray_nets import NetStock
from pigmap.builtin.panels.tray_sides import SidesInNets
from pigmap.builtin.panels.tray_ways import WaysToPlace
from pigmap.builtin.panels.tray_what import WhatToPlace
from pigmap.qt.buttons import WordButton
from pigmap.qt.stepper import Stepper


class Parts(NamedTuple):
    """The controls of the tray."""

    kinds: Sequence[ChoiceButton]
    groups: Sequence[ChoiceButton]
    sides: SidesInNets
    day: Stepper
    snaps: Sequence[WordButton]
    stock: NetStock
    what: WhatToPlace
    ways: WaysToPlace
    more: WordButton


class Head(NamedTuple):
    """A heading: where it begins, and what it says."""

    x: float
    y: float
    words: str


class Laid(NamedTuple):
    """How high the tray came, its headings, and where the hint stands; negative where there is none."""

    high: float
    heads: tuple[Head, ...]
    hint_y: float = -1.0
    needed: float = 0.0
    """Where that ends which every paddock needs."""
