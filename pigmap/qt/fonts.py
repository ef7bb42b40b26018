"""The bundled font: the same letters in the window, in pictures and on paper."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFont, QFontDatabase

from pigmap.paths import resource

FAMILY = "Atkinson Hyperlegible Next"
_FILES = ("Regular", "Medium", "SemiBold", "Bold")
_TABULAR = QFont.Tag("tnum")


def load_fonts() -> None:
    """Make the bundled font known to Qt; needs a running application.

    Raises
    ------
    FileNotFoundError
        If the font's files are missing or cannot be read: the installation is incomplete.
    """
    if FAMILY in QFontDatabase.families():
        return
    for name in _FILES:
        path = resource("fonts", f"AtkinsonHyperlegibleNext-{name}.ttf")
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise FileNotFoundError(f"{path} is not a font that Qt can read")


@cache
def _font(pixels: int, weight: int, tabular: bool) -> QFont:
    made = QFont(FAMILY)
    made.setPixelSize(pixels)
    made.setWeight(QFont.Weight(weight))
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    if tabular:
        made.setFeature(_TABULAR, 1)
    return made


def font(pixels: float, weight: int = 400, *, tabular: bool = False) -> QFont:
    """Return the bundled font; `load_fonts` must have run.

    Parameters
    ----------
    pixels
        Height of the type (its em) in pixels at scale 1.
    weight
        400, 500, 600 or 700.
    tabular
        Whether all figures have one breadth, for columns.
    """
    return QFont(_font(max(1, round(pixels)), weight, tabular))
