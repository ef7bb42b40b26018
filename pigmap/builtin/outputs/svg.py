"""Pages as SVG: all letters as shapes, so that they look the same without the font."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtSvg import QSvgGenerator

from pigmap.builtin.outputs.whole_file import not_started, whole_file
from pigmap.builtin.outputs.without_window import be_ready
from pigmap.drawing.output import TileReader
from pigmap.drawing.page import Page
from pigmap.qt.painter_page import paint_page

PER_MM = 100
"""Units of the file in a millimetre: sizes of a page are whole ones."""


class SvgOutput:
    """Writes one page to an SVG file."""

    suffix = "svg"

    def write(self, page: Page, path: Path, *, images: TileReader) -> None:
        """Write the page at its exact size."""
        be_ready()
        with whole_file(path) as beside:
            made = QSvgGenerator(QSvgGenerator.SvgVersion.Svg11)
            made.setFileName(str(beside))
            wide, high = round(page.width_mm * PER_MM), round(page.height_mm * PER_MM)
            made.setResolution(round(PER_MM * 25.4))
            made.setSize(QSize(wide, high))
            made.setViewBox(QRectF(0, 0, wide, high))
            made.setTitle(page.title)
            made.setDescription("Printed field map")
            painter = QPainter()
            if not painter.begin(made):
                raise not_started(path)
            with painter:
                painter.scale(PER_MM, PER_MM)
                paint_page(page, painter, images=images)


output = SvgOutput()
