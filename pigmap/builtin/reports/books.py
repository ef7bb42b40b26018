"""A page of the farm's books on paper, lying: a table with as many sheets as it takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import NamedTuple

from pigmap.drawing.cell_words import cell_words
from pigmap.drawing.letters import shortened, wrapped
from pigmap.drawing.page import PAPERS, FieldState, Item, Page, Rule, SheetRequest, Words
from pigmap.drawing.words import day_words, render
from pigmap.planning.farm_books import COLUMNS, TITLES, BookLine, BookPage, book_lines
from pigmap.planning.names import group_called
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.text import Text

LOCAL_RULES = Text(
    "What has to be written down, and for how long it is kept, is ruled where you are: local rules come first."
)
_MARGIN_MM, _TOP_MM, _FOOT_MM = 12.0, 33.0, 14.0
_SIZE, _LINE_MM, _GAP_MM = 2.7, 3.4, 1.6
_MOST_LINES = 4
_QUIET, _LIGHT = "#4A544F", "#C3C9C5"


class _Row(NamedTuple):
    """One line of the book, each cell wrapped."""

    cells: tuple[tuple[str, ...], ...]

    @property
    def high(self) -> float:
        return max((len(cell) for cell in self.cells), default=1) * _LINE_MM + _GAP_MM


@dataclass(frozen=True, slots=True)
class BookReport:
    """Makes the sheets of one page of the books, of one group and one year where that is asked for."""

    name: str = "books"
    page: BookPage = BookPage.MEDICINE
    group_uid: str | None = None
    year: int | None = None

    def of(self, page: BookPage, *, group_uid: str | None = None, year: int | None = None) -> BookReport:
        """Return what makes the sheets of a page."""
        return replace(self, page=page, group_uid=group_uid, year=year)

    def sheets(self, farm: Farm, request: SheetRequest) -> int:
        """Return on how many sheets the page goes."""
        return len(self._sheets(farm, request))

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return one sheet; which one is asked for by `request.sheet`."""
        high, wide = PAPERS[request.paper]
        sheets = self._sheets(farm, request)
        rows = sheets[min(max(request.sheet, 1), len(sheets)) - 1]
        items = [*self._head(farm, request, wide), *self._table(rows, request, wide), *_foot(request, wide, high)]
        return Page(wide, high, tuple(items), title=_say(request, TITLES[self.page]))

    def _lines(self, farm: Farm) -> Sequence[BookLine]:
        return book_lines(farm, self.page, group_uid=self.group_uid, year=self.year)

    def _columns(self, wide: float) -> list[tuple[float, float]]:
        """Return where each column begins and how broad it is [mm]."""
        shares = [column.wide for column in COLUMNS[self.page]]
        each = (wide - 2 * _MARGIN_MM) / sum(shares)
        return [(_MARGIN_MM + each * sum(shares[:at]), each * share) for at, share in enumerate(shares)]

    def _sheets(self, farm: Farm, request: SheetRequest) -> list[list[_Row]]:
        high, wide = PAPERS[request.paper]
        room = high - _TOP_MM - _FOOT_MM - 6.0
        sheets: list[list[_Row]] = [[]]
        used = 0.0
        for line in self._lines(farm):
            row = self._row(line, request, wide)
            if used + row.high > room and sheets[-1]:
                sheets.append([])
                used = 0.0
            sheets[-1].append(row)
            used += row.high
        return sheets

    def _row(self, line: BookLine, request: SheetRequest, wide: float) -> _Row:
        cells = []
        for (_, breadth), column, cell in zip(self._columns(wide), COLUMNS[self.page], line.cells, strict=True):
            words = cell_words(cell, column.unit, language=request.language, system=request.system)
            lines = wrapped(words, breadth - 2.0, _SIZE) if words else []
            cells.append(tuple(shortened(each, breadth - 1.5, _SIZE) for each in lines[:_MOST_LINES]))
        return _Row(tuple(cells))

    def _head(self, farm: Farm, request: SheetRequest, wide: float) -> Iterator[Item]:
        say = partial(_say, request)
        right = wide - _MARGIN_MM
        yield Words(_MARGIN_MM, 17.0, say(TITLES[self.page]), 6.0, 700)
        yield Words(right, 14.0, farm.name, 3.8, 700, align="right")
        day = day_words(request.printed_at.date(), "full", language=request.language)
        yield Words(right, 19.0, say(Text("printed {day}", {"day": day})), 2.9, colour=_QUIET, align="right")
        yield Words(_MARGIN_MM, 23.0, self._which(farm, request), 3.2, colour=_QUIET)

    def _which(self, farm: Farm, request: SheetRequest) -> str:
        whose = Text("all groups")
        if self.group_uid is not None:
            whose = Text("{group}", {"group": group_called(farm, self.group_uid)})
        when = Text("all years") if self.year is None else Text("{year}", {"year": str(self.year)})
        lines = Text("1 line", plural="{count} lines", count=len(self._lines(farm)))
        return _say(request, Text("{whose}, {when}: {lines}", {"whose": whose, "when": when, "lines": lines}))

    def _table(self, rows: Sequence[_Row], request: SheetRequest, wide: float) -> Iterator[Item]:
        places = self._columns(wide)
        for (x, breadth), column in zip(places, COLUMNS[self.page], strict=True):
            heading = shortened(_say(request, column.heading), breadth - 1.0, _SIZE, 700)
            yield Words(x, _TOP_MM - 1.6, heading, _SIZE, 700)
        yield Rule(_MARGIN_MM, _TOP_MM, wide - _MARGIN_MM, _TOP_MM, 0.4)
        y = _TOP_MM
        for row in rows:
            for (x, _), cell in zip(places, row.cells, strict=True):
                for at, words in enumerate(cell):
                    yield Words(x, y + _GAP_MM / 2 + _LINE_MM * (at + 0.8), words, _SIZE)
            y += row.high
            yield Rule(_MARGIN_MM, y, wide - _MARGIN_MM, y, 0.12, _LIGHT)
        if not rows:
            yield Words(_MARGIN_MM, y + 6.0, _say(request, Text("Nothing is written down.")), 3.2, colour=_QUIET)


def _foot(request: SheetRequest, wide: float, high: float) -> Iterator[Item]:
    room = wide - 2 * _MARGIN_MM - 25.0
    yield Words(_MARGIN_MM, high - 8.0, shortened(_say(request, LOCAL_RULES), room, 2.6), 2.6, colour=_QUIET)
    if request.sheets > 1:
        words = Text("sheet {number} of {count}", {"number": request.sheet, "count": request.sheets})
        yield Words(wide - _MARGIN_MM, high - 8.0, _say(request, words), 2.6, colour=_QUIET, align="right")


def _say(request: SheetRequest, text: Text) -> str:
    return render(text, language=request.language, system=request.system)


report = BookReport()
