"""The line for a reason on the plate beside a ghost."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent

from pigmap.qt.kept_keys import KeptKeysLine


class ReasonLine(KeptKeysLine):
    """The line for a reason; Esc closes it."""

    dropped = Signal()
    """Somebody wants it closed."""

    def escape(self, event: QKeyEvent) -> None:
        """Ask to be closed."""
        self.dropped.emit()
