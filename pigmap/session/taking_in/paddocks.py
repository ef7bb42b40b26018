"""Rows of a file as paddocks: rectangles of whole nets where the columns tell them, else walked corners."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits.naming import field_under, free_names
from pigmap.errors import PigmapError
from pigmap.records import NetKind, Paddock
from pigmap.session.taking_in.rows import Row, Rows, pointed_at, same_shape
from pigmap.session.taking_in.shapes import areas_told, rings_closed, there_of, vetted
from pigmap.session.taking_in.values import truth, whole
from pigmap.text import Text

FITS_M = 0.5
"""Sides of a paddock that differ less from its nets are those of the nets [m]. Own choice: what a phone can tell."""
SQUARE_DEG = 1.0
"""Corners that differ less from right ones are right [degrees]. Own choice."""
_UNNAMED = re.compile(r"Field \d+")
"""What rows without a name are called by those who read the file."""


class PaddockRows(Rows[Paddock]):
    """Outlines, each a paddock; one in parts is as many."""

    record = Paddock
    shape = "outline"

    def called(self, row: Row) -> str:
        """Return its name."""
        return row.words("name") or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the outline and what the columns tell."""
        called = self.called(row)
        self._parts = self._outlines(row, called)
        found: dict[str, Any] = {"outline": self._parts[0]}
        if row.words("name"):
            found["name"] = row.words("name")
        found |= pointed_at(row, "field", self.named.field)
        if "net_kind" in row.given:
            found |= self._nets(row, self._parts[0])
        found |= pointed_at(row, "energizer", self.named.energizer)
        if "own_switch" in row.given:
            found["own_switch"] = bool(truth(row.given["own_switch"], "whether it has its own switch"))
        if "note" in row.given:
            found["note"] = row.words("note")
        return found

    def _outlines(self, row: Row, called: str) -> list[shapely.Polygon]:
        there = there_of(row, called)
        outline = vetted(row, called, rings_closed(there) or there)
        before = row.there if isinstance(row.there, BaseGeometry) else None
        row.said.extend(areas_told(before, outline, self.farm))
        return list(outline.geoms)

    def _nets(self, row: Row, outline: shapely.Polygon) -> dict[str, Any]:
        """Return the nets that a row tells, as far as the farm knows them and they go round the outline."""
        corners: dict[str, Any] = {"net_kind_uid": None, "nets_long": None, "nets_wide": None}
        if not row.words("net_kind"):
            return corners
        try:
            kind = self.named.net_kind(row.given["net_kind"])
        except PigmapError as why:
            words = "{why} It is taken as corners that were walked."
            row.said.append(Text(words, {"why": why.message}))
            return corners
        corners["net_kind_uid"] = kind.uid
        try:
            nets = [whole(row.given.get(what), "the number of nets on a side") for what in ("nets_long", "nets_wide")]
        except PigmapError as why:
            row.said.append(Text("{why} The rest of the row is taken.", {"why": why.message}))
            return corners
        if nets == [None, None]:
            return corners
        if not _goes_round(outline, kind, nets, self.farm.projection.ground_per_grid):
            sides = " x ".join("-" if each is None else str(each) for each in nets)
            values = {"sides": sides, "kind": kind.name}
            row.said.append(Text("Its sides are not those of {sides} {kind}; its corners stand as they are.", values))
            return corners
        return {**corners, "nets_long": nets[0], "nets_wide": nets[1]}

    def make(self, row: Row, told: dict[str, Any]) -> Paddock:
        """Return a new paddock, in the field that most of it lies in where the row does not tell one."""
        if told.get("field_uid") is None:
            under = field_under(self.farm, told["outline"])
            told["field_uid"] = under.uid if under is not None else None
            if under is None and self.farm.fields:
                row.said.append(Text("It lies in none of the fields."))
        name = told.get("name") or (row.incoming.name if not _UNNAMED.fullmatch(row.incoming.name) else "")
        made = Paddock(**{**told, "name": name or self._free(told["field_uid"])})
        twins = [each for each in self.rows if each.name == made.name and each.field_uid == made.field_uid]
        if twins and self.same(made) is None:
            row.said.append(Text("There is another paddock of that name."))
        return made

    def _free(self, field_uid: str | None) -> str:
        return free_names(self.farm, field_uid, also_taken=[each.name for each in self.rows])[0]

    def more(self, row: Row, told: dict[str, Any]) -> Sequence[dict[str, Any]]:
        """Return the further parts, each with a name of its own and walked corners."""
        name = told.get("name") or row.incoming.name
        nets = {"net_kind_uid": told.get("net_kind_uid"), "nets_long": None, "nets_wide": None}
        return [
            {**told, **nets, "outline": part, "name": f"{name}, part {at}"}
            for at, part in enumerate(self._parts[1:], start=2)
        ]

    def alike(self, one: Paddock, other: Paddock) -> bool:
        """Whether two paddocks have one name and outline."""
        return one.name == other.name and same_shape(one.outline, other.outline)


def _goes_round(outline: shapely.Polygon, kind: NetKind, nets: list[int | None], ground_per_grid: float) -> bool:
    """Whether an outline is a rectangle with these nets on its sides; a side of no whole number may be any."""
    ring = shapely.get_coordinates(shapely.simplify(outline.exterior, 0.05))
    if len(ring) != 5 or outline.interiors:
        return False
    edges = [(b - a) * ground_per_grid for a, b in pairwise(ring)]
    sides = [float(np.hypot(*edge)) for edge in edges]
    first, second = edges[0] / sides[0], edges[1] / sides[1]
    if abs(float(first @ second)) > np.sin(np.radians(SQUARE_DEG)) or abs(sides[0] - sides[2]) > FITS_M:
        return False
    wanted = [None if each is None else each * kind.length_m for each in nets]
    return any(
        all(want is None or abs(want - side) <= FITS_M for want, side in zip(wanted, pair, strict=True))
        for pair in ((sides[0], sides[1]), (sides[1], sides[0]))
    )
