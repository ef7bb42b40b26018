"""What soil a field has, told in its card's place, in the keeper's own words."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import amend
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Field
from pigmap.text import Text
from pigmap.weather.soils import NOT_KNOWN, SoilClass, soil_class

CLASSES = {
    SoilClass.SAND: Text("sand"),
    SoilClass.LOAM: Text("loam"),
    SoilClass.CLAY: Text("clay"),
    SoilClass.PEAT: Text("peat"),
}
"""The classes in words."""


class SoilForm(ToldForm):
    """A list of the four classes, and a line for the soil's own name; what that counts as is said while it is typed."""

    def __init__(self, stage: Stage, field: Field, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Its soil"), parent)
        self._field = field
        told = soil_class(field.soil)
        choices = [(stage.say("not told"), None), *((stage.words(words), kind) for kind, words in CLASSES.items())]
        self.kind = self.add_choice(stage.say("Soil"), choices, told)
        self.name = self.add_line(stage.say("What you call it"), field.soil or "", stage.say("clay loam over chalk"))
        self.counts = Words(stage, "second", self, "", "ink2")
        self.add_end(self.counts)
        self.kind.activated.connect(self._take_kind)
        self.name.textChanged.connect(self._show)
        self._show()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.kind

    def _take_kind(self, *_: object) -> None:
        """Write the class that was chosen into the line, unless what stands there counts as that class."""
        kind = self.kind.currentData()  # Qt gives back a plain word
        if kind is None:
            self.name.clear()
        elif soil_class(self.name.text()) != kind:
            self.name.setText(self.stage.words(CLASSES[SoilClass(kind)]))

    def _show(self, *_: object) -> None:
        """Say what the words count as."""
        stage, typed = self.stage, self.name.text().strip()
        kind = soil_class(typed)
        self.kind.setCurrentIndex(max(self.kind.findData(kind), 0))
        if kind is not None:
            words = Text("Counts as {soil} where it is said how wet the ground is.", {"soil": CLASSES[kind]})
        else:
            words = NOT_KNOWN if typed else Text("Without a soil nothing is said of how wet the ground is.")
        self.counts.say(stage.words(words))
        self.grown.emit()

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        typed = self.name.text().strip()
        values = {"field": self._field.name, "soil": typed}
        label = Text("Soil of {field}: {soil}." if typed else "Soil of {field}: not told.", values)
        return Edit(label, amend("fields", self._field.uid, soil=typed or None).changes)
