"""A place as it is told on the command line."""

from __future__ import annotations

from pigmap.cli.printing import remark
from pigmap.geometry.typed_place import typed_place
from pigmap.text import Text


def told_place(told: str) -> tuple[float, float]:
    """Return longitude and latitude of a place as people write it; that they are exchanged is said.

    Raises
    ------
    RecordError
        If it is no such pair.
    """
    pair = told.replace(",", ", ") if told.count(",") == 1 else told  # of two numbers, no decimal comma
    place = typed_place(pair)
    if place.swapped:
        words = "{told} is read as {place}: the longitude came first."
        remark(Text(words, {"told": told, "place": place.words}))
    return place.lon, place.lat
