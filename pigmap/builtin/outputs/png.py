"""Pages as PNG pictures at 300 pixels to the inch."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray
from PySide6.QtGui import QImage, QImageWriter, QPainter

from pigmap.builtin.outputs.whole_file import not_started, whole_file
from pigmap.builtin.outputs.without_window import be_ready
from pigmap.drawing.output import TileReader
from pigmap.drawing.page import Page
from pigmap.qt.painter_page import paint_page

PER_MM = 300 / 25.4


class PngOutput:
    """Writes one page to a PNG picture."""

    suffix = "png"

    def write(self, page: Page, path: Path, *, images: TileReader) -> None:
        """Write the page at its exact size."""
        be_ready()
        with whole_file(path) as beside:
            image = QImage(round(page.width_mm * PER_MM), round(page.height_mm * PER_MM), QImage.Format.Format_RGB32)
            image.setDotsPerMeterX(round(PER_MM * 1000))
            image.setDotsPerMeterY(round(PER_MM * 1000))
            image.fill(0xFFFFFFFF)
            with QPainter(image) as painter:
                painter.scale(PER_MM, PER_MM)
                paint_page(page, painter, images=images)
            if not QImageWriter(str(beside), QByteArray(b"png")).write(image):
                raise not_started(path)


output = PngOutput()
