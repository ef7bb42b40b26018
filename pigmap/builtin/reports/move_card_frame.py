"""Where a sketch lies on its card, and what of it is taken already."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import shapely

from pigmap.drawing.view import View
from pigmap.records.frozen import dataclass
from pigmap.text import Text

WORDS_MM = 2.6
"""Words in a sketch."""
Say = Callable[[Text], str]
Taken = list[shapely.Polygon]
BoxMm = tuple[float, float, float, float]
"""Left, top, breadth and height on the card."""


@dataclass(frozen=True, slots=True, eq=False)
class SketchFrame:
    """Where the sketch lies on its card, and what of it is taken by words and signs."""

    view: View
    box: BoxMm
    say: Say
    taken: Taken

    def on_card(self, points: np.ndarray) -> np.ndarray:
        """Return points (n, 2) in grid metres as millimetres of the card."""
        shifted: np.ndarray = self.view.to_device(points) + np.array(self.box[:2])
        return shifted

    def shape(self, outline: shapely.Polygon) -> shapely.Polygon:
        """Return an outline in millimetres of the card."""
        return shapely.Polygon(self.on_card(shapely.get_coordinates(outline.exterior)))

    @property
    def inner(self) -> shapely.Polygon:
        """Where words and signs may lie."""
        left, top, wide, high = self.box
        return shapely.box(left + 0.6, top + 0.6, left + wide - 0.6, top + high - 0.6)

    def is_free(self, area: shapely.Polygon, *others: shapely.Polygon) -> bool:
        """Whether an area lies inside and meets nothing."""
        return self.inner.contains(area) and not any(area.intersects(other) for other in (*self.taken, *others))
