"""The same view in other libraries, where they are installed: how long a frame of a pan takes them, and a read.

They carry less: one image of 4,096 pixels and the outlines, without tinted ground or decluttered words.
"""

from __future__ import annotations

import json
import os
import sys
from importlib.util import find_spec
from typing import Any

import numpy as np

from tests.benchmarks.map_rasters import LARGE, NORTH, PIXEL_M, TILE, WEST, large_jpeg, small_jpeg
from tests.benchmarks.sticks import Spent, Watch, note_of, quantile, walls

SIZE = (1920, 1080)


def _picture() -> Any:
    import rasterio

    with rasterio.open(small_jpeg()) as image:
        return np.ascontiguousarray(np.moveaxis(image.read(), 0, -1))


def _outlines() -> tuple[Any, Any]:
    """Return x and y of all polygons as one line broken by no numbers."""
    from tests.benchmarks.map_case import polygons

    shapes = polygons()
    parts = [np.vstack([part, part[:1], [[np.nan, np.nan]]]) for part in np.split(shapes.points, shapes.starts[1:-1])]
    joined = np.concatenate(parts)
    return joined[:, 0] - WEST, joined[:, 1] - (NORTH - LARGE * PIXEL_M)


def pyqtgraph(frames: int) -> list[Spent]:
    """Pan a view of the picture and the outlines."""
    import pyqtgraph as graph
    from PySide6.QtWidgets import QApplication

    app = QApplication.instance() or QApplication([])
    widget = graph.PlotWidget()
    widget.resize(*SIZE)
    widget.setAspectLocked(True)
    item = graph.ImageItem(_picture(), axisOrder="row-major")
    side = LARGE * PIXEL_M
    item.setRect(0, 0, side, side)
    widget.addItem(item)
    x, y = _outlines()
    widget.addItem(graph.PlotCurveItem(x, y, connect="finite", pen=graph.mkPen("k", width=1)))
    widget.show()
    times = []
    for number in range(frames):
        watch = Watch()
        widget.setXRange(600 + number * 0.5, 792 + number * 0.5, padding=0)
        widget.setYRange(600, 708, padding=0)
        app.processEvents()
        times.append(watch.spent())
    widget.close()
    return times


def matplotlib(frames: int) -> list[Spent]:
    """Pan the same in a figure drawn by pixels."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(SIZE[0] / 100, SIZE[1] / 100), dpi=100)
    canvas: Any = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    side = LARGE * PIXEL_M
    axes.imshow(_picture(), extent=(0, side, 0, side), interpolation="nearest")
    axes.plot(*_outlines(), "k", linewidth=0.7)
    times = []
    for number in range(frames):
        watch = Watch()
        axes.set_xlim(600 + number * 0.5, 792 + number * 0.5)
        axes.set_ylim(600, 708)
        canvas.draw()
        times.append(watch.spent())
    return times


def rio_tiler(reads: int) -> list[Spent]:
    """Read views of the large image in its own metres."""
    from rio_tiler.io import Reader

    rng = np.random.default_rng(6)
    times = []
    with Reader(str(large_jpeg())) as image:
        for _ in range(reads):
            left, top = (int(each) for each in rng.integers(TILE, LARGE - 2500, 2))
            west, north = WEST + left * PIXEL_M, NORTH - top * PIXEL_M
            box = (west, north - SIZE[1] * PIXEL_M, west + SIZE[0] * PIXEL_M, north)
            watch = Watch()
            image.part(box, bounds_crs=image.crs, dst_crs=image.crs, width=SIZE[0], height=SIZE[1])
            times.append(watch.spent())
    return times


def main(count: str) -> None:
    """Measure and print those that are there."""
    figures: dict[str, Any] = {}
    for name, module, measure in (
        ("others-pyqtgraph", "pyqtgraph", pyqtgraph),
        ("others-matplotlib", "matplotlib", matplotlib),
        ("others-rio-tiler", "rio_tiler", rio_tiler),
    ):
        if find_spec(module) is not None:
            times = measure(int(count))
            figures[name] = {"value": quantile(walls(times), 0.5), "note": note_of(times)}
    print(json.dumps(figures), flush=True)
    os._exit(0)


if __name__ == "__main__":
    main(*sys.argv[1:])
