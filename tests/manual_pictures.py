"""Make the pictures of the manual and of the README: ``python -m tests.manual_pictures``."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "resources" / "manual" / "pictures"
SAMPLE = ROOT / "sample_data"
README_PICTURE = SAMPLE / "window.png"
REMEDY = "Look at the program, then run: .venv/bin/python -m tests.manual_pictures"
DAY = date(2026, 11, 25)
"""The day of the sample farm."""
DENSITY = 2.0
QUALITY = 82
SHOWS = 24
"""A difference in one of red, green and blue that shows, beyond what the packing of the pictures does."""

if __name__ == "__main__":
    os.environ["QT_QPA_PLATFORM"] = "offscreen"

import numpy as np  # noqa: E402
from numpy.typing import NDArray  # noqa: E402
from PySide6.QtCore import QRect, Qt  # noqa: E402
from PySide6.QtGui import QImage  # noqa: E402
from PySide6.QtWidgets import QApplication, QWidget  # noqa: E402

from pigmap.plugins import Registry  # noqa: E402
from pigmap.qt.drawn import _render, _settle  # noqa: E402
from pigmap.qt.following import follow  # noqa: E402
from pigmap.qt.stage import Picked  # noqa: E402
from pigmap.qt.starting import application, stage_for, take_down  # noqa: E402
from pigmap.qt.window import Window  # noqa: E402
from pigmap.session import Session  # noqa: E402


class Shot(NamedTuple):
    """One picture: what is done first, and which part of the window is taken."""

    name: str
    before: Callable[[Window], None]
    box: Callable[[Window], QRect]


def _panel(name: str) -> Callable[[Window], QRect]:
    def box(window: Window) -> QRect:
        panel = window.panel(name)
        assert panel is not None
        assert not panel.isHidden(), name
        return QRect(panel.mapTo(window, panel.rect().topLeft()), panel.size())

    return box


def _map(wide: int, high: int) -> Callable[[Window], QRect]:
    def box(window: Window) -> QRect:
        around = window.map.geometry()
        return QRect(around.center().x() - wide // 2, around.center().y() - high // 2, wide, high)

    return box


def _pick(window: Window) -> None:
    window.stage.take_up("pick")
    window.stage.show_day(DAY)
    window.stage.pick(None)


def _season(window: Window) -> QRect:
    whole = _panel("season")(window)
    return QRect(whole.x() + 640, whole.y(), 740, whole.height())


def _place(window: Window) -> None:
    from PySide6.QtTest import QTest

    window.stage.show_day(DAY)
    group = next(each for each in window.stage.session.farm.groups.values())
    window.stage.pick(Picked("groups", group.uid))
    window.stage.take_up("place")
    for _ in range(2):
        QTest.keyClick(window.map, Qt.Key.Key_F)


def _placing(window: Window) -> QRect:
    (plate,) = [each for each in window.map.findChildren(QWidget) if type(each).__name__ == "PlacePlate"]
    box = QRect(plate.mapTo(window, plate.rect().topLeft()), plate.size())
    return QRect(box.x() - 180, box.y() - 130, 640, box.height() + 130 + 16)


def _checking(window: Window) -> None:
    window.stage.take_up("check")


def _moving(window: Window) -> None:
    window.stage.take_up("moves")
    window.stage.show_day(DAY + timedelta(days=2))


def _nets(window: Window) -> None:
    window.stage.take_up("pick")
    window.stage.show_day(DAY)
    window.stage.plate_asked.emit("stock")


SHOTS = (
    Shot("ground", _pick, _map(620, 380)),
    Shot("season", _pick, _season),
    Shot("key", _pick, _panel("key")),
    Shot("check", _checking, _panel("check")),
    Shot("moves", _moving, _panel("moves")),
    Shot("placing", _place, _placing),
    Shot("nets", _nets, _panel("stock")),
)


@contextmanager
def sample_window(size: tuple[int, int] = (1600, 1000)) -> Iterator[Window]:
    """Open the window on a copy of the sample farm, on its day; personal settings stay out."""
    app = application()
    with TemporaryDirectory() as folder:
        for name in ("sample-farm.gpkg", "aerial.tif", "weather.csv"):
            shutil.copy(SAMPLE / name, folder)
        with Session.open(Path(folder) / "sample-farm.gpkg", registry=Registry()) as session:
            stage = stage_for(session, DAY)
            stop = follow(stage)
            window = Window(stage)
            try:
                window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
                window.resize(*size)
                window.show()
                _settle(app, window)
                yield window
            finally:
                stop()
                window.close_down()
                take_down(window)


def taken(window: Window, shot: Shot) -> QImage:
    """Return one picture."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    shot.before(window)
    _settle(app, window)
    box = shot.box(window).intersected(window.rect())
    image = _render(window, DENSITY)
    return image.copy(QRect(box.topLeft() * DENSITY, box.size() * DENSITY))


def pictures() -> Iterator[tuple[Path, QImage]]:
    """Yield the file and the picture of each, the README's first: the window as it opens."""
    with sample_window() as window:
        yield README_PICTURE, _render(window, 1.0)
        for shot in SHOTS:
            image = taken(window, shot)
            image.setDevicePixelRatio(1.0)
            yield PICTURES / f"{shot.name}.webp", image


def unlike(one: QImage, other: QImage) -> float:
    """Return the share of small pieces of two pictures that differ to the eye; 1 where their sizes differ."""
    if one.size() != other.size():
        return 1.0
    small = [_small(each) for each in (one, other)]
    return float((np.abs(small[0] - small[1]).max(axis=2) > SHOWS).mean())


def _small(image: QImage) -> NDArray[np.float64]:
    to = image.size() / 4
    made = image.scaled(to, Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
    made = made.convertToFormat(QImage.Format.Format_RGBA8888)
    rows = np.frombuffer(made.constBits(), np.uint8).reshape(made.height(), made.bytesPerLine() // 4, 4)
    return rows[:, : made.width(), :3].astype(np.float64)


def main() -> int:
    """Write all of them anew."""
    PICTURES.mkdir(exist_ok=True)
    for path, image in pictures():
        image.save(str(path), quality=QUALITY if path.suffix == ".webp" else -1)
    return 0


if __name__ == "__main__":
    sys.exit(main())
