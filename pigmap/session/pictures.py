"""A picture that is to lie on the map: whether its file tells where, and how it looks in its own pixels."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import RasterError

LONGEST_PX = 1600
"""Longer side of the small copy that is led over the map."""


class Looked(NamedTuple):
    """What was found."""

    path: Path
    size: tuple[int, int]
    """Columns and rows of the picture."""
    picture: NDArray[np.uint8] | None
    """A small copy, (rows, columns, 4) of red, green, blue, alpha; None where the file tells its own place."""
    from_camera: bool = False
    """Whether it tells of a camera: then it may be a view of the field, not a map."""


def look_at(path: Path) -> Looked:
    """Return what a picture is; one that is pinned needs no place of its own.

    Raises
    ------
    RasterError
        If it can neither lie on the map as it is nor be pinned.
    """
    from pigmap.imagery.vet import vet  # loads the image reader

    try:
        facts = vet(path)
    except RasterError:
        pass
    else:
        return Looked(path, (facts.columns, facts.rows), None)
    from pigmap.imagery.camera import is_from_camera

    return unplaced(path)._replace(from_camera=is_from_camera(path))


def unplaced(path: Path) -> Looked:
    """Return a picture in its own pixels, whatever its file tells."""
    from pigmap.imagery.pinned import open_flat

    with open_flat(path) as source:
        columns, rows = source.facts.columns, source.facts.rows
        share = min(1.0, LONGEST_PX / max(columns, rows))
        small = max(1, round(columns * share)), max(1, round(rows * share))
        picture = source.read((0.0, float(-rows), float(columns), 0.0), small)
    return Looked(path, (columns, rows), picture)
