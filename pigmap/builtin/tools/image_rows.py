"""The images of the farm in a list: which lies over which, taken away again, and others brought, also from the web."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.tools.image_look_row import ImageLookRow
from pigmap.document.edits import unlink_image
from pigmap.document.edits.image_order import images_from_above, shift_image
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_files
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import ChangeSet, Edit, Image
from pigmap.session.brought import IMAGE_SUFFIXES
from pigmap.session.brought_images import BroughtImages, bring_images, images_linked, to_be_pinned, typed_image
from pigmap.session.new_farm import has_place


class ImageRows(QWidget):
    """Lists images from above; images are vetted off the window's thread.

    Parameters
    ----------
    stage
        What the window shows.
    parent
        The plate.
    """

    changed = Signal()
    """Its height may have changed."""
    unplaced = Signal(object)
    """An image on the web (its path) does not say where it lies: it can be pinned."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.choose_files: Callable[[QWidget, str, str], list[str]] = choose_files
        self._asker, self.jobs = Asker(stage, self), Jobs(self)
        self.rows: list[ImageRow] = []
        self.looking = ""
        """Uid of the image whose colours are chosen."""
        self.bring = WordButton(stage, stage.say("Bring aerial images"), "plain", self)
        self.address = AddressLine(stage, self)
        self.said = QLabel(self)
        self.said.setFont(font("second", stage))
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.setStyleSheet(f"color: {tokens(stage).ink2}; background: transparent;")
        self.said.hide()
        self._list = QVBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(self._list)
        for widget in (self.bring, self.address, self.said):
            column.addWidget(widget)
        self.bring.clicked.connect(self._choose)
        self.address.returnPressed.connect(self._take_address)
        stage.farm_changed.connect(self._farm_changed)
        self.renew()

    def _farm_changed(self, changes: ChangeSet) -> None:
        if any(changes.of("images")):
            self.renew()

    def renew(self) -> None:
        """List the images anew."""
        for row in self.rows:
            row.hide()
            row.deleteLater()
        order = images_from_above(self.stage.session.farm)
        self.rows = [ImageRow(self, image, at, len(order)) for at, image in enumerate(order)]
        for row in self.rows:
            self._list.addWidget(row)
            row.show()
            if row.image.uid == self.looking:
                row.open_look(self)
        self.changed.emit()

    def grew(self) -> None:
        """Have the plate take the height that its rows take now."""
        for part in (*self.rows, self):
            if (inside := part.layout()) is not None:
                inside.activate()
            part.updateGeometry()
        self.changed.emit()

    def open_look(self, image_uid: str) -> None:
        """Offer how one image is shown, or put that away."""
        self.looking = image_uid
        self.renew()

    def ask(self, edit: Edit) -> None:
        """Do an edit, and say how it went."""

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                self.stage.notice(sentence(error), "refused")
            elif error is None:
                self.stage.notice(edit.label, deed="undo")

        self._asker.ask(edit, ended)

    def _choose(self) -> None:
        stage = self.stage
        ends = " ".join(f"*{end}" for end in (*IMAGE_SUFFIXES, ".zip"))
        kinds = ";;".join(
            [stage.say("Images and zip files ({ends})", ends=ends), stage.say("All files ({ends})", ends="*")]
        )
        chosen = self.choose_files(self, stage.say("One or several aerial images"), kinds)
        if chosen:
            self.take([Path(each) for each in chosen])

    def _take_address(self) -> None:
        try:
            self.take([typed_image(self.address.text())])
        except PigmapError as why:
            self._say(self.stage.words(sentence(why)))

    def take(self, paths: list[Path]) -> None:
        """Look at images in a worker, and show those that can lie under the map."""
        stage = self.stage
        if not has_place(stage.session.farm.projection):
            stage.take_up("pick")
            stage.start_asked.emit(paths[0])
            return
        self._say(stage.say("The images are being looked at."))
        self.bring.setEnabled(False)
        job = self.jobs.run(lambda progress, stop: bring_images(paths, stop))
        job.done.connect(self._taken)
        job.failed.connect(lambda why: self._refused(why, paths))
        job.ended.connect(self._rest)

    def _taken(self, brought: object) -> None:
        if not isinstance(brought, BroughtImages) or not brought.taken:
            return
        self.address.clear()
        self._say(self.stage.words(brought.words) if brought.left_out else "")
        self.ask(images_linked(brought, self.stage.session.path))

    def _refused(self, why: object, paths: list[Path]) -> None:
        if (picture := to_be_pinned(why, paths)) is not None:
            self._say("")
            self.address.clear()
            self.unplaced.emit(picture)
        elif isinstance(why, PigmapError):
            self._say(self.stage.words(sentence(why)))

    def _rest(self) -> None:
        self.bring.setEnabled(True)

    def _say(self, words: str) -> None:
        self.said.setText(words)
        self.said.setVisible(bool(words))
        self.changed.emit()

    def close_down(self) -> None:
        """Stop what is being looked at, and wait for it."""
        self.jobs.close()


class ImageRow(QWidget):
    """One image: its name, its colours, over or under the next, and away."""

    def __init__(self, rows: ImageRows, image: Image, at: int, count: int) -> None:
        super().__init__(rows)
        stage, self.image = rows.stage, image
        name = QLabel(self)
        name.setFont(font("body", stage))
        name.setStyleSheet(f"color: {tokens(stage).ink}; background: transparent;")
        name.setText(name.fontMetrics().elidedText(image.name, Qt.TextElideMode.ElideMiddle, 150))
        name.setToolTip(image.name)
        self._under = QVBoxLayout(self)
        self._under.setContentsMargins(0, 0, 0, 0)
        self._under.setSpacing(0)
        line = QHBoxLayout()
        line.setSpacing(2)
        self._under.addLayout(line)
        self.look: ImageLookRow | None = None
        self.colours = WordButton(stage, stage.say("Colours"), "link", self)
        self.colours.setAccessibleName(stage.say("Colours of {name}", name=image.name))
        self.colours.clicked.connect(lambda: rows.open_look("" if rows.looking == image.uid else image.uid))
        line.addWidget(name, 1)
        line.addWidget(self.colours)
        self.up = WordButton(stage, stage.say("Up"), "link", self)
        self.down = WordButton(stage, stage.say("Down"), "link", self)
        self.away = WordButton(stage, stage.say("Away"), "link", self)
        self.up.setAccessibleName(stage.say("Lay {name} over the next", name=image.name))
        self.down.setAccessibleName(stage.say("Lay {name} under the next", name=image.name))
        self.away.setAccessibleName(stage.say("Show {name} no longer; its file stays", name=image.name))
        for button, there in ((self.up, at > 0), (self.down, at < count - 1), (self.away, True)):
            line.addWidget(button)
            room = button.sizePolicy()
            room.setRetainSizeWhenHidden(count > 1)
            button.setSizePolicy(room)
            button.setVisible(there)
        self.up.clicked.connect(lambda: rows.ask(shift_image(image.uid, up=True)))
        self.down.clicked.connect(lambda: rows.ask(shift_image(image.uid, up=False)))
        self.away.clicked.connect(lambda: rows.ask(unlink_image(image.uid)))

    def open_look(self, rows: ImageRows) -> None:
        """Offer how it is shown."""
        self.look = ImageLookRow(rows.stage, self.image, rows.jobs, rows.ask, rows.grew)
        self._under.addWidget(self.look)
        self.look.show()


class AddressLine(KeptKeysLine):
    """An address on the web, typed or pasted; Esc is left to the map, all other keys stay."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFont(font("second", stage))
        self.setAccessibleName(stage.say("Address of an image on the web"))
        self.setPlaceholderText(stage.say("or its address on the web: https://..."))
