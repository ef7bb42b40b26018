"""How an image is shown: which of its bands as which colour, and what counts as black and white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.find import row_of
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Image, RowChange, change
from pigmap.text import Text


def show_image_as(
    uid: str, *, bands: Sequence[int] = (), darkest: float | None = None, brightest: float | None = None
) -> Edit:
    """Return the edit that shows an image in other bands or between other values; all left out shows it as it is.

    Raises
    ------
    EditError
        If there are neither one nor three bands, or white is not above black.
    """
    if len(bands) not in (0, 1, 3) or any(band < 1 for band in bands):
        raise EditError(
            "{bands} are no bands to show.",
            remedy="Give three, for red, green and blue, or one for grey, counted from 1.",
            bands=", ".join(str(band) for band in bands),
        )
    if darkest is not None and brightest is not None and brightest <= darkest:
        raise EditError(
            "The picture would be black at {dark} and white at {bright}.",
            remedy="Give a value for white that is above that for black.",
            dark=f"{darkest:g}",
            bright=f"{brightest:g}",
        )

    def changes(farm: Farm) -> Sequence[RowChange]:
        image = row_of(farm, Image, uid)
        shown = replace(image, bands=tuple(bands), darkest=darkest, brightest=brightest)
        return [] if shown == image else [change(image, shown)]

    return Edit(Text("Colours of the picture changed."), changes)
