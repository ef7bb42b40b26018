"""Pages as PDF: shapes at 1200 to the inch, the photo under them, the font inside."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageSize, QPainter, QPdfWriter

from pigmap.builtin.outputs.whole_file import not_started, whole_file
from pigmap.builtin.outputs.without_window import be_ready
from pigmap.drawing.output import TileReader
from pigmap.drawing.page import Page
from pigmap.qt.painter_page import paint_page

PER_INCH = 1200
_MM_PER_INCH = 25.4


class PdfOutput:
    """Writes pages to a PDF file."""

    suffix = "pdf"

    def write(self, page: Page, path: Path, *, images: TileReader) -> None:
        """Write the page at its exact size."""
        self.write_all([page], path, images=images)

    def write_all(self, pages: Sequence[Page], path: Path, *, images: TileReader) -> None:
        """Write pages of one size, one after the other, at their exact size."""
        be_ready()
        page = pages[0]
        with whole_file(path) as beside:
            writer = QPdfWriter(str(beside))
            writer.setResolution(PER_INCH)
            writer.setTitle(page.title)
            writer.setCreator("pigmap")
            size = QSizeF(page.width_mm, page.height_mm)
            writer.setPageSize(QPageSize(size, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch))
            writer.setPageMargins(QMarginsF(0, 0, 0, 0))
            painter = QPainter()
            if not painter.begin(writer):
                raise not_started(path)
            with painter:
                # A device pixel is exactly 0.06 pt whatever the media box is rounded to: millimetres follow from the
                # resolution, never from the page's size.
                painter.scale(PER_INCH / _MM_PER_INCH, PER_INCH / _MM_PER_INCH)
                for number, each in enumerate(pages):
                    if number:
                        writer.newPage()
                    paint_page(each, painter, images=images)


output = PdfOutput()
