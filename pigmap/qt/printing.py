"""Print the field map from the window: the page is made and written off the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QWidget

from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.text import Text

REPORT, OUTPUT = "field-map", "pdf"


class Printing:
    """Writes sheets beside the farm file and says where."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        self.stage = stage
        self._jobs = Jobs(parent)

    def print_sheet(self) -> None:
        """Print the field of what is picked, or the whole farm, on the day that is shown."""
        stage = self.stage
        farm, day = stage.session.farm, stage.day
        field_uid = field_of_picked(stage)
        name = farm.fields[field_uid].name if field_uid else (farm.name or stage.session.path.stem)
        path = stage.session.path.resolve().with_name(f"{file_name(name)} {day.isoformat()}.pdf")
        stage.notice(Text("Printing {name}.", {"name": name}), "care")
        job = self._jobs.run(lambda progress, stop: self._write(path, field_uid))
        job.done.connect(self._say_where)
        job.failed.connect(self._say_why)

    def _write(self, path: Path, field_uid: str) -> Path:
        from pigmap.drawing.page import SheetRequest  # pages and images are loaded once something is printed
        from pigmap.session.images import FarmImages

        stage = self.stage
        session = stage.session
        farm = session.farm
        request = SheetRequest(
            day=stage.day,
            field_uid=field_uid or None,
            printed_at=datetime.now(),  # the farm's local time, as a person reads it
            today=stage.today,
            system=stage.units,
            language=stage.language,
            tint=session.registry.load("tints", stage.tint),
        )
        states = {uid: session.ground.state(uid, stage.day, stage.today) for uid in farm.fields}
        page = session.registry.load("reports", REPORT).make(
            farm, {uid: state for uid, state in states.items() if state is not None}, request
        )
        images = FarmImages(session)
        try:
            session.registry.load("outputs", OUTPUT).write(page, path, images=images.read)
        finally:
            images.close()
        return path

    def _say_where(self, path: object) -> None:
        if isinstance(path, Path):
            self.stage.notice(Text("{file} is printed, in {folder}.", {"file": path.name, "folder": str(path.parent)}))

    def _say_why(self, error: object) -> None:
        if isinstance(error, PigmapError):
            self.stage.notice(sentence(error), "refused")

    def close(self) -> None:
        """Wait for what is being printed."""
        self._jobs.close()


def field_of_picked(stage: Stage) -> str:
    """Return the uid of the field that the picked thing lies in; the farm's only one, else empty."""
    farm, picked = stage.session.farm, stage.picked
    finders: dict[str, Callable[[Any], str | None]] = {
        "fields": lambda row: str(row.uid),
        "paddocks": lambda row: row.field_uid,
        "keep_outs": lambda row: row.field_uid,
        "stays": lambda row: getattr(farm.paddocks.get(row.paddock_uid), "field_uid", None),
    }
    if picked is not None and picked.table in finders:
        row = farm.rows(picked.table).get(picked.uid)
        found = finders[picked.table](row) if row is not None else None
        if found in farm.fields:
            return str(found)
    return next(iter(farm.fields)) if len(farm.fields) == 1 else ""


def file_name(name: str) -> str:
    """Return a name that every file system takes.

    Examples
    --------
    >>> file_name("Long Field / north")
    'Long Field - north'
    """
    kept = "".join(letter if letter.isalnum() or letter in " -_.()" else "-" for letter in name)
    return kept.strip(" .") or "field map"
