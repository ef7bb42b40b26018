"""Photos: small ones in rows, the newest first; one of them large; others taken in."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QLabel, QListWidget, QListWidgetItem, QWidget

from pigmap.builtin.panels.aside_tall import TallPlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.one_of import OneOf
from pigmap.document.edits import change_setting, remove
from pigmap.drawing.words import day_words
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_files
from pigmap.qt.following import sentence, tell
from pigmap.qt.jobs import Jobs
from pigmap.qt.photo_looked_at import PhotoLookedAt
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Photo
from pigmap.session.photos import BESIDE, TakenIn, folder_beside, small_of, take_photos, whole_of
from pigmap.text import Text

WHAT = Text(
    "A photo goes to the paddock it was taken in, and to the daily check of that day, where the phone wrote down place "
    "and day."
)
HIGH, SMALL, LARGE = 200, 72, 340
MOST = 400
"""Photos that are listed, the newest."""


def choose_photos(stage: Stage, parent: QWidget) -> list[Path]:
    """Ask for files of photos."""
    kinds = stage.say("Photos (*.jpg *.jpeg *.png *.webp *.tif *.tiff)")
    return [Path(each) for each in choose_files(parent, stage.say("Photos"), kinds)]


class Photos(TallPlate):
    """Enter or a click shows one large, Del takes it away; undo brings it back."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Photos"))
        self._jobs = Jobs(self)
        self.photos: tuple[Photo, ...] = ()
        inner = self.tall.column
        inner.addWidget(Words(stage, "second", self, stage.words(WHAT), "ink2"))
        self.add = WordButton(stage, stage.say("Add photos"), parent=self)
        self.add.clicked.connect(self._ask)
        inner.addWidget(self.add)
        inner.addWidget(Words(stage, "second", self, stage.say("New photos are kept"), "ink2"))
        choices = (stage.say("in the farm file"), stage.say("in a folder beside it"))
        self.kept = OneOf(stage, stage.say("Where new photos are kept"), choices, self)
        self.kept.changed.connect(self._keep)
        inner.addWidget(self.kept)
        self.said = Words(stage, "body", self, colour="warn")
        inner.addWidget(self.said)
        self.list = QListWidget(self)
        self.list.setAccessibleName(stage.say("Photos, newest first"))
        self.list.setFont(font("second", stage))
        self.list.setIconSize(QSize(SMALL, SMALL))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.list.currentRowChanged.connect(self._show_large)
        inner.addWidget(self.list)
        self.large = QLabel(self)
        self.large.setAlignment(Qt.AlignmentFlag.AlignCenter)
        inner.addWidget(self.large)
        self.take_away = WordButton(stage, stage.say("Take it away"), parent=self)
        self.take_away.clicked.connect(self._take_away)
        inner.addWidget(self.take_away)

    def first(self) -> QWidget:
        """Return the list where there is something in it, else the button."""
        return self.list if self.photos else self.add

    def renew(self) -> None:
        """List what is there now."""
        self.said.say("")
        for part in (self.add, self.kept):
            part.setEnabled(not self.stage.session.read_only)
        self._show_kept()
        self._list()
        asked, looked = self.stage.beside(PhotoLookedAt), [photo.uid for photo in self.photos]
        if asked.uid in looked:
            self.list.setCurrentRow(looked.index(asked.uid))
        asked.uid = ""

    def _show_kept(self) -> None:
        with QSignalBlocker(self.kept):
            self.kept.choose(int(bool(self.stage.session.farm.setting(BESIDE))))

    def _keep(self) -> None:
        """Keep new photos elsewhere from now on; those that are there stay where they are."""
        asked = self.kept.chosen
        if asked is None:  # the one that was on was pressed again
            self._show_kept()
            return
        if bool(asked) == bool(self.stage.session.farm.setting(BESIDE)):
            return
        words = Text("New photos go into the farm file.")
        if asked:
            beside = "New photos go into the folder {folder} beside the farm file. Take it along when you copy that."
            words = Text(beside, {"folder": folder_beside(self.stage.session.path).name})
        tell(self.stage, self.stage.session.do(change_setting(BESIDE, True if asked else None)), words)

    def _list(self) -> None:
        farm = self.stage.session.farm
        newest = sorted(farm.photos.values(), key=lambda each: (each.taken_on is not None, each.taken_on, each.uid))
        self.photos = tuple(reversed(newest))[:MOST]
        at = max(self.list.currentRow(), 0)
        self.list.clear()
        small = small_of(self.stage.session, self.photos)
        for photo in self.photos:
            self.list.addItem(self._item(photo, small.get(photo.uid)))
        for part in (self.list, self.large, self.take_away):
            part.setVisible(bool(self.photos))
        self.list.setCurrentRow(min(at, len(self.photos) - 1))
        self._show_large()

    def _item(self, photo: Photo, small: bytes | None) -> QListWidgetItem:
        item = QListWidgetItem(self._called(photo))
        seen = QPixmap()
        if small is not None and seen.loadFromData(small):
            icon = QIcon(seen)
            icon.addPixmap(seen, QIcon.Mode.Selected)  # it would be darkened there
            item.setIcon(icon)
        return item

    def _called(self, photo: Photo) -> str:
        stage, farm = self.stage, self.stage.session.farm
        on = day_words(photo.taken_on, "short year", language=stage.language) if photo.taken_on is not None else ""
        place = farm.paddocks.get(photo.paddock_uid or "") or farm.fields.get(photo.field_uid or "")
        parts = (on, place.name if place is not None else stage.say("place not known"), photo.note)
        return "\n".join(part for part in parts if part)

    def _chosen(self) -> Photo | None:
        at = self.list.currentRow()
        return self.photos[at] if 0 <= at < len(self.photos) else None

    def _show_large(self, *_: object) -> None:
        photo = self._chosen()
        whole = whole_of(self.stage.session, photo) if photo is not None else None
        seen = QPixmap()
        if whole is not None and seen.loadFromData(whole):
            density = self.devicePixelRatioF()
            box = QSize(LARGE, LARGE) * density
            seen = seen.scaled(box, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
            seen.setDevicePixelRatio(density)
            self.large.setPixmap(seen)
        else:
            lost = self.stage.say("Its picture is not there any more.") if photo is not None else ""
            self.large.setText(lost)
        self.large.setAccessibleName(self._called(photo).replace("\n", ", ") if photo is not None else "")
        self._refit()

    def _ask(self) -> None:
        self.bring_in(choose_photos(self.stage, self))

    def bring_in(self, paths: Sequence[Path]) -> None:
        """Take photos in off the window's thread."""
        if not paths:
            return
        self.said.say("")
        self.add.setEnabled(False)
        session, today = self.stage.session, self.stage.today
        job = self._jobs.run(lambda progress, stop: take_photos(session, paths, today))
        job.done.connect(self._taken)
        job.failed.connect(self._refused)

    def _taken(self, taken: object) -> None:
        self.add.setEnabled(True)
        self._list()
        if isinstance(taken, TakenIn):
            self.said.say("\n".join(self.stage.words(sentence(why)) for why in taken.left_out))
            label = self.stage.session.undo_label
            if taken.photos and label is not None:
                self.stage.notice(label, deed="undo")
        self._refit()

    def _refused(self, why: object) -> None:
        self.add.setEnabled(True)
        if isinstance(why, PigmapError):
            self.said.say(self.stage.words(sentence(why)))
            self._refit()

    def _take_away(self) -> None:
        photo = self._chosen()
        if photo is None:
            return
        done = self.stage.session.do(remove("photos", photo.uid, name=self.stage.say("Photo")))
        tell(self.stage, done, Text("Photo taken away."))
        job = self._jobs.run(lambda progress, stop: done.exception())
        job.done.connect(lambda _: self._list())

    def close_down(self) -> None:
        """Wait for what is being read."""
        self._jobs.close()


class _Panel:
    name = "photos"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Photos(stage, parent)


panel = _Panel()
