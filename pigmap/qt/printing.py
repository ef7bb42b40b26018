"""Print the field map and the move cards from the window: pages are made and written off the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from itertools import count
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QWidget

from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs, Progress, Stop
from pigmap.qt.opened_file import DEED
from pigmap.qt.stage import Stage
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.drawing.page import SheetRequest

AGAIN_S = 6.0
"""A letter that is pressed twice is pressed again within so long: as long as a message stays [s]."""
NEVER = -1e9
REPORT, CARDS, OUTPUT = "field-map", "move-cards", "pdf"


class Printing:
    """Writes sheets beside the farm file and says where."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        self.stage = stage
        self._jobs = Jobs(parent)
        self._letter_at = NEVER

    def print_at_second_letter(self) -> None:
        """Print the field map when its letter is pressed twice: one alone may be meant for a line of text."""
        if monotonic() - self._letter_at < AGAIN_S:
            self._letter_at = NEVER
            self.print_sheet()
            return
        self._letter_at = monotonic()
        words = Text("S once more prints the field map of {name}.", {"name": self._name(field_of_picked(self.stage))})
        self.stage.notice(words)

    def _name(self, field_uid: str) -> str:
        farm = self.stage.session.farm
        return farm.fields[field_uid].name if field_uid else (farm.name or self.stage.session.path.stem)

    def print_sheet(self) -> None:
        """Print the field of what is picked, or the whole farm, on the day that is shown."""
        self.print_field(field_of_picked(self.stage))

    def print_field(self, field_uid: str) -> None:
        """Print a field, or with an empty uid the whole farm, on the day that is shown."""
        stage = self.stage
        name = self._name(field_uid)
        path = stage.session.path.resolve().with_name(f"{file_name(name)} {stage.day.isoformat()}.pdf")
        path = free_path(path)
        stage.notice(Text("Making the sheet of {name}.", {"name": name}), "care")
        request = self._request()
        job = self._jobs.run(lambda progress, stop: self._write(path, field_uid, request))
        job.done.connect(self._say_where)
        job.failed.connect(self._say_why)

    def print_cards(self) -> None:
        """Print the move cards of the day that is shown."""
        stage = self.stage
        path = stage.session.path.resolve()
        named = stage.say("{farm} moves", farm=stage.session.farm.name or path.stem)
        self.print_report(f"{file_name(named)} {stage.day.isoformat()}", CARDS)

    def print_report(self, name: str, report_name: str, of: Callable[[Any], Any] = lambda report: report) -> None:
        """Print the sheets of a report beside the farm file.

        Parameters
        ----------
        name
            Of the file, without its ending.
        report_name
            The name under which the report is contributed.
        of
            Makes the report that is wanted from the one that is contributed.
        """
        stage = self.stage
        path = free_path(stage.session.path.resolve().with_name(f"{file_name(name)}.pdf"))
        request = self._request()

        def work(progress: Progress, stop: Stop) -> Path:
            from pigmap.drawing.printed import write_sheets  # pages are loaded once something is printed
            from pigmap.session.images import FarmImages

            session, images = stage.session, FarmImages(stage.session)
            try:
                report, output = session.registry.load("reports", report_name), session.registry.load("outputs", OUTPUT)
                write_sheets(of(report), output, session.farm, path, request, images=images.read)
            finally:
                images.close()
            return path

        job = self._jobs.run(work)
        job.done.connect(self._say_where)
        job.failed.connect(self._say_why)

    def _request(self) -> SheetRequest:
        from pigmap.drawing.page import SheetRequest
        from pigmap.session.known_slopes import known_slopes

        stage = self.stage
        return SheetRequest(
            day=stage.day,
            printed_at=datetime.now(),  # the farm's local time, as a person reads it
            today=stage.today,
            system=stage.units,
            language=stage.language,
            slopes=known_slopes(stage.session),
        )

    def _write(self, path: Path, field_uid: str, request: SheetRequest) -> Path:
        from pigmap.drawing.tint import asks_for
        from pigmap.session.images import FarmImages  # pages and images are loaded once something is printed
        from pigmap.session.printed_ground import printed_states

        stage = self.stage
        session = stage.session
        farm = session.farm
        tint = session.registry.load("tints", stage.tint)
        request = replace(request, field_uid=field_uid or None, tint=tint)
        asks = asks_for(tint)
        states = printed_states(session, [field_uid] if field_uid else farm.fields, stage.day, stage.today, asks)
        page = session.registry.load("reports", REPORT).make(farm, states, request)
        images = FarmImages(session)
        try:
            session.registry.load("outputs", OUTPUT).write(page, path, images=images.read)
        finally:
            images.close()
        return path

    def _say_where(self, path: object) -> None:
        if isinstance(path, Path):
            words = Text("{file} is saved, in {folder}.", {"file": path.name, "folder": str(path.parent)})
            self.stage.notice(words, "done", DEED, path)

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


def free_path(path: Path) -> Path:
    """Return a path that no file has: what was saved before, and may be written on, stays as it is."""
    if not path.exists():
        return path
    return next(
        each
        for each in (path.with_name(f"{path.stem} ({number}){path.suffix}") for number in count(2))
        if not each.exists()
    )


def file_name(name: str) -> str:
    """Return a name that every file system takes.

    Examples
    --------
    >>> file_name("Long Field / north")
    'Long Field - north'
    """
    kept = "".join(letter if letter.isalnum() or letter in " -_.()" else "-" for letter in name)
    return kept.strip(" .") or "field map"
