"""Write a report of several sheets into one file, as many as it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from pigmap.drawing.output import PagedOutput, TileReader
from pigmap.drawing.page import FieldState, Report, SheetRequest
from pigmap.plugins import Registry
from pigmap.records import Farm

CARDS = "move-cards"
OUTPUT = "pdf"


def write_sheets(
    registry: Registry,
    name: str,
    farm: Farm,
    path: Path,
    request: SheetRequest,
    *,
    images: TileReader,
    states: Mapping[str, FieldState] | None = None,
) -> None:
    """Write a report.

    Parameters
    ----------
    registry
        Where reports and outputs are found.
    name
        Which report: `CARDS` are the move cards of a day.
    farm
        What it is about.
    path
        A file that ends in .pdf.
    request
        The day and the paper.
    images
        Reader of the farm's images.
    states
        The ground of each field, where the report shows it.

    Raises
    ------
    SheetError
        If there is nothing to print on that day, or the file cannot be written.
    """
    output: PagedOutput = registry.load("outputs", OUTPUT)
    report: Report = registry.load("reports", name)
    count = getattr(report, "sheets", None)
    sheets = int(count(farm, request)) if count is not None else 1
    pages = [report.make(farm, states or {}, replace(request, sheets=sheets, sheet=at + 1)) for at in range(sheets)]
    output.write_all(pages, path, images=images)
