"""What an image of the farm holds, for whoever chooses how it is shown."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.session.images import Opened, images_of


class ImageHolds(NamedTuple):
    """The bands of one image and the values between which it is shown."""

    bands: int
    shown: tuple[int, ...]
    """Those that are red, green and blue; three times the same where it is grey."""
    palette: bool
    """Whether it has its own colours, of which none can be chosen."""
    black: float
    """Value that is shown black."""
    white: float


def image_holds(session: Opened, image_uid: str) -> ImageHolds:
    """Return what an image holds; it is opened if it is not yet, so a worker asks.

    Raises
    ------
    RasterError
        If it has moved, or cannot lie under the map.
    """
    source = images_of(session).source(image_uid)
    bands, stretch = source.facts.bands, source.stretch
    shown = bands.colours if len(bands.colours) == 3 else bands.colours[:1] * 3
    black, white = (0.0, 255.0) if stretch is None else stretch
    return ImageHolds(bands.count, shown, bands.palette, black, white)
