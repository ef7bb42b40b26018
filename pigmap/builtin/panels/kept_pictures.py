"""How much of aerial images is kept in memory and on the disk, where, and letting it go."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.tall import Tall
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.files import choose_folder
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.session.kept_pictures import clear_kept, keep_at_most, keep_in, kept_now, use_memory
from pigmap.session.personal import load_personal
from pigmap.text import Text

WHAT = Text(
    "Aerial images that are slow to look at are cut into small pictures once, while you work, and kept on this "
    "computer. Nothing of your farm is in them, and they can be made again at any time."
)
DISK_MB = (500, 1000, 2000, 4000, 8000, 16_000, 32_000, 64_000)
MEMORY_MB = (128, 256, 512, 1024, 2048)


class KeptPictures(AsidePlate):
    """Two amounts to choose, a folder, and a button that lets all go."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Kept pictures"))
        self.tall = Tall(self)
        self.column.addWidget(self.tall, 1)
        inner = self.tall.column
        inner.addWidget(Words(stage, "body", self, stage.words(WHAT)))
        self.disk = self._choice(Text("Disk for kept pictures, at most"), self._keep_at_most)
        self.now = Words(stage, "body", self)
        self.clear = WordButton(stage, stage.say("Clear"), parent=self)
        self.clear.setAccessibleName(stage.say("Clear all kept pictures"))
        self.clear.clicked.connect(self._clear)
        self._beside(self.now, self.clear)
        self.making = Words(stage, "second", self, colour="ink2")
        inner.addWidget(self.making)
        self.memory = self._choice(Text("Memory for images while a map is open"), self._use_memory)
        inner.addWidget(Words(stage, "strong", self, stage.say("Folder")))
        self.folder = Words(stage, "body", self)
        inner.addWidget(self.folder)
        self.choose = WordButton(stage, stage.say("Another folder"), parent=self)
        self.choose.clicked.connect(self._choose)
        self.usual = WordButton(stage, stage.say("The usual one"), parent=self)
        self.usual.clicked.connect(partial(self._keep_in, None))
        buttons = QHBoxLayout()
        for button in (self.choose, self.usual):
            buttons.addWidget(button)
        buttons.addStretch(1)
        inner.addLayout(buttons)
        self.said = Words(stage, "strong", self)
        self.column.addWidget(self.said)
        stage.picture_grew.connect(self._follow)

    def _choice(self, label: Text, chosen: Callable[[int], None]) -> ChoiceBox:
        words = self.stage.words(label)
        self.tall.column.addWidget(Words(self.stage, "strong", self, words))
        box = ChoiceBox(self.stage, self)
        box.setFont(font("body", self.stage))
        box.setAccessibleName(words)
        box.activated.connect(lambda index: chosen(box.itemData(index)))
        self.tall.column.addWidget(box)
        return box

    def _beside(self, words: Words, button: WordButton) -> None:
        row = QHBoxLayout()
        row.addWidget(words, 1)
        row.addWidget(button)
        self.tall.column.addLayout(row)

    def first(self) -> QWidget:
        """Return the amount of disk."""
        return self.disk

    def renew(self) -> None:
        """Look what is kept now."""
        self.said.say("")
        self.making.say("")
        self._show()

    def _show(self) -> None:
        personal, now = load_personal(), kept_now()
        self._offer(self.disk, DISK_MB, personal.kept_mb)
        self._offer(self.memory, MEMORY_MB, personal.tiles_mb)
        told = Text(
            "Kept now: {amount}, of {count} image.",
            {"amount": amount(now.bytes / 1e6)},
            plural="Kept now: {amount}, of {count} images.",
            count=now.images,
        )
        self.now.say(self.stage.words(told if now.images else Text("Nothing is kept now.")))
        self.clear.setEnabled(now.images > 0)
        self.folder.say(_breakable(now.folder))
        self.folder.setAccessibleName(str(now.folder))
        self.usual.setVisible(bool(personal.kept_folder))
        if not self.isHidden():
            self._fit()

    def _fit(self) -> None:
        self.tall.lay_out()
        self.column.invalidate()  # what was said just now takes its room at once
        self.fit()

    def _offer(self, box: ChoiceBox, amounts: Sequence[int], held: int) -> None:
        box.clear()
        for each in sorted({*amounts, held}):
            box.addItem(amount(each), each)
        box.setCurrentIndex(box.findData(held))

    def _follow(self, image_uid: str, share: float) -> None:
        image = self.stage.session.farm.images.get(image_uid)
        if self.isHidden() or image is None:
            return
        told = Text(
            "Those of {name} are being made: {percent} %.", {"name": image.name, "percent": f"{share:.0%}"[:-1]}
        )
        self.making.say(self.stage.words(told) if share < 1 else "")
        self._show()

    # What is chosen

    def _keep_at_most(self, megabytes: int) -> None:
        self._do(partial(keep_at_most, megabytes))

    def _use_memory(self, megabytes: int) -> None:
        self._do(partial(use_memory, megabytes))

    def _clear(self) -> None:
        gone = clear_kept()
        said = Text(
            "{amount} cleared. They are made again when an image is next opened.", {"amount": amount(gone / 1e6)}
        )
        left = Text("Those that are just being made stay.")
        self.said.say(self.stage.words(said if gone else left))
        self._show()

    def _choose(self) -> None:
        title = self.stage.say("Where are pictures to be kept?")
        chosen = choose_folder(self, title, str(kept_now().folder.parent), self.stage.say("New folder"))
        if chosen:
            self._keep_in(Path(chosen))

    def _keep_in(self, chosen: Path | None) -> None:
        self._do(lambda: self._moved(keep_in(chosen)))

    def _moved(self, gone: int) -> None:
        said = Text("Pictures are kept here from now on.")
        also = Text(
            "Pictures are kept here from now on; {amount} in the old folder were cleared.",
            {"amount": amount(gone / 1e6)},
        )
        self.said.say(self.stage.words(also if gone else said))

    def _do(self, deed: Callable[[], None]) -> None:
        """Do what was chosen, and say what stands against it."""
        self.said.say("")
        try:
            deed()
        except PigmapError as why:
            self.said.say(self.stage.words(sentence(why)))
        self.stage.kept_changed.emit()
        self._show()


def _breakable(folder: Path) -> str:
    """Return a path that may go on in the next line after each of its folders."""
    return str(folder).replace(os.sep, f"{os.sep}\u200b")


def amount(megabytes: float) -> str:
    """Return an amount of memory or disk for people.

    Examples
    --------
    >>> amount(0.2), amount(256), amount(1024), amount(4000), amount(2500)
    ('1 MB', '256 MB', '1 GB', '4 GB', '2.5 GB')
    """
    if megabytes < 1000:
        return f"{max(round(megabytes), 1)} MB"
    whole = megabytes / (1024 if megabytes % 1024 == 0 else 1000)
    return f"{whole:.1f}".removesuffix(".0") + " GB"


class _Panel:
    name = "kept-pictures"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return KeptPictures(stage, parent)


panel = _Panel()
