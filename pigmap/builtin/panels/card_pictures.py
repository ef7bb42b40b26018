"""What a card draws beside its figures: how the ground of a field went, or photos of a daily check."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.qt.stage import Stage

if TYPE_CHECKING:
    from pigmap.builtin.panels.card_photos import CardPhotos
    from pigmap.builtin.panels.field_pictures import FieldPictures

GAP = 10
"""Kept free above photos [px]."""


class CardPictures:
    """Made when they are first needed: most cards have none."""

    def __init__(self, stage: Stage, body: QWidget) -> None:
        self._stage, self._body = stage, body
        self.field: FieldPictures | None = None
        self.photos: CardPhotos | None = None
        self._of_field = False

    def show(self, facts: CardFacts | None) -> None:
        """Show those of a card."""
        self._of_field = facts is not None and facts.table == "fields"
        if self._of_field and self.field is None:
            from pigmap.builtin.panels.field_pictures import FieldPictures  # takes no time at the start

            self.field = FieldPictures(self._stage, self._body)
        if self.field is not None:
            self.field.show_field(facts.uid if facts is not None and self._of_field else None)
        if self._stage.session.farm.photos or self.photos is not None:
            self._show_photos(facts)

    def _show_photos(self, facts: CardFacts | None) -> None:
        from pigmap.builtin.panels.card_photos import CardPhotos, photos_of

        found = photos_of(self._stage, facts)
        if self.photos is None and found:
            self.photos = CardPhotos(self._stage, self._body)
        if self.photos is not None:
            self.photos.show_photos(found)

    def high(self, wide: int) -> tuple[int, int]:
        """Return the heights above the figures and below them at a breadth, with what is kept free."""
        if self._of_field and self.field is not None:
            return self.field.high(wide)
        if self.photos is not None and not self.photos.isHidden():
            return 0, self.photos.heightForWidth(wide) + GAP
        return 0, 0

    def lay(self, x: int, wide: int, above_y: int, below_y: int) -> None:
        """Lay them at their heights in the body."""
        if self.field is not None:
            self.field.lay(x, wide, above_y, below_y)
        if self.photos is not None:
            self.photos.lay(x, below_y + GAP, wide)

    def close_down(self) -> None:
        """Stop what is looked up for it."""
        if self.field is not None:
            self.field.close_down()
