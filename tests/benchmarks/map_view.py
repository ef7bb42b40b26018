"""Fill fresh views of the large image, draw 5,000 polygons, colour 500,000 cells anew; and what it takes of memory."""

from __future__ import annotations

import json
import resource
import sys
from dataclasses import replace
from time import process_time
from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QEventLoop

from pigmap.drawing.layer import Layer, Tiles
from pigmap.imagery.source import open_source
from pigmap.qt.ground_view import GroundView
from tests.benchmarks.map_case import PROJECTION, SIZE, cells, everything, look, names, polygons, shown
from tests.benchmarks.map_drag import timed_slices
from tests.benchmarks.map_rasters import LARGE, NORTH, PIXEL_M, TILE, WEST, large_jpeg
from tests.benchmarks.sticks import Spent, Watch, blit_ms, note_of, quantile, walls

FLOOR = "a blit of 1920 by 1080 pixels"


def spots(count: int) -> list[tuple[float, float]]:
    """Return middles of views that lie wholly on the image."""
    rng = np.random.default_rng(6)
    across, down = (side * PIXEL_M / 2 + 20 for side in SIZE)
    side = LARGE * PIXEL_M
    x, y = rng.uniform(across, side - across, count), rng.uniform(down, side - down, count)
    return [(WEST + each, NORTH - other) for each, other in zip(x.tolist(), y.tolist(), strict=True)]


def filled(view: GroundView, at: tuple[float, float]) -> float:
    """Look at a spot from scratch; return the processor time of all threads until every pixel in view is sharp [ms]."""
    began = process_time()
    look(view, at, PIXEL_M)
    while True:
        QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        picture = view.picture
        if picture.is_complete and not picture.photo.wanted(picture.frame, [picture.rect]):
            return (process_time() - began) * 1000


def tiles_under(at: tuple[float, float]) -> tuple[range, range]:
    """Return columns and rows of the tiles of a view."""
    left, top = (at[0] - WEST) / PIXEL_M - SIZE[0] / 2, (NORTH - at[1]) / PIXEL_M - SIZE[1] / 2
    columns = range(int(left // TILE), int((left + SIZE[0]) // TILE) + 1)
    return columns, range(int(top // TILE), int((top + SIZE[1]) // TILE) + 1)


def bare_decode(at: tuple[float, float]) -> float:
    """Return the processor time of decoding a view's tiles, and nothing else [ms]."""
    from simplejpeg import decode_jpeg

    with open_source(large_jpeg(), PROJECTION) as source:
        assert source._jpeg is not None
        level = source._jpeg._levels[0]
        columns, rows = tiles_under(at)
        kept = []
        with large_jpeg().open("rb") as file:
            for number in [row * level.across + column for row in rows for column in columns]:
                file.seek(int(level.offsets[number]))
                data = file.read(int(level.lengths[number]))
                kept.append(data[:2] + level.tables + data[2:])
        began = process_time()
        for each in kept:
            decode_jpeg(each, "BGRA")
        return (process_time() - began) * 1000


def raw_read(dataset: Any, at: tuple[float, float]) -> float:
    """Return the processor time of reading the same window as bands [ms]."""
    from rasterio.windows import Window

    left, top = round((at[0] - WEST) / PIXEL_M - SIZE[0] / 2), round((NORTH - at[1]) / PIXEL_M - SIZE[1] / 2)
    began = process_time()
    dataset.read(window=Window(left, top, *SIZE))
    return (process_time() - began) * 1000


def fills(count: int) -> dict[str, Any]:
    """Fill fresh views, ours and the sticks in turn."""
    import rasterio

    ours, bare, raw = [], [], []
    with shown([Tiles("large")]) as view, rasterio.open(large_jpeg()) as dataset:
        for at in spots(count):
            view.settle()
            view.picture.photo.cache.clear()
            ours.append(filled(view, at))
            bare.append(bare_decode(at))
            raw.append(raw_read(dataset, at))
    half = quantile(ours, 0.5)
    sticks = f"decoding {quantile(bare, 0.5):.1f} ms, raw read {quantile(raw, 0.5):.1f} ms"
    note = f"{count} views, processor time of all threads; {sticks}"
    return {
        "fill": {"value": half, "ratio": half / quantile(bare, 0.5), "stick": "decoding its tiles", "note": note},
        "fill-raw": {"value": half, "ratio": half / quantile(raw, 0.5), "stick": "rasterio reading the same window"},
    }


def polygons_first() -> dict[str, Any]:
    """Draw 5,000 polygons with their names for the first time, all in view, in slices."""
    layers: list[Layer] = [polygons(), names()]
    with shown([]) as view:
        look(view, (WEST + LARGE * PIXEL_M / 2, NORTH - LARGE * PIXEL_M / 2), LARGE * PIXEL_M / SIZE[1])
        view.settle()
        slices = timed_slices(view)
        view.show_layers(layers)
        while not view.picture.is_complete:
            QCoreApplication.processEvents()
        there = [each.cpu for each in slices]
    note = f"{len(there)} slices; the longest {max(there):.1f} ms"
    return {
        "polygons": {"value": sum(there), "note": note},
        "polygons-slice": {"value": max(there), "note": f"half of them within {quantile(there, 0.5):.1f} ms"},
    }


def recolours(days: int) -> dict[str, Any]:
    """Show other colours of all cells in turn, with everything on the map: clods follow in slices, as in the window.

    Another day changes few of them; here no cell keeps its colour.
    """
    times: list[Spent] = []
    with_clods: list[Spent] = []
    here = cells()
    both = here, replace(here, colours=here.colours[:, [2, 0, 1, 3]])
    bare = [replace(each, clods=None, seen=None) for each in both]
    with shown(everything(), LARGE * PIXEL_M / SIZE[1]) as view:
        for number in range(days):
            for wanted, kept in ((bare, times), (both, with_clods)):
                watch = Watch()
                view.show_cells([wanted[number % 2]])
                QCoreApplication.sendPostedEvents(view, QEvent.Type.UpdateRequest)
                kept.append(watch.spent())
            QCoreApplication.processEvents()
    floor = quantile(blit_ms(), 0.5)
    half = quantile(walls(times), 0.5)
    also = f"clods follow in slices; at once with them half take {quantile(walls(with_clods), 0.5):.1f} ms"
    note = f"{note_of(times)}; {also}"
    return {
        "recolour": {"value": half, "ratio": half / floor, "stick": FLOOR, "note": note},
        "recolour-slow": {"value": quantile(walls(times), 0.99), "note": "colours at once, clods follow"},
    }


def memory() -> dict[str, Any]:
    """Return the most memory this process had so far."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)
    return {"memory": {"value": peak, "note": "peak of the process that filled the views, with all it measured"}}


def main(what: str, count: str) -> None:
    """Measure and print."""
    figures: dict[str, Any] = {}
    if what == "fills":
        figures = fills(int(count)) | memory()
    elif what == "polygons":
        figures = polygons_first()
    else:
        figures = recolours(int(count))
    print(json.dumps(figures))


if __name__ == "__main__":
    main(*sys.argv[1:])
