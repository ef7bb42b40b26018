"""The nets that are owned, in the tray: how many of the chosen kind, and kinds of another length."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.nets_typed import kind_typed
from pigmap.builtin.panels.tray_choices import Choice, first_kind
from pigmap.document.edits import nets_owned, once, own_nets, together
from pigmap.errors import PigmapError
from pigmap.fence.walked import nets_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence, tell
from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Edit, Farm, NetKind, RowChange, new_uid
from pigmap.text import Quantity, Text, Value

TARGET = 44
"""Height of what a thumb hits [px]."""


class NetStock:
    """A stepper for what is owned of the chosen kind, and a line that takes nets of another length.

    Once there are nets the stepper is folded under a word: what is owned changes seldom.

    Parameters
    ----------
    parent
        What they lie in.
    changed
        Called when they were folded or unfolded.
    """

    def __init__(self, stage: Stage, parent: QWidget, changed: Callable[[], None]) -> None:
        self.stage = stage
        self._first = 0
        self.own = Stepper(stage, stage.say("Nets you own"), parent)
        self.own.stepped.connect(self._step)
        self.line = AnotherLength(stage, parent)
        self.fold = WordButton(stage, stage.say("More"), "link", parent)
        self.fold.setAccessibleName(stage.say("More: nets you own"))
        self._open = False
        self.fold.clicked.connect(self._turn)
        self._changed = changed

    def _turn(self) -> None:
        self._open = not self._open
        self.show()
        self._changed()

    def show_with(self, *, shown: bool) -> None:
        """Be there or not, as the tray folds: it has a word of its own for all that is folded."""
        self.fold.hide()
        self.own.setVisible(shown)

    def shut(self) -> None:
        """Fold up what is owned."""
        self._open = False

    def _kind(self) -> NetKind | None:
        return self.stage.placing.kind(self.stage.session.farm)

    def _owned(self, kind: NetKind) -> int:
        return len(nets_owned(self.stage.session.farm, kind.uid, self.stage.today))

    def show(self) -> None:
        """Show how many of the chosen kind are owned today; where there is no kind yet, how many the first gets."""
        kind = self._kind()
        self.own.setVisible(self._open or kind is None)
        self.line.setVisible(True)
        self.line.after_the_first(bool(self.stage.session.farm.net_kinds))
        self.fold.setVisible(kind is not None)
        count = self._first if kind is None else self._owned(kind)
        self.own.show_words(str(count) if count else self.stage.say("how many"))

    def _step(self, by: int) -> None:
        stage, kind = self.stage, self._kind()
        if kind is None:
            self._first = max(self._first + by, 0)
            self.show()
            return
        if self._owned(kind) + by < 0:
            return
        counted: list[int] = []

        def changes(farm: Farm) -> Sequence[RowChange]:
            """Count from what is owned once it is this edit's turn: several may be on their way."""
            counted.append(max(0, len(nets_owned(farm, kind.uid, stage.today)) + by))
            return own_nets(kind.uid, counted[-1], stage.today).changes(farm)

        def done(_: ChangeSet) -> Text:
            values: dict[str, Value] = {"kind": kind.name}
            return Text("{kind}: {count} net owned.", values, plural="{kind}: {count} nets owned.", count=counted[-1])

        label = Text("{kind}: one net more." if by > 0 else "{kind}: one net fewer.", {"kind": kind.name})
        tell(stage, stage.session.do(Edit(label, changes)), done)

    def take_first(self, choice: Choice) -> None:
        """Take one of the usual kinds as the first of the farm."""
        done = Text("{kind} added: {count} of them.", {"kind": choice.first, "count": self._first})
        if not self._first:
            done = Text("{kind} added. Say how many you own.", {"kind": choice.first})
            self._open = True
        tell(self.stage, self.stage.session.do(first_kind(choice.uid, choice.first, self._first)), done)

    def lay_own(self, x: int, y: float, wide: int) -> float:
        """Lay the stepper; return where it ends."""
        label = line_height(font("second", self.stage)) + 4
        high = round(label + 46 * self.stage.text_scale)
        self.own.setGeometry(x, round(y), wide, high)
        return y + high + 8

    def lay_folded(self, x: int, y: float, wide: int) -> float:
        """Lay the word, and below it what it folds where that is open; return where it ends."""
        high = round(TARGET * self.stage.text_scale)
        self.fold.setGeometry(x, round(y), min(self.fold.sizeHint().width(), wide), high)
        y += high + 2
        return self.lay_line(x, self.lay_own(x, y, wide) if self._open else y, wide)

    def lay_line(self, x: int, y: float, wide: int) -> float:
        """Lay the line for another length; return where it ends."""
        high = round(TARGET * self.stage.text_scale)
        self.line.setGeometry(x, round(y), wide, high)
        return y + high + 6


def all_nets_words(stage: Stage) -> str:
    """Return how many nets are owned over all lengths: 16 nets: 14 of 50 m, 2 of 25 m."""
    farm = stage.session.farm
    kinds = sorted(farm.net_kinds.values(), key=lambda kind: -kind.length_mm)
    counted = [(kind, len(nets_owned(farm, kind.uid, stage.today))) for kind in kinds]
    if len(counted) < 2:
        return stage.say("Net kind")
    total = sum(count for _, count in counted)
    words = Text("1 net: {nets}", {"nets": nets_words(counted)}, plural="{count} nets: {nets}", count=total)
    return stage.words(words)


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
        self._coming = ""
        stage.farm_changed.connect(self._see)

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
        self._coming = new_uid()
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
        stage = self.stage
        if not typed.strip():
            self._shut()
            return
        try:
            edit = self._edit([each for each in typed.split(";") if each.strip()])
        except PigmapError as error:
            stage.notice(sentence(error), "refused")
            return
        tell(stage, stage.session.do(once(edit, "net_kinds", self._coming)), edit.label)

    def _edit(self, parts: Sequence[str]) -> Edit:
        """Return the edit that adds the nets of one length, or of several with semicolons between."""
        stage, farm = self.stage, self.stage.session.farm
        edits: list[Edit] = []
        for part in parts:
            kind = kind_typed(farm, part, stage.units)
            length = Quantity(kind.length_m, "m", 0 if kind.length_m == round(kind.length_m) else 1)
            made = kind.edit(stage.say("{length} nets", length=length), new_uid() if edits else self._coming)
            words = "{length} nets added: {count} of them, {posts} posts each."
            values: dict[str, Value] = {"length": length, "count": kind.nets, "posts": kind.posts}
            edits.append(Edit(Text(words, values), made.changes))
            farm = farm.after(made(farm))
        return (
            edits[0]
            if len(edits) == 1
            else together(Text("Nets of {count} lengths added.", {"count": len(edits)}), edits)
        )

    def _see(self) -> None:
        """Choose the kind once the farm has it: one that the farm file did not take stays typed."""
        if self._coming and self._coming in self.stage.session.farm.net_kinds:
            uid, self._coming = self._coming, ""
            self._shut()
            self.stage.placing.choose(kind_uid=uid)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give button and line the whole room."""
        self._button.setGeometry(0, 0, min(self._button.sizeHint().width(), self.width()), self.height())
        self._line.setGeometry(0, 0, self.width(), self.height())
