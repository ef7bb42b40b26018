"""Make the kept tiles of untiled images, stop meanwhile, and show a first picture of one that has none yet."""

from __future__ import annotations

import json
import sys
import tempfile
import threading
from pathlib import Path
from time import perf_counter, sleep, thread_time
from typing import Any

import numpy as np

from pigmap.imagery.sidecar import Growing, begin, grow
from pigmap.imagery.sidecar_first import first_picture
from pigmap.imagery.sidecar_need import form_of
from pigmap.imagery.sidecar_place import Place
from pigmap.imagery.source import ImageSource, open_source
from tests.benchmarks.map_case import PROJECTION
from tests.benchmarks.map_rasters import SMALL, in_degrees, untiled
from tests.benchmarks.sticks import quantile

MPX = SMALL * SMALL / 1e6
KINDS = ("lzw", "deflate", "none")
"""The slowest to unpack first: it stands for the others."""


def begun(source: ImageSource, folder: Path) -> Growing:
    """Begin the tiles of an image."""
    growing = begin(source, PROJECTION, Place(folder, 10**10), form_of(source.facts, warped=source.warped))
    assert growing is not None
    return growing


def made_s(path: Path) -> float:
    """Return the processor time of making all tiles of an image [s]."""
    with tempfile.TemporaryDirectory() as folder, open_source(path, PROJECTION) as source:
        began = thread_time()
        growing = begun(source, Path(folder))
        assert grow(growing)
        took = thread_time() - began
        growing.tiles.close()
    return took


def raw_s(path: Path) -> float:
    """Return the processor time of reading all of an image in strips of 512 rows [s]: the stick."""
    import rasterio
    from rasterio.windows import Window

    began = thread_time()
    with rasterio.open(path) as image:
        for top in range(0, image.height, 512):
            image.read([1, 2, 3], window=Window(0, top, image.width, min(512, image.height - top)))
    return thread_time() - began


def warped_s(path: Path) -> float:
    """Return the processor time of warping all of an image at once, blended, and keeping nothing [s]."""
    import rasterio
    from rasterio.enums import Resampling
    from rasterio.vrt import WarpedVRT

    began = thread_time()
    with (
        rasterio.open(path) as image,
        WarpedVRT(image, crs=PROJECTION.definition, resampling=Resampling.bilinear, add_alpha=True) as view,
    ):
        view.read()
    return thread_time() - began


def speed(repeats: int) -> dict[str, Any]:
    """Measure how long a million pixels take, beside reading them."""
    per: dict[str, float] = {}
    ratio: dict[str, float] = {}
    for kind in KINDS:
        path = untiled(kind)
        made_s(path)
        times = [(made_s(path), raw_s(path)) for _ in range(repeats)]
        per[kind] = quantile([made for made, _ in times], 0.5) * 1000 / MPX
        ratio[kind] = quantile([made / raw for made, raw in times], 0.5)
    told = ", ".join(f"{kind} {1000 / per[kind]:.0f} Mpx/s = {ratio[kind]:.1f}x its raw read" for kind in KINDS)
    warped = quantile([made_s(in_degrees()) / warped_s(in_degrees()) for _ in range(repeats)], 0.5)
    told += f"; one in degrees {warped:.2f}x blending it with the library in one go"
    stick = "a raw read of the same image"
    return {"sidecar": {"value": per[KINDS[0]], "ratio": ratio[KINDS[0]], "stick": stick, "note": told}}


def stopping(times: int) -> dict[str, Any]:
    """Measure from asking it to stop until it has."""
    rng = np.random.default_rng(9)
    late: list[float] = []
    with open_source(untiled(KINDS[0]), PROJECTION) as source:
        while len(late) < times:
            with tempfile.TemporaryDirectory() as folder:
                late += _stopped(source, Path(folder), rng, times - len(late))
    note = f"half within {quantile(late, 0.5):.0f} ms; {len(late)} stops at random"
    return {"sidecar-stop": {"value": max(late), "note": note}}


def _stopped(source: ImageSource, folder: Path, rng: np.random.Generator, most: int) -> list[float]:
    late: list[float] = []
    while len(late) < most:
        growing, asked = begun(source, folder), threading.Event()
        done: list[bool] = []
        worker = threading.Thread(
            target=lambda growing=growing, asked=asked, done=done: done.append(grow(growing, stop=asked.is_set))
        )
        worker.start()
        sleep(float(rng.uniform(0.02, 0.2)))
        began = perf_counter()
        asked.set()
        worker.join()
        took = (perf_counter() - began) * 1000
        growing.tiles.close()
        if done[0]:
            return late
        late.append(took)
    return late


def first(repeats: int) -> dict[str, Any]:
    """Measure from opening an image to its first picture."""
    times = []
    for _ in range(repeats):
        began = perf_counter()
        with open_source(untiled(KINDS[0]), PROJECTION) as source:
            picture = first_picture(source, source.bounds, form_of(source.facts, warped=False))
        times.append((perf_counter() - began) * 1000)
    shown = f"{picture.shape[1]} by {picture.shape[0]} pixels, {(picture[..., 3] > 0).mean():.0%} of them"
    return {"sidecar-first": {"value": quantile(times, 0.5), "note": f"{shown}; the reader is loaded before"}}


def main(repeats: str) -> None:
    """Measure and print."""
    count = int(repeats)
    print(json.dumps(speed(count) | stopping(6 * count) | first(count)))


if __name__ == "__main__":
    main(*sys.argv[1:])
