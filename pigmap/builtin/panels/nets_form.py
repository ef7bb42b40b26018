"""Which nets stand round a paddock, put right in the card's place: a step for each length, taken with one press."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.document.edits import nets_are_guessed, nets_stand
from pigmap.fence.walked import nets_round_it, nets_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.net_counts import NetCounts
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Paddock
from pigmap.text import Text

TARGET = 44
"""Height of a button that a thumb hits [px]."""


class NetsForm(QWidget):
    """Counts the nets that are the paddock's own: a side that it shares is counted with the paddock that had it."""

    ended = Signal()
    grown = Signal()
    shows = Signal(QWidget)

    def __init__(self, stage: Stage, paddock: Paddock, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._uid = stage, paddock.uid
        farm = stage.session.farm
        asked = stage.say("Nets round {paddock}", paddock=paddock.name)
        self.setAccessibleName(asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.head = Words(stage, "title", self, asked)
        column.addWidget(self.head)
        guessed = stage.say("Guessed from the length of the sides. Set them as they stand.")
        counted = stage.say("As written down. Nets of a side it shares are counted with the other paddock.")
        column.addWidget(Words(stage, "body", self, guessed if nets_are_guessed(farm, paddock.uid) else counted))
        self.nets = NetCounts(stage, self)
        uses = farm.net_uses.values()
        own = Counter(use.net_kind_uid for use in uses if use.paddock_uid == paddock.uid and use.stands(stage.day))
        self.nets.show_counts(own)
        column.addWidget(self.nets)
        self.take = WordButton(stage, stage.say("So they stand"), parent=self)
        self.leave = WordButton(stage, stage.say("Leave it"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in (self.take, self.leave):
            button.setFixedHeight(round(TARGET * stage.text_scale))
            below.addWidget(button, 1)
        column.addLayout(below)
        column.addStretch(1)
        self.take.clicked.connect(self._take)
        self.leave.clicked.connect(self.ended)

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return next((each.stops[1] for each in self.nets.steppers.values()), self.leave)

    def _take(self) -> None:
        stage = self.stage
        farm = stage.session.farm
        paddock = farm.paddocks.get(self._uid)
        if paddock is not None:
            found = nets_round_it(farm, paddock, stage.day, self.nets.counts)
            edit = nets_stand(paddock.uid, [(net.kind.uid, net.line) for net in found], stage.day)
            counted = [(farm.net_kinds[uid], count) for uid, count in self.nets.counts.items() if count]
            done = Text("Nets round {paddock}: {nets}.", {"paddock": paddock.name, "nets": nets_words(counted)})
            tell(stage, stage.session.do(Edit(done, edit.changes)), done)
        self.ended.emit()

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)
