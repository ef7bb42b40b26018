"""What the card of a field draws: above its figures how its ground went, below them how it lies on that day."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.field_course import FieldCourse
from pigmap.builtin.panels.field_shares import FieldShares
from pigmap.qt.stage import Stage

GAP = 10
"""Kept free below the upper picture and above the lower one [px]."""


class FieldPictures:
    """Two pictures that lie in the body of a card."""

    def __init__(self, stage: Stage, body: QWidget) -> None:
        self._stage = stage
        self.course = FieldCourse(stage, body)
        self.shares = FieldShares(stage, body)
        QWidget.setTabOrder(self.course, self.shares)

    def show_field(self, uid: str | None) -> None:
        """Show a field as it is now, on the day that is shown; nothing for None."""
        field = self._stage.session.farm.fields.get(uid) if uid is not None else None
        for part in (self.course, self.shares):
            part.setVisible(field is not None)
        if field is not None:
            self.course.show_field(field)
            self.shares.show_field(field)

    def high(self, wide: int) -> tuple[int, int]:
        """Return the heights above the figures and below them at a breadth, with what is kept free."""
        return self.course.heightForWidth(wide) + GAP, self.shares.heightForWidth(wide) + GAP

    def lay(self, x: int, wide: int, above_y: int, below_y: int) -> None:
        """Lay the two at their heights in the body."""
        self.course.setGeometry(x, above_y, wide, self.course.heightForWidth(wide))
        self.shares.setGeometry(x, below_y + GAP, wide, self.shares.heightForWidth(wide))

    def close_down(self) -> None:
        """Stop what is looked up for it."""
        self.course.close_down()
