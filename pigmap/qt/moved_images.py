"""A moved image is found again: a person shows where its file is now, and the farm's link follows."""

from __future__ import annotations

from pathlib import Path
from weakref import WeakKeyDictionary

from PySide6.QtWidgets import QFileDialog, QWidget

from pigmap.errors import PigmapError
from pigmap.imagery.where import is_there
from pigmap.qt.following import sentence, tell
from pigmap.qt.jobs import Job, Jobs, Progress, Stop
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
    kinds = stage.say("Images (*.tif *.tiff *.vrt *.jp2 *.png *.jpg *.jpeg *.zip);;All files (*)")
    chosen, _ = QFileDialog.getOpenFileName(parent, title, str(stage.session.path.resolve().parent), kinds)
    if chosen:
        link_there(stage, image, Path(chosen))


def link_there(stage: Stage, image: Image, path: Path) -> Job:
    """Link an image to another file, unless that is none that can lie under the map; a worker looks at it."""

    def look(_: Progress, __: Stop) -> Path:
        from pigmap.imagery.vet import vet, vet_unplaced  # only once a person has chosen: it loads the image reader

        return (vet_unplaced if image.pins else vet)(path).path

    def link(found: object) -> None:
        from pigmap.document.edits import amend  # on use: the first frame needs no edits

        if isinstance(found, Path):
            done = Text("{name} is shown from {file}.", {"name": image.name, "file": path.name})
            edit = amend("images", image.uid, link=image_link(stage.session.path, found))
            tell(stage, stage.session.do(edit), done)

    def refuse(why: object) -> None:
        if isinstance(why, PigmapError):
            stage.notice(sentence(why), "refused", DEED)

    job = _jobs_of(stage).run(look)
    job.done.connect(link)
    job.failed.connect(refuse)
    return job


_OF_STAGE: WeakKeyDictionary[Stage, Jobs] = WeakKeyDictionary()


def _jobs_of(stage: Stage) -> Jobs:
    if stage not in _OF_STAGE:
        _OF_STAGE[stage] = Jobs(stage)
    return _OF_STAGE[stage]


def close_down(stage: Stage) -> None:
    """Wait for a file that is being looked at."""
    jobs = _OF_STAGE.pop(stage, None)
    if jobs is not None:
        jobs.close()
