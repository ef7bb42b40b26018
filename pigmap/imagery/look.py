"""How a person wants an image shown: which of its bands as which colour, and what counts as black and white."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import NamedTuple

from pigmap.errors import RasterError
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.where import called
from pigmap.records import Image


class Look(NamedTuple):
    """What was chosen; all of it left empty shows an image by what its file says."""

    bands: tuple[int, ...] = ()
    """Bands shown as red, green and blue, or one as grey, counted from 1."""
    darkest: float | None = None
    """Value that is shown black; None where it is found from the image."""
    brightest: float | None = None

    @property
    def text(self) -> str:
        """It as part of a key; empty where nothing was chosen."""
        return json.dumps(self) if self != ((), None, None) else ""


AS_IT_IS = Look()
"""By what the file says."""


def look_of(image: Image) -> Look:
    """Return how an image of the farm is to be shown."""
    return Look(image.bands, image.darkest, image.brightest)


def picture_of(image: Image) -> str:
    """Return what the picture of an image depends on besides its file: its pins and its look."""
    return "\n".join(part for part in (image.pins, look_of(image).text) if part)


def with_look(facts: ImageFacts, look: Look) -> ImageFacts:
    """Return the facts of an image that is shown as a person wants.

    Raises
    ------
    RasterError
        If it has no such band. A palette has its own colours: of it only what it says itself is shown.
    """
    if look == AS_IT_IS or facts.bands.palette:
        return facts
    beyond = next((band for band in look.bands if not 1 <= band <= facts.bands.count), None)
    if beyond is not None:
        raise RasterError(
            "{name} has {count} bands, so band {band} cannot be shown.",
            remedy="Choose its colours again: Colours, in the list of images.",
            name=called(facts.path),
            count=facts.bands.count,
            band=beyond,
        )
    told = look.darkest is not None or look.brightest is not None
    bands = replace(
        facts.bands,
        colours=look.bands or facts.bands.colours,
        stretched=facts.bands.stretched or told,
        named=facts.bands.named or bool(look.bands),
        darkest=look.darkest,
        brightest=look.brightest,
    )
    return replace(facts, bands=bands, look=look.text)
