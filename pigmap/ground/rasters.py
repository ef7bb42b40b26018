"""The cells of every stay and check on one field, kept between revisions of the farm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside
from pigmap.geometry.frame import CellFrame

_Parts = tuple[NDArray[np.int64], NDArray[np.int64]]

_MOST_FORGOTTEN = 1000
"""Shapes that are not asked for any more and still kept."""


class Rasters:
    """Cells by the shape they lie under; only shapes that are new are looked for again."""

    def __init__(self) -> None:
        self._frame: CellFrame | None = None
        self._known: dict[str, tuple[BaseGeometry, NDArray[np.int64]]] = {}
        self._parts: dict[str, tuple[NDArray[np.int64], NDArray[np.int64], _Parts]] = {}

    def cells(self, frame: CellFrame, uids: Sequence[str], shapes: Sequence[BaseGeometry]) -> list[NDArray[np.int64]]:
        """Return the cells under each shape, which is known by a uid."""
        if frame != self._frame:
            self._frame, self._known, self._parts = frame, {}, {}
        known = self._known
        kept = [known.get(uid) for uid in uids]
        missing = [at for at, each in enumerate(kept) if each is None or not _is_of(each, shapes[at])]
        cells, starts = cells_inside(frame, [shapes[at] for at in missing])
        for k, at in enumerate(missing):
            kept[at] = known[uids[at]] = shapes[at], cells[starts[k] : starts[k + 1]].copy()
        found = [each for each in kept if each is not None]
        if len(known) > _MOST_FORGOTTEN + len(found):
            self._known = dict(zip(uids, found, strict=True))
        return [its for _, its in found]

    def parts(self, uid: str, cells: NDArray[np.int64], piece: NDArray[np.int64]) -> _Parts:
        """Return the cells inside a piece of some ground, and those outside; the same arrays for the same cells."""
        kept = self._parts.get(uid)
        if kept is None or kept[0] is not cells or kept[1] is not piece:
            is_in = np.isin(cells, piece)
            kept = self._parts[uid] = cells, piece, (cells[is_in], cells[~is_in])
        return kept[2]


def _is_of(known: tuple[BaseGeometry, NDArray[np.int64]], shape: BaseGeometry) -> bool:
    return known[0] is shape or bool(known[0] == shape)
