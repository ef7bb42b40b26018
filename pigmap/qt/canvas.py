"""The map of the window: the farm's own layers, scale bar and north over them, the tool of the verb at the pointer."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.qt.ground_view import GroundView
from pigmap.qt.map_scene import MapScene
from pigmap.qt.scale_bar import ScaleBar
from pigmap.qt.stage import Stage
from pigmap.records.later_rows import are_read


class MapView(GroundView):
    """Shows the farm of a stage and follows it; the tool of the verb that runs has the pointer.

    `close_down` ends what works in the background; `settle` waits for it.
    """

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(stage, parent)
        self.scene = MapScene(self)
        self.lay_over(ScaleBar(self).draw)
        self.first_frame.connect(self._begin_verb)

    @property
    def may_load(self) -> bool:
        """Whether the ground of every field is shown: nothing is to come between it and the first frame.

        That of a large farm of which not all is read yet comes later.
        """
        return (self.scene.complete or not are_read(self.stage.session.farm.checks)) and super().may_load

    def _begin_verb(self) -> None:
        if self.gestures.tool is None:
            self.gestures.take_up(self.stage.verb)

    def close_down(self) -> None:
        """Stop reading tiles and wait for the threads; calling it again does nothing."""
        super().close_down()
        self.scene.close()
