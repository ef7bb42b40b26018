"""How a page is divided: where the map lies, which way round the paper is, and at which scale."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from pigmap.builtin.reports.sheet_frame import Frame, checked_scale, least_scale, view_at
from pigmap.drawing.page import PAPERS, SheetRequest
from pigmap.records.frozen import dataclass

MARGIN_MM = 9.0
TALL = 1.2
"""From this height to breadth on a field is tall, and its page upright. Own choice."""
TITLE_MM = 12.5
TICKS_LEFT_MM = 5.2
TICKS_TOP_MM = 7.0
COLUMN_MM = 66.0
GAP_MM = 5.5
NOTES_MM = 25.0
BLOCK_GAP_MM = 2.6
FOOT_NOTE_MM = 2.6
COLUMN_TOP_MM = MARGIN_MM + TITLE_MM + 1.5
FOOT_MM = 84.0
"""Height of what stands below the map where the page is upright."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """How a page is divided."""

    width_mm: float
    height_mm: float
    upright: bool
    readings_below: bool = False
    """Whether the boxes for readings stand beside the notes, since the column is full."""

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of the map [mm]."""
        left = MARGIN_MM + TICKS_LEFT_MM
        top = MARGIN_MM + TITLE_MM + TICKS_TOP_MM
        right = self.width_mm - MARGIN_MM - (1.8 if self.upright else COLUMN_MM + GAP_MM)
        bottom = self.height_mm - MARGIN_MM - (FOOT_MM if self.upright else NOTES_MM)
        return left, top, right - left, bottom - top


def divided(ground: BaseGeometry, request: SheetRequest, per_grid: float) -> Sheet:
    """Return the page the way round on which the field is larger; where both are the same, upright for a tall one."""
    short, long = PAPERS[request.paper]
    lying, upright = Sheet(long, short, False), Sheet(short, long, True)

    def scale_on(sheet: Sheet) -> int:
        _, _, wide, high = sheet.frame
        return least_scale(ground.bounds, wide, high, per_grid)

    west, south, east, north = ground.bounds
    tall = north - south > TALL * (east - west)
    best, other = (upright, lying) if tall else (lying, upright)
    return other if scale_on(other) < scale_on(best) else best


def frame_of(ground: BaseGeometry, sheet: Sheet, request: SheetRequest, per_grid: float) -> Frame:
    """Return the frame of the map at the scale that is wanted, or the best round one."""
    left, top, wide, high = sheet.frame
    scale = checked_scale(request.scale, ground.bounds, wide, high, per_grid)
    return Frame(left, top, view_at(ground, wide, high, scale, per_grid), scale)
