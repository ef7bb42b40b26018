"""Make the bundled fonts from the files of the npm package @fontsource/atkinson-hyperlegible-next, version 5.3.0.

Run once, by hand, in an environment of its own with fonttools and brotli; the program itself needs neither::

    python make_fonts.py FOLDER_OF_THE_UNPACKED_PACKAGE

Two things change: latin and latin-ext become one file a weight, and zero loses its slash. `widths.json` holds the
advance of each letter, so that pages can be laid out without a window system.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

from fontTools.merge import Merger
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent
NAMES = {400: "Regular", 500: "Medium", 600: "SemiBold", 700: "Bold"}


def merged(package: Path, weight: int) -> TTFont:
    """Return latin and latin-ext of one weight as one font."""
    first, second = (
        TTFont(package / "files" / f"atkinson-hyperlegible-next-{part}-{weight}-normal.woff2")
        for part in ("latin", "latin-ext")
    )
    options = Options(glyph_names=True, layout_features=["*"], notdef_outline=True)
    only_there = Subsetter(options)
    only_there.populate(unicodes=set(second.getBestCmap()) - set(first.getBestCmap()))
    only_there.subset(second)
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for number, font in enumerate((first, second)):
            font.flavor = None
            for table in ("STAT", "prep", "gasp"):
                if table in font:
                    del font[table]
            paths.append(str(Path(folder) / f"{number}.ttf"))
            font.save(paths[-1])
        return Merger().merge(paths)


def stems(font: TTFont) -> tuple[float, float]:
    """Return the breadths of the upright and the level stem of the letter O."""
    rings = outlines(font, "O")
    (left, bottom), (inner_left, inner_bottom) = (
        (min(x for x, _ in ring), min(y for _, y in ring)) for ring in sorted(rings, key=min)
    )
    return inner_left - left, inner_bottom - bottom


def outlines(font: TTFont, glyph: str) -> list[list[tuple[float, float]]]:
    """Return the points of each outline of a glyph."""
    points, ends, _ = font["glyf"][glyph].getCoordinates(font["glyf"])
    starts = [0, *(end + 1 for end in ends)]
    return [list(points[start : end + 1]) for start, end in zip(starts, ends, strict=False)]


def plain_zero(font: TTFont) -> None:
    """Replace the two inner outlines of zero by one: its outer outline less the stems of O."""
    upright, level = stems(font)
    recorded = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()["zero"].draw(recorded)
    outer = []
    for operator, points in recorded.value:
        outer.append((operator, points))
        if operator == "closePath":
            break
    corners = [point for _, points in outer for point in points]
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    bottom, top = min(y for _, y in corners), max(y for _, y in corners)
    middle = ((left + right) / 2, (bottom + top) / 2)
    shrunk = (1 - 2 * upright / (right - left), 1 - 2 * level / (top - bottom))

    def inner(point: tuple[float, float]) -> tuple[float, float]:
        # Mirrored left to right as well: an inner outline runs the other way round.
        return (
            round(middle[0] - (point[0] - middle[0]) * shrunk[0]),
            round(middle[1] + (point[1] - middle[1]) * shrunk[1]),
        )

    pen = TTGlyphPen(font.getGlyphSet())
    for turn in (lambda point: point, inner):
        for operator, points in outer:
            getattr(pen, operator)(*(turn(point) for point in points))
    kept = font["hmtx"]["zero"]
    font["glyf"]["zero"] = pen.glyph()
    font["hmtx"]["zero"] = kept


def widths(font: TTFont) -> dict[str, int]:
    """Return the advance of each letter in thousandths of an em."""
    per_em = font["head"].unitsPerEm
    return {
        chr(code): round(font["hmtx"][glyph][0] * 1000 / per_em) for code, glyph in sorted(font.getBestCmap().items())
    }


def main(package: Path) -> None:
    """Write the four weights and their widths beside this file."""
    table = {}
    for weight, name in NAMES.items():
        font = merged(package, weight)
        plain_zero(font)
        font.save(HERE / f"AtkinsonHyperlegibleNext-{name}.ttf")
        table[str(weight)] = widths(font)
    (HERE / "widths.json").write_text(json.dumps(table, ensure_ascii=False, separators=(",", ":")), encoding="utf-8")
    (HERE / "LICENSE.txt").write_text((package / "LICENSE").read_text(encoding="utf-8"), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
