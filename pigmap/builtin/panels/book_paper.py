"""A page of the books on paper and as a list, and the cards for the pocket."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from PySide6.QtWidgets import QWidget

from pigmap.errors import PigmapError
from pigmap.planning.farm_books import TITLES, BookPage
from pigmap.qt.files import choose_new_file
from pigmap.qt.following import sentence
from pigmap.qt.printing import Printing
from pigmap.qt.stage import Stage
from pigmap.session.book_list import write_book
from pigmap.text import Text

REPORT, POCKET = "books", "pocket-cards"


class Asked(NamedTuple):
    """What of the books is shown."""

    page: BookPage
    group_uid: str | None
    year: int | None


class BookPaper:
    """Writes files beside the farm, or where someone says."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        self.stage = stage
        self._parent = parent
        self._printing = Printing(stage, parent)

    def close(self) -> None:
        """Wait for what is being printed."""
        self._printing.close()

    def _farm(self) -> str:
        return self.stage.session.farm.name or self.stage.session.path.stem

    def _named(self, asked: Asked) -> str:
        group = self.stage.session.farm.groups.get(asked.group_uid or "")
        title = self.stage.words(TITLES[asked.page])
        parts = (self._farm(), title, group.name if group is not None else "", str(asked.year or ""))
        return " ".join(part for part in parts if part)

    def print_page(self, asked: Asked) -> None:
        """Print a page."""
        page, group_uid, year = asked
        self._printing.print_report(
            self._named(asked), REPORT, lambda report: report.of(page, group_uid=group_uid, year=year)
        )

    def print_cards(self) -> None:
        """Print what to do when pigs are out and after a shock, for helpers and neighbours."""
        self._printing.print_report(self.stage.say("{farm} cards", farm=self._farm()), POCKET)

    def ask_where(self, asked: Asked) -> None:
        """Ask where the list goes, and write it."""
        stage, name = self.stage, f"{self._named(asked)}.csv"
        chosen = choose_new_file(self._parent, stage.say("Save as a list"), name, stage.say("Lists (*.csv)"))
        if chosen:
            self.save(asked, Path(chosen))

    def save(self, asked: Asked, path: Path) -> None:
        """Write a page as a list, or say why it cannot be."""
        path = path if path.suffix else path.with_suffix(".csv")
        try:
            farm = self.stage.session.farm
            count = write_book(farm, asked.page, path, group_uid=asked.group_uid, year=asked.year)
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")
            return
        one, many = "1 line is in the list {file}.", "{count} lines are in the list {file}."
        self.stage.notice(Text(one, {"file": path.name}, plural=many, count=count), file=path)
