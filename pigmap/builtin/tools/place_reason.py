"""The foot of the plate beside a ghost: why it is placed all the same, typed or taken from ready reasons."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QWidget

from pigmap.builtin.tools.reason_line import ReasonLine
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.session.placing import LONGEST_REASON

GAP = 8
LEAST_HIGH = 40


class PlaceReason:
    """A button that opens a line, with ready reasons below it.

    Parameters
    ----------
    stage, parent
        Where it stands.
    ask
        Called when the button is pressed.
    drop
        Called when the line is to be closed.
    give
        Called with the reason.
    """

    def __init__(
        self,
        stage: Stage,
        parent: QWidget,
        ask: Callable[[], object],
        drop: Callable[[], object],
        give: Callable[[str], object],
    ) -> None:
        self._stage = stage
        self._parent = parent
        self._give = give
        self.button = WordButton(stage, stage.say("Place it all the same, with a reason"), "plain", parent)
        self.button.clicked.connect(ask)
        self.line = ReasonLine(parent)
        self.line.dropped.connect(drop)
        self.line.setPlaceholderText(stage.say("Why here all the same"))
        self.line.setAccessibleName(stage.say("Why here all the same"))
        self.line.setMaxLength(LONGEST_REASON)
        self.line.returnPressed.connect(self._take)
        self.line.hide()
        self.ready: list[WordButton] = []
        """Ready reasons, below the line while one is asked for."""

    @property
    def asking(self) -> bool:
        """Whether a reason is being typed."""
        return not self.line.isHidden()

    def open(self, reasons: Sequence[str]) -> None:
        """Open the line with ready reasons."""
        self.line.clear()
        self.line.show()
        self._set_ready(reasons)

    def take_the_keys(self) -> None:
        """Give the line the keys."""
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def shut(self) -> None:
        """Close the line."""
        self.line.hide()
        self._set_ready(())

    def lay(self, left: int, top: int, wide: int, *, offered: bool) -> int:
        """Lay the button, or the line and what is ready, one below the other; return where they end."""
        self.button.setVisible(offered and not self.asking)
        if not offered and not self.asking:
            return top
        deep = max(LEAST_HIGH, self.button.sizeHint().height())
        for each in (self.line if self.asking else self.button, *self.ready):
            each.setGeometry(QRect(left, top, wide, deep))
            top += deep + GAP
        return top + GAP // 2

    def _set_ready(self, reasons: Sequence[str]) -> None:
        for button in self.ready:
            button.hide()
            button.deleteLater()
        self.ready = [self._ready_button(reason) for reason in reasons]
        after: QWidget = self.line
        for button in self.ready:
            QWidget.setTabOrder(after, button)
            after = button

    def _ready_button(self, reason: str) -> WordButton:
        button = WordButton(self._stage, reason, "plain", self._parent)
        button.clicked.connect(lambda: self._give(reason))
        button.show()
        return button

    def _take(self) -> None:
        self._give(self.line.text().strip())
