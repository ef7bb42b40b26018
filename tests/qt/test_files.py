from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton, QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.files import folder_dialog


def test_the_dialog_for_a_folder_says_in_words_that_one_can_be_made(qtbot: QtBot, tmp_path: Path) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    dialog = folder_dialog(parent, "Where the farm is kept", str(tmp_path), "New folder")
    (button,) = dialog.findChildren(QToolButton, "newFolderButton")
    assert (button.text(), button.accessibleName()) == ("New folder", "New folder")
    assert button.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonTextBesideIcon
    dialog.show()
    assert button.isVisible()
    assert button.isEnabled()
    assert button.width() >= button.fontMetrics().horizontalAdvance("New folder")
