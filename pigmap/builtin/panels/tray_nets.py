"""The nets that are owned, in the tray: how many of the chosen kind, and kinds of another length."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.another_length import AnotherLength
from pigmap.builtin.panels.nets_typed import MOST_NETS
from pigmap.builtin.panels.tray_choices import Choice, first_kind
from pigmap.builtin.panels.typed_numbers import whole_number
from pigmap.document.edits import nets_owned, own_nets
from pigmap.errors import PigmapError
from pigmap.fence.walked import nets_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence, tell
from pigmap.qt.nets import tallies
from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font
from pigmap.records import Edit, NetKind
from pigmap.text import Text, Value

PAUSE_MS = 600
"""Steps that follow one another sooner are one change [ms]."""
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
        self._waits: tuple[str, int] | None = None
        """Kind, and how many are to be owned of it, while it is being stepped."""
        self._pause = QTimer(parent, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self.settle)
        stage.verb_changed.connect(self.settle)
        self.own = Stepper(stage, stage.say("Nets you own"), parent, asked=stage.say("how many"))
        self.own.stepped.connect(self._step)
        self.own.typed.connect(self._typed)
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
        """Return how many are owned today, with what is being stepped."""
        if self._waits is not None and self._waits[0] == kind.uid:
            return self._waits[1]
        return len(nets_owned(self.stage.session.farm, kind.uid, self.stage.today))

    def show(self) -> None:
        """Show how many of the chosen kind are owned today; where there is no kind yet, how many the first gets."""
        kind = self._kind()
        if self._waits is not None and (kind is None or self._waits[0] != kind.uid):
            self.settle()
        self.own.setVisible(self._open or kind is None)
        self.line.setVisible(True)
        self.line.after_the_first(bool(self.stage.session.farm.net_kinds))
        self.fold.setVisible(kind is not None)
        count = self._first if kind is None else self._owned(kind)
        self.own.show_words(str(count) if count or kind is not None else "")

    def _step(self, by: int) -> None:
        kind = self._kind()
        if kind is None:
            self._first = max(self._first + by, 0)
            self.show()
        elif self._owned(kind) + by >= 0:
            self._waits = (kind.uid, self._owned(kind) + by)
            self.stage.not_yet = self._drop
            self._pause.start()
            self.show()

    def _typed(self, typed: str) -> None:
        """Take how many are owned of the chosen kind, or how many, how long."""
        kind = self._kind()
        try:
            if not typed.isdigit() and any(sign.isalpha() or sign in " \u00d7" for sign in typed):
                self.line.take(typed)
            else:
                count = whole_number(Text("The number of nets"), typed or "0", 0, MOST_NETS, 14)
                self._first = self._first if kind is not None else count
                self._waits = (kind.uid, count) if kind is not None else None
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")
            return
        self.settle()
        self.show()

    def _drop(self) -> Text:
        uid, count = self._waits or ("", 0)
        self._let_go()
        self.show()
        kind = self.stage.session.farm.net_kinds.get(uid)
        return _owned_words(kind.name if kind is not None else "", count)

    def _let_go(self) -> None:
        self._pause.stop()
        self._waits = self.stage.not_yet = None

    def settle(self, *_: object) -> None:
        """Tell the session how many are owned, once for all quick steps; more may stand, and that is said."""
        if self._waits is None:
            return
        stage, (uid, count) = self.stage, self._waits
        self._let_go()
        kind = stage.session.farm.net_kinds.get(uid)
        if kind is None or count == len(nets_owned(stage.session.farm, uid, stage.today)):
            return
        standing = tallies(stage.session.farm, stage.today, stage.today)[uid].standing
        done = label = _owned_words(kind.name, count)
        if standing > count:
            values: dict[str, Value] = {"kind": kind.name, "standing": standing, "count": count}
            done = Text("{kind}: {standing} stand; you own {count}.", values)
        edit = own_nets(uid, count, stage.today)
        tell(stage, stage.session.do(Edit(label, edit.changes)), done, kind="care" if standing > count else "done")

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


def _owned_words(kind: str, count: int) -> Text:
    return Text("{kind}: {count} net owned.", {"kind": kind}, plural="{kind}: {count} nets owned.", count=count)


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
