"""What is read while the hands work: a panel at the right edge, beside the map and not over it where there is room."""

from __future__ import annotations

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QWidget

from pigmap.qt.arrangement import Box
from pigmap.qt.coming import Coming
from pigmap.qt.motion import PANEL_MS
from pigmap.qt.over_map import SLIDE_PX

BESIDE = "beside"
"""Where such a panel lies; it says with ``wide_beside`` how broad it is beside a map, 0 where it has no room there."""


def lay_beside(panel: QWidget | None, map_box: Box, coming: Coming) -> Box:
    """Lay the panel, if it is shown, and return what is left for the map; over all of the map where it must be."""
    if panel is None:
        return map_box
    left = map_box
    if not panel.isHidden():
        asked = getattr(panel, "wide_beside", None)
        wide = asked(map_box.wide) if asked is not None else 0
        left = map_box._replace(wide=map_box.wide - wide)
        panel.setGeometry(left.x + (left.wide if wide else 0), left.y, wide or map_box.wide, map_box.high)
        panel.raise_()
    coming.laid(panel, QPoint(SLIDE_PX, 0), PANEL_MS)
    return left
