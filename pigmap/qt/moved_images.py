"""A moved image is found again: a person shows where its file is now, and the farm's link follows."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from pigmap.document.edits import amend
from pigmap.errors import PigmapError
from pigmap.imagery.where import is_there
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.records import Image
from pigmap.session.images import image_link, image_path
from pigmap.text import Text

DEED = "find image"
"""Name of the message's deed."""


def moved_image(stage: Stage) -> Image | None:
    """Return the first image whose file is not where the farm looks for it."""
    images = sorted(stage.session.farm.images.values(), key=lambda image: image.position)
    return next((image for image in images if not is_there(image_path(stage.session.path, image))), None)


def ask_where(stage: Stage, parent: QWidget) -> None:
    """Let a person show where a moved image is, and link it there."""
    image = moved_image(stage)
    if image is None:
        return
    title = stage.say("Where is {name}?", name=image.name)
    kinds = stage.say("Images (*.tif *.tiff *.vrt *.jp2 *.png *.jpg *.jpeg);;All files (*)")
    chosen, _ = QFileDialog.getOpenFileName(parent, title, str(stage.session.path.resolve().parent), kinds)
    if chosen:
        link_there(stage, image, Path(chosen))


def link_there(stage: Stage, image: Image, path: Path) -> None:
    """Link an image to another file, unless that is none that can lie under the map."""
    from pigmap.imagery.vet import vet, vet_unplaced  # only once a person has chosen: it loads the image reader

    try:
        (vet_unplaced if image.pins else vet)(path)
    except PigmapError as why:
        stage.notice(sentence(why), "refused", DEED)
        return
    link = image_link(stage.session.path, path)
    done = Text("{name} is shown from {file}.", {"name": image.name, "file": path.name})
    tell(stage, stage.session.do(amend("images", image.uid, link=link)), done)
