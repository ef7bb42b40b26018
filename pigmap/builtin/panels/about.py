"""What the program is, whose it is, and what it may be used for."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap import __version__
from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.qt.stage import Stage
from pigmap.text import Text

SAID = (
    Text("Anyone may use it, change it and pass it on, under the BSD 3-Clause licence in the file LICENSE."),
    Text(
        "The letters are Atkinson Hyperlegible Next with a plain zero, under the SIL Open Font License 1.1. Fourteen "
        "icons are of the Lucide set, under the ISC and MIT licences. The full texts lie beside them in resources."
    ),
    Text("The window is drawn with Qt for Python, used under the GNU Lesser General Public License 3."),
    Text("Figures are advice. Live fences, overhead lines, hot weather, water and medicines: local rules come first."),
)


class About(AsidePlate):
    """A few sentences."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("About pigmap"))
        self.column.addWidget(Words(stage, "strong", self, stage.say("Version {version}", version=__version__)))
        for each in SAID:
            self.column.addWidget(Words(stage, "body", self, stage.words(each)))


class _Panel:
    name = "about"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return About(stage, parent)


panel = _Panel()
