"""Write a report of several sheets into one file, as many as it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from pigmap.drawing.output import PagedOutput, TileReader
from pigmap.drawing.page import FieldState, Report, SheetRequest
from pigmap.records import Farm


def write_sheets(
    report: Report,
    output: PagedOutput,
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
    report, output
        What draws the sheets, and what writes them.
    farm
        What it is about.
    path
        The file; its ending is the output's.
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
    count = getattr(report, "sheets", None)
    sheets = int(count(farm, request)) if count is not None else 1
    pages = [report.make(farm, states or {}, replace(request, sheets=sheets, sheet=at + 1)) for at in range(sheets)]
    output.write_all(pages, path, images=images)
