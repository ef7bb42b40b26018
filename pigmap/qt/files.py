"""Ask the person for a file or a folder of theirs, and know where their documents are."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QLocale, QStandardPaths, Qt
from PySide6.QtWidgets import QFileDialog, QToolButton, QWidget

from pigmap.units import System


def documents_folder() -> Path:
    """Return the person's folder of documents; their own folder where there is none."""
    named = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    folder = Path(named) if named else Path.home()
    return folder if folder.is_dir() else Path.home()


def choose_file(parent: QWidget, title: str, kinds: str) -> str:
    """Return the path of the file that was chosen; empty where none was."""
    return QFileDialog.getOpenFileName(parent, title, str(documents_folder()), kinds)[0]


def choose_files(parent: QWidget, title: str, kinds: str) -> list[str]:
    """Return the paths of the files that were chosen; none where none was."""
    return list(QFileDialog.getOpenFileNames(parent, title, str(documents_folder()), kinds)[0])


def choose_folder(parent: QWidget, title: str, begin: str, new_folder: str) -> str:
    """Return the path of the folder that was chosen, or made there; empty where none was."""
    dialog = folder_dialog(parent, title, begin, new_folder)
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return chosen[0] if chosen else ""


def folder_dialog(parent: QWidget, title: str, begin: str, new_folder: str) -> QFileDialog:
    """Return the dialog that asks for a folder; where it is not the computer's own, it says how to make one."""
    dialog = QFileDialog(parent, title, begin)
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly, True)
    for button in dialog.findChildren(QToolButton, "newFolderButton"):  # Qt's own dialog has it as a sign alone
        button.setText(new_folder)
        button.setAccessibleName(new_folder)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.ensurePolished()
        button.setFixedWidth(button.sizeHint().width() + 12)
    return dialog


def usual_units() -> System:
    """Return the units that are usual where the computer stands."""
    customary = QLocale.system().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
    return "us" if customary else "metric"


def usual_language() -> str:
    """Return the name of the language and country that the computer is set to, such as en_GB."""
    return QLocale.system().name()


def choose_new_file(parent: QWidget, title: str, name: str, kinds: str) -> str:
    """Return the path under which something is to be kept, first thought to be a name; empty where none was chosen."""
    return QFileDialog.getSaveFileName(parent, title, str(documents_folder() / name), kinds)[0]
