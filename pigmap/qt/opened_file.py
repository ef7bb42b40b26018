"""Open a file that the program wrote with whatever the computer opens it with, else the folder it lies in."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from pigmap.qt.stage import Stage
from pigmap.text import Text

DEED = "open file"
"""Name of the message's deed."""


def open_file(stage: Stage, path: Path) -> None:
    """Open a file; its folder where nothing opens it; say so where neither can be."""
    if not path.is_file():
        words = Text("{file} is no longer in {folder}. Print it again.", _named(path))
        stage.notice(words, "refused")
    elif QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))):
        return
    elif QDesktopServices.openUrl(QUrl.fromLocalFile(str(path.parent))):
        stage.notice(Text("Nothing on this computer opens {file}; here is its folder.", _named(path)), "care")
    else:
        words = Text("Nothing on this computer opens {file}. Look for it in {folder}.", _named(path))
        stage.notice(words, "refused")


def _named(path: Path) -> dict[str, str]:
    return {"file": path.name, "folder": str(path.parent)}
