"""Rooted ground on the invented aerial image: bare soil where pigs were last, greening over as months go by."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from pigmap.session.sample.history import last_score
from pigmap.session.sample.noise import smooth
from pigmap.session.sample.pixels import burnt, window
from pigmap.session.sample.timeline import SEED, Visit, visits
from pigmap.session.sample.trees import Image

SEEN_FOR = timedelta(days=300)
"""So long ago ground that was rooted can still be told from the air. Invented."""
HEALS_IN_DAYS = 70.0
"""In so many days bare ground falls to a third. Invented, near what keepers see."""
SOIL = np.array((104, 82, 60), dtype=np.float32)
MARGIN_M = 1.2
"""Grass stays along the nets."""
PATCH_PX, CLOD_PX = 22, 4


def root(image: Image, today: date) -> None:
    """Lay bare soil on the ground of the last months, oldest first; in place."""
    rng = np.random.default_rng(SEED + 1)
    for visit, share in _bare(today):
        outline = visit.square.outline.buffer(-MARGIN_M)
        rows, columns = window(outline)
        inside = burnt([outline], rows, columns).astype(bool)
        patches = smooth(rng, inside.shape, PATCH_PX) + 0.6 * smooth(rng, inside.shape, CLOD_PX)
        edge = np.quantile(patches, 1.0 - share)
        cover = np.clip((patches - edge) * 1.6 + 0.5, 0.0, 1.0) * inside
        tone = 1.0 + 0.10 * smooth(rng, inside.shape, CLOD_PX) + 0.05 * smooth(rng, inside.shape, 2)
        under = image[rows, columns].astype(np.float32)
        soil = SOIL * tone[..., None]
        mixed = under + (soil - under) * (0.85 * cover)[..., None]
        image[rows, columns] = np.clip(mixed, 0, 255).astype(np.uint8)


def _bare(today: date) -> Iterator[tuple[Visit, float]]:
    """Yield visits with the share of their ground that is bare on a day, where it can be seen."""
    for visit in visits(today):
        if visit.in_on > today or today - visit.out_on > SEEN_FOR:
            continue
        left = max((today - visit.out_on).days, 0)
        share = last_score(visit, today) / 4 * float(np.exp(-left / HEALS_IN_DAYS))
        if share > 0.03:
            yield visit, min(share, 0.95)
