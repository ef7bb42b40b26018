"""Throw the clods: blue noise on a square of 96 px that repeats, one set for each class of rooting.

Run once, by hand, where the program is installed: ``python make_clods.py``. Each throw is kept if it lies no nearer
to the others than the class's spacing; 60,000 throws leave no room for one more.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np

from pigmap.drawing.tokens import CLOD_SIZES

SIDE_PX = 96.0
THROWS = 60_000


def thrown(spacing_px: float, seed: int) -> list[list[float]]:
    """Return the clods of one class: across, down [px] and direction [degrees]."""
    random = np.random.default_rng(seed)
    kept = np.empty((0, 2))
    for throw in random.uniform(0, SIDE_PX, (THROWS, 2)):
        apart = np.abs(kept - throw)
        apart = np.minimum(apart, SIDE_PX - apart)
        if not len(kept) or (apart**2).sum(axis=1).min() >= spacing_px**2:
            kept = np.vstack([kept, throw])
    turned = random.uniform(0, 180, len(kept))
    return [[round(x, 2), round(y, 2), round(a)] for (x, y), a in zip(kept.tolist(), turned.tolist(), strict=True)]


if __name__ == "__main__":
    clods = [thrown(size.spacing_px, seed) if size.spacing_px else [] for seed, size in enumerate(CLOD_SIZES)]
    saved = json.dumps({"side_px": SIDE_PX, "clods": clods}, separators=(",", ":"))
    Path(__file__).with_name("clods.json").write_text(saved, encoding="utf-8")
