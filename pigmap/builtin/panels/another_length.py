"""A word in the tray that becomes a line: how many nets, how long."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.nets_typed import KindTyped, kind_typed
from pigmap.document.edits import nets_owned, own_nets, together
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Edit, NetKind, new_uid
from pigmap.text import Quantity, Text, Value


class AnotherLength(QWidget):
    """A button that becomes a line: how many, how long."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._button = WordButton(stage, stage.say("Another length"), "link", self)
        self._button.setAccessibleName(stage.say("Another length of nets"))
        self._button.clicked.connect(self._open)
        self._line = CardField(self)
        self._line.taken.connect(self._take)
        self._line.dropped.connect(self._shut)
        self._button.setVisible(not stage.session.read_only)
        self._asker = Asker(stage, self)
        self._asked = False

    def after_the_first(self, some: bool) -> None:
        """Say whether there are nets already."""
        words = self.stage.say("Add another length") if some else self.stage.say("Another length")
        if words != self._button.text():
            self._button.setText(words)
            self._button.setAccessibleName(
                self.stage.say("Add another length of nets") if some else self.stage.say("Another length of nets")
            )
            self._button.resize(min(self._button.sizeHint().width(), max(self.width(), 1)), self.height())

    def _open(self) -> None:
        us = self.stage.units == "us"
        example = self.stage.say("4 x 80 ft") if us else self.stage.say("4 x 25 m")
        self._button.hide()
        self._line.setFont(font("body", self.stage))
        scroll: QWidget | None = self
        while scroll is not None and not isinstance(scroll, QScrollArea):
            scroll = scroll.parentWidget()
        if scroll is not None:
            scroll.ensureWidgetVisible(self, 0, 8)
        self._line.begin(
            "",
            self.stage.say("How many, how long: {example}", example=example),
            self.stage.say("such as {example}", example=example),
        )

    def _shut(self) -> None:
        self._line.hide()
        self._button.show()
        self._button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _take(self, typed: str) -> None:
        """Add the nets; what cannot be stays typed, to be put right."""
        try:
            self.take(typed)
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")

    def take(self, typed: str) -> None:
        """Add the nets of one length, or of several with semicolons between; a second press meanwhile adds nothing.

        Raises
        ------
        PigmapError
            If they cannot be read, or cannot be.
        """
        if not typed.strip():
            self._shut()
        elif not self._asked:
            edit, first = self._edit([each for each in typed.split(";") if each.strip()]), self._chosen() is None

            def ended(_: ChangeSet | None, error: BaseException | None) -> None:
                self._asked = False
                if isinstance(error, PigmapError):
                    self.stage.notice(sentence(error), "refused")
                elif error is None:
                    self._there(first)
                    self.stage.notice(edit.label, deed="undo")

            self._asked = True
            self._asker.ask(edit, ended)

    def _chosen(self) -> NetKind | None:
        return self.stage.placing.kind(self.stage.session.farm)

    def _edit(self, parts: Sequence[str]) -> Edit:
        """Return the edit that says how many nets there are of one length, or of several."""
        stage, farm = self.stage, self.stage.session.farm
        edits: list[Edit] = []
        for part in parts:
            made = self._one(kind_typed(farm, part, stage.units))
            edits.append(made)
            farm = farm.after(made(farm))
        if len(edits) == 1:
            return edits[0]
        return together(Text("Nets of {count} lengths added.", {"count": len(edits)}), edits)

    def _one(self, kind: KindTyped) -> Edit:
        length = Quantity(kind.length_m, "m", 0 if kind.length_m == round(kind.length_m) else 1)
        values: dict[str, Value] = {"length": length, "nets": kind.nets, "posts": kind.posts}
        if kind.there:
            words = Text("{length} nets: {nets} owned.", values)
            return Edit(words, own_nets(kind.there, kind.nets, self.stage.today).changes)
        words = Text("{length} nets added: {nets} of them, {posts} posts each.", values)
        return Edit(words, kind.edit(self.stage.say("{length} nets", length=length), new_uid()).changes)

    def _there(self, first: bool) -> None:
        """Go back to the button; of the first nets of a farm, those of which there are most are chosen."""
        if not self._line.isHidden():
            self._shut()
        stage, farm = self.stage, self.stage.session.farm
        if first and farm.net_kinds:
            most = max(farm.net_kinds, key=lambda uid: len(nets_owned(farm, uid, stage.today)))
            stage.placing.choose(kind_uid=most)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give button and line the whole room."""
        self._button.setGeometry(0, 0, min(self._button.sizeHint().width(), self.width()), self.height())
        self._line.setGeometry(0, 0, self.width(), self.height())
