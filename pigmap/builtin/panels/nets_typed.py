"""Nets as they are typed in one line: how many, how long."""

from __future__ import annotations

import re
from typing import NamedTuple

from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.document.edits import add_net_kind, even_bays, usual_posts
from pigmap.errors import EditError
from pigmap.records import Edit, Farm
from pigmap.text import Quantity, Text
from pigmap.units import METRES_PER_FOOT, System

_FORM = re.compile(r"([+-]?\d+)\s*(?:[x\u00d7*,;]|of|nets of|\s)\s*([+-]?\d+(?:[.,]\d+)?)\s*(m|ft)?", re.IGNORECASE)
MOST_NETS = 999
LEAST_M, MOST_M = 2.0, 500.0
"""How long a net can be. Own choice."""
SAME_M = 0.05
"""Lengths that differ by less are one."""


class KindTyped(NamedTuple):
    """What was meant."""

    nets: int
    length_m: float
    there: str = ""
    """Uid of the kind of this length that the farm has: the number is then how many of it are owned."""

    @property
    def posts(self) -> int:
        """Posts of one net, from the first to the last."""
        return usual_posts(self.length_m)

    def edit(self, name: str, uid: str) -> Edit:
        """Return the edit that adds the kind and its nets."""
        return add_net_kind(name, even_bays(round(self.length_m * 1000), self.posts), nets=self.nets, uid=uid)


def kind_typed(farm: Farm, typed: str, units: System) -> KindTyped:
    """Return how many nets, how long.

    Raises
    ------
    EditError
        If that is not what was typed, or if it cannot be.
    """
    found = _FORM.fullmatch(typed.strip())
    if found is None:
        raise EditError(
            "'{typed}' does not say how many nets, how long.",
            remedy="Give both, such as {example}.",
            typed=typed.strip(),
            example="4 x 80 ft" if units == "us" else "4 x 25 m",
        )
    nets = whole_number(Text("The number of nets"), found[1], 1, MOST_NETS, 4)
    unit = (found[3] or ("ft" if units == "us" else "m")).lower()
    length = number(Text("The length of a net"), found[2], "25") * (METRES_PER_FOOT if unit == "ft" else 1.0)
    if not LEAST_M <= length <= MOST_M:
        raise EditError(
            "The length of a net is {length}.",
            remedy="Give a length from {least} to {most}.",
            length=Quantity(length, "m"),
            least=Quantity(LEAST_M, "m"),
            most=Quantity(MOST_M, "m"),
        )
    there = [kind.uid for kind in farm.net_kinds.values() if abs(kind.length_m - length) < SAME_M]
    return KindTyped(nets, length, there[0] if there else "")
