from __future__ import annotations

import re
import shutil
import subprocess
import zlib
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from PySide6.QtGui import QColor, QImage, qGray
from PySide6.QtSvg import QSvgRenderer

from pigmap.builtin.outputs.pdf import output as pdf
from pigmap.builtin.outputs.png import output as png
from pigmap.builtin.outputs.svg import output as svg
from pigmap.builtin.reports.field_map import report
from pigmap.drawing.layer import Size, Stroke
from pigmap.drawing.nets import lines
from pigmap.drawing.output import Output
from pigmap.drawing.page import Box, MapFrame, Page, SheetRequest, Words
from pigmap.drawing.view import View
from pigmap.errors import SheetError
from pigmap.records import Farm, Image
from tests.drawing.small_farm import PER_GRID, TODAY, RestAndRooting, SmallState, photo, small_farm

pytestmark = pytest.mark.usefixtures("qapp")


def _farm() -> Farm:
    image = Image(uid="img", name="aerial", link="a.tif")
    return replace(small_farm(), images=MappingProxyType({"img": image}))


def _page(farm: Farm | None = None) -> Page:
    request = SheetRequest(
        day=TODAY, field_uid="long", printed_at=datetime(2025, 10, 14, 7, 41), today=TODAY, tint=RestAndRooting()
    )
    return report.make(farm or _farm(), {"long": SmallState()}, request)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory, qapp: object) -> Path:
    folder = tmp_path_factory.mktemp("sheets")
    for output in (pdf, svg, png):
        output.write(_page(), folder / f"sheet.{output.suffix}", images=photo)
    return folder


def _streams(path: Path) -> Iterator[str]:
    for packed in re.findall(rb"stream\r?\n(.*?)endstream", path.read_bytes(), re.DOTALL):
        try:
            yield zlib.decompress(packed).decode("latin-1")
        except zlib.error:
            continue


def test_two_hundred_metres_of_ground_at_one_to_a_thousand_are_two_hundred_millimetres(tmp_path: Path) -> None:
    """The length is read from the file itself, through all its matrices."""
    ground_m = 200.0
    line = shapely.LineString([(1000.0, 2000.0), (1000.0 + ground_m / PER_GRID, 2000.0)])
    view = View(1100.0, 2000.0, 1.0 / PER_GRID, 260.0, 150.0, paper=True)
    layer = lines([line], Stroke("#FF0000", Size(1, 0.2)))
    page = Page(297.0, 210.0, (MapFrame(18.0, 30.0, view, (layer,)),))
    pdf.write(page, tmp_path / "line.pdf", images=photo)
    lengths = _coordinates_mm(tmp_path / "line.pdf")
    drawn = min(lengths, key=lambda length: abs(length - 200.0))  # the others are the edges of the frame
    assert drawn == pytest.approx(200.0, rel=0.0005)


def _coordinates_mm(path: Path) -> list[float]:
    """Return the length of every straight line of a PDF page in millimetres, through all its matrices."""
    found = []
    for stream in _streams(path):
        stack: list[np.ndarray] = []
        now, at = np.eye(3), np.zeros(2)
        numbers: list[float] = []
        for token in stream.split():
            if re.fullmatch(r"-?\d*\.?\d+", token):
                numbers.append(float(token))
                continue
            if token == "q":
                stack.append(now)
            elif token == "Q" and stack:
                now = stack.pop()
            elif token == "cm" and len(numbers) >= 6:
                a, b, c, d, e, f = numbers[-6:]
                now = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ now
            elif token in ("m", "l") and len(numbers) >= 2:
                spot = (np.array([*numbers[-2:], 1.0]) @ now)[:2] * 25.4 / 72
                if token == "l":
                    found.append(float(np.hypot(*(spot - at))))
                at = spot
            numbers = []
    return found


def test_the_pdf_has_the_size_of_the_paper_to_a_point(written: Path) -> None:
    box = re.search(rb"/MediaBox \[([\d. ]+)\]", (written / "sheet.pdf").read_bytes())
    assert box is not None
    size = [float(number) for number in box.group(1).split()][2:]
    assert size == pytest.approx([297 / 25.4 * 72, 210 / 25.4 * 72], abs=0.6)


@pytest.mark.skipif(shutil.which("pdffonts") is None, reason="poppler is not installed")
def test_every_font_of_the_pdf_is_inside_it(written: Path) -> None:
    listed = subprocess.run(["pdffonts", written / "sheet.pdf"], capture_output=True, text=True, check=True).stdout
    fonts = listed.splitlines()[2:]
    assert len(fonts) >= 3
    for line in fonts:
        assert "AtkinsonHyperlegibleNext" in line
        assert line.split()[-5] == "yes", line


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_words_of_the_pdf_can_be_read_and_searched(written: Path) -> None:
    words = subprocess.run(["pdftotext", written / "sheet.pdf", "-"], capture_output=True, text=True, check=True).stdout
    for wanted in ("Long Field", "Tuesday 14 October 2025", "Scale 1:", "Take care", "512 346.3"):
        assert wanted in words


def test_the_photo_in_the_pdf_is_one_jpeg_and_the_cells_are_not(written: Path) -> None:
    assert (written / "sheet.pdf").read_bytes().count(b"DCTDecode") == 1
    assert (written / "sheet.pdf").stat().st_size < 3_000_000


def test_the_svg_has_no_letters_that_need_a_font(written: Path) -> None:
    text = (written / "sheet.svg").read_text(encoding="utf-8")
    assert "<text" not in text
    assert 'width="297mm"' in text
    assert QSvgRenderer(str(written / "sheet.svg")).isValid()


def test_the_png_has_three_hundred_pixels_to_the_inch(written: Path) -> None:
    image = QImage(str(written / "sheet.png"))
    assert (image.width(), image.height()) == (3508, 2480)
    assert image.dotsPerMeterX() == pytest.approx(300 / 0.0254, abs=1)


def test_in_grey_the_steps_of_rest_stay_apart() -> None:
    """A black and white printer must tell neighbouring steps: at least 6 % of white between their greys."""
    greys = [qGray(QColor(key.colour).rgb()) for key in RestAndRooting().key()]
    assert min(np.diff(greys)) >= 0.06 * 255


@pytest.mark.parametrize("output", [pdf, svg, png], ids=lambda output: output.suffix)
def test_a_missing_folder_is_said_in_words_and_nothing_is_left(output: Output, tmp_path: Path) -> None:
    with pytest.raises(SheetError) as refused:
        output.write(_page(small_farm()), tmp_path / "none" / f"a.{output.suffix}", images=photo)
    said = f"a.{output.suffix} cannot be written: the folder {tmp_path / 'none'} is not there."
    assert str(refused.value.message) == said
    assert str(refused.value.remedy) == "Make the folder, or name another place."
    assert not list(tmp_path.rglob("*"))


def test_a_place_that_takes_no_file_is_said_in_words(tmp_path: Path) -> None:
    taken = tmp_path / "sheet.png"
    taken.mkdir()
    (taken / "in the way").touch()
    with pytest.raises(SheetError) as refused:
        png.write(_page(small_farm()), taken, images=photo)
    assert str(refused.value.message).startswith(f"sheet.png cannot be written to {tmp_path}: ")
    assert str(refused.value.remedy) == "Close it in other programs, or name another place."
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet.png"]


def test_an_unreadable_photo_leaves_a_sheet_without_it(tmp_path: Path) -> None:
    png.write(_page(), tmp_path / "a.png", images=lambda uid, bounds, size: None)
    assert not QImage(str(tmp_path / "a.png")).isNull()


def test_boxes_and_words_are_painted_in_millimetres(tmp_path: Path) -> None:
    page = Page(100.0, 50.0, (Box(10, 10, 20, 20, fill="#FF0000"), Words(50, 25, "Pond", 5.0)))
    png.write(page, tmp_path / "a.png", images=photo)
    image = QImage(str(tmp_path / "a.png"))
    assert image.pixelColor(round(20 * 300 / 25.4), round(20 * 300 / 25.4)).name() == "#ff0000"
    assert image.pixelColor(round(31 * 300 / 25.4), round(20 * 300 / 25.4)).name() == "#ffffff"
