"""The plate on which a farm is given its place, or the right one: the numbers, and the spot they are of."""

from __future__ import annotations

import shapely
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QVBoxLayout, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.start_place import PlaceChoice
from pigmap.document.edits import give_place, lying_by_themselves
from pigmap.document.edits.find import name_of
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet, Farm, Record
from pigmap.session.farm_place import middle_of_farm, place_now, spot_of, way_moved
from pigmap.text import Quantity, Text, Value

FAR_M = 20_000.0
"""Further than this the metres tell nothing [m]. Own choice."""
SAME_M = 0.5
"""Places nearer to each other than this are one [m]."""


class FarmPlace(AsidePlate):
    """What was typed stays until the farm has it; what is picked on the map meanwhile can be the spot."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Place of the farm"))
        self._asker = Asker(stage, self)
        self.now = Words(stage, "body", self)
        self.place = PlaceChoice(stage, self, only="typed")
        self._spots = QButtonGroup(self)
        self.middle = WordButton(stage, "", "switch", self)
        self.picked = WordButton(stage, "", "switch", self)
        self.spot_said = Words(stage, "second", self, "", "ink2")
        stays = stage.say("All that is drawn moves as one piece, to the metre. Up on the map is north.")
        self.stays = Words(stage, "second", self, stays, "ink2")
        self.moves = Words(stage, "body", self)
        self.off = WordButton(stage, "", "toggle", self)
        self.refused = Words(stage, "body", self, "", "no")
        self.go = WordButton(stage, stage.say("It lies there"), "plain", self)
        self._lay()
        self.middle.setChecked(True)
        self.go.clicked.connect(self.give)
        self.place.line.returnPressed.connect(self.give)
        self.place.changed.connect(self._changed)
        self._spots.buttonToggled.connect(self._changed)
        self.off.clicked.connect(self._changed)
        stage.picked_changed.connect(self._take_picked)
        stage.farm_changed.connect(self._show_farm)

    def _lay(self) -> None:
        stage = self.stage
        self.column.addWidget(self.now)
        self.column.addWidget(Words(stage, "strong", self, stage.say("Where is it?")))
        self.column.addWidget(self.place)
        self.column.addWidget(Words(stage, "strong", self, stage.say("Which spot of the map lies there?")))
        spots = QVBoxLayout()
        spots.setSpacing(6)
        for button in (self.middle, self.picked):
            self._spots.addButton(button)
            spots.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addLayout(spots)
        self.column.addWidget(self.spot_said)
        self.column.addWidget(self.stays)
        self.column.addWidget(self.moves)
        self.column.addWidget(self.off, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addWidget(self.refused)
        self.column.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)

    def first(self) -> QWidget:
        """Return the line to type into."""
        return self.place.line

    def renew(self) -> None:
        """Say where the farm lies, and begin with the spot that is picked, if it is one."""
        self.now.say(self.stage.words(_now(self.stage.session.farm)))
        self._show_spots()
        (self.middle if self.picked.isHidden() else self.picked).setChecked(True)
        self.off.setChecked(False)
        self._show_moves()

    def _show_farm(self) -> None:
        if not self.isHidden():
            self.now.say(self.stage.words(_now(self.stage.session.farm)))
            self._show_spots()

    def _take_picked(self) -> None:
        """Take what is picked while the plate is open as the spot, and go on with typing."""
        if self.isHidden():
            return
        self._show_spots()
        if not self.picked.isHidden():
            self.picked.setChecked(True)
            self.place.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def _row(self) -> Record | None:
        picked = self.stage.picked
        return self.stage.session.farm.rows(picked.table).get(picked.uid) if picked is not None else None

    def _show_spots(self) -> None:
        """Offer the middle of what there is, and what is picked where that is a spot."""
        stage, farm, row = self.stage, self.stage.session.farm, self._row()
        self.middle.setText(stage.words(_middle_words(farm)))
        self.middle.setAccessibleName(self.middle.text())
        offered = row is not None and spot_of(row) is not None
        if row is not None and offered:
            self.picked.setText(stage.words(_spot_words(farm, row)))
            self.picked.setAccessibleName(self.picked.text())
        elif self.picked.isChecked():
            self.middle.setChecked(True)
        self.picked.setVisible(offered)
        words = Text("Stand at that spot and read the phone there.")
        if not (farm.fields or _other_ground(farm)):
            words = Text("Read it off the phone while you stand in the yard.")
        elif not offered:
            words = Text("Stand at that spot and read the phone there. What you pick on the map is offered here too.")
        self.spot_said.say(stage.words(words))
        self._refit()

    def _changed(self, *_: object) -> None:
        self.refused.say("")
        self._show_moves()
        self._refit()

    def _show_moves(self) -> None:
        """Say how far all that is drawn would move, and ask whether it may leave an image."""
        stage, farm = self.stage, self.stage.session.farm
        try:
            place = self.place.understood()
            way = way_moved(farm, self._spot(), place) if place is not None else None
        except PigmapError:
            way = None
        self.moves.say(stage.words(_moved_words(*way)) if way is not None else "")
        images = lying_by_themselves(farm) if way is not None else ()
        self.off.setVisible(bool(images))
        if images:
            self.off.setText(stage.say("It may move off {image}", image=images[0]))
            self.off.setAccessibleName(self.off.text())

    def _spot(self) -> shapely.Point:
        row = self._row()
        return (spot_of(row) if self.picked.isChecked() else None) or middle_of_farm(self.stage.session.farm)

    def fit(self) -> None:
        """Do without the notes while something is refused, and where the map is too low for them."""
        notes = (self.stays, self.spot_said)
        for note in notes:
            note.setVisible(not self.refused.text())
        super().fit()
        for note in notes:
            if self.heightForWidth(self.width()) > self.height() and not note.isHidden():
                note.hide()
                super().fit()

    def give(self) -> None:
        """Give the farm the place, or say why not."""
        spot = self._spot()
        try:
            place = self.place.place()
        except PigmapError as error:
            self._refuse(error)
            return
        if place is not None:
            may_leave = not self.off.isHidden() and self.off.isChecked()
            edit = give_place(place, spot.x, spot.y, off_images=may_leave)

            def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
                if error is not None:
                    self._refuse(error)
                    return
                self.stage.notice(edit.label, "done", "undo")
                if self.isVisible():
                    self.put_away()

            self._asker.ask(edit, ended)

    def _refuse(self, error: BaseException) -> None:
        if isinstance(error, PigmapError):
            words = self.stage.words(sentence(error))
            self.refused.say(words if words != self.place.read_back.text() else "")  # told there already
            self._refit()
            self.first().setFocus(Qt.FocusReason.OtherFocusReason)


def _now(farm: Farm) -> Text:
    place = place_now(farm)
    if place is None:
        return Text("This farm has no place on the map of the world yet.")
    return Text("The farm lies at {place}. It can be put right here.", {"place": place.words})


def _moved_words(metres: float, way: Text) -> Text:
    if metres < SAME_M:
        return Text("It lies there now.")
    if metres > FAR_M:
        return Text("All that is drawn moves far to the {wind}. Undo brings it back.", {"wind": way})
    values: dict[str, Value] = {"far": Quantity(metres, "m", 0), "wind": way}
    return Text("All that is drawn moves {far} to the {wind}. Undo brings it back.", values)


def _middle_words(farm: Farm) -> Text:
    if farm.fields:
        return Text("The middle of the field", plural="The middle of the fields", count=len(farm.fields))
    return Text("The middle of what is drawn") if _other_ground(farm) else Text("The middle of the empty grid")


def _other_ground(farm: Farm) -> bool:
    return bool(farm.keep_outs or farm.ways or farm.places or farm.paddocks)


def _spot_words(farm: Farm, row: Record) -> Text:
    name = name_of(farm, row)
    return name if row.TABLE == "places" else Text("The middle of {name}", {"name": name})


class _Panel:
    name = "farm-place"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return FarmPlace(stage, parent)


panel = _Panel()
