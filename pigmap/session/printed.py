"""Write the move cards of a day into a file, as many sheets as they take."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from pigmap.drawing.output import PagedOutput
from pigmap.drawing.page import Report, SheetRequest
from pigmap.session.images import FarmImages
from pigmap.session.session import Session

CARDS, OUTPUT = "move-cards", "pdf"


def write_move_cards(session: Session, path: Path, request: SheetRequest) -> None:
    """Write the cards of the moves of a day.

    Parameters
    ----------
    session
        Whose farm, and whose parts draw and write them.
    path
        A file that ends in .pdf.
    request
        The day and the paper.

    Raises
    ------
    SheetError
        If no group moves on that day, or the file cannot be written.
    """
    output: PagedOutput = session.registry.load("outputs", OUTPUT)
    report: Report = session.registry.load("reports", CARDS)
    count = getattr(report, "sheets", None)
    sheets = int(count(session.farm, request)) if count is not None else 1
    pages = [report.make(session.farm, {}, replace(request, sheets=sheets, sheet=at + 1)) for at in range(sheets)]
    images = FarmImages(session)
    try:
        output.write_all(pages, path, images=images.read)
    finally:
        images.close()
