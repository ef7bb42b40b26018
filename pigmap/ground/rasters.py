"""The cells of every stay and check on one field, kept between revisions of the farm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside
from pigmap.geometry.frame import CellFrame


class Rasters:
    """Cells by the shape they lie under; only shapes that are new are looked for again."""

    def __init__(self) -> None:
        self._frame: CellFrame | None = None
        self._known: dict[str, tuple[BaseGeometry, NDArray[np.int64]]] = {}

    def cells(self, frame: CellFrame, uids: Sequence[str], shapes: Sequence[BaseGeometry]) -> list[NDArray[np.int64]]:
        """Return the cells under each shape, which is known by a uid; forgets the shapes that are not asked for."""
        if frame != self._frame:
            self._frame, self._known = frame, {}
        missing = [at for at, uid in enumerate(uids) if not self._has(uid, shapes[at])]
        cells, starts = cells_inside(frame, [shapes[at] for at in missing])
        fresh = {uids[at]: (shapes[at], cells[starts[k] : starts[k + 1]]) for k, at in enumerate(missing)}
        self._known = {uid: fresh.get(uid) or self._known[uid] for uid in uids}
        return [self._known[uid][1] for uid in uids]

    def _has(self, uid: str, shape: BaseGeometry) -> bool:
        known = self._known.get(uid)
        return known is not None and (known[0] is shape or bool(known[0] == shape))
