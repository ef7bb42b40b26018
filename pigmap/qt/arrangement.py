"""Where the parts of the window lie, for its size: plain numbers, no widgets."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.qt.stage import Room

NARROW_BELOW = 1000
SMALL_BELOW = 1440
WIDE_FROM = 1800
LOW_BELOW = 880
"""Below this height the strip and the cards are as on a small screen [px]."""

COLUMN_LEAST, COLUMN_MOST = 200, 480
STRIP_LEAST = 84
STRIP_MOST_SHARE = 0.45
"""Share of the window that the season strip takes at most, dragged as far as it goes."""
STRIP_USUAL_SHARE = 0.34
"""Share that it takes at most by itself; further rows scroll."""
STRIP_LOW_SHARE = 0.26
"""The same below `VERY_LOW` pixels: there the map needs the room."""
VERY_LOW = 760


class Box(NamedTuple):
    """A rectangle in pixels from the upper left of the window."""

    x: int
    y: int
    wide: int
    high: int


class Arrangement(NamedTuple):
    """The four parts of the window; panels over the map lie inside `map`."""

    verbs: Box
    column: Box
    map: Box
    season: Box


class Wanted(NamedTuple):
    """What a person dragged the edges to; 0 where nothing was dragged."""

    column_px: int = 0
    season_px: int = 0


def room_for(width: int, height: int, wanted: Wanted, text_scale: float = 1.0) -> Room:
    """Return how much room a window of a size has.

    Examples
    --------
    >>> room_for(1280, 800, Wanted())
    Room(name='small', column_px=248)
    >>> room_for(960, 760, Wanted()).name
    'narrow'
    """
    if width < NARROW_BELOW * min(text_scale, 1.2):
        return Room("narrow", width)
    if width < SMALL_BELOW or height < LOW_BELOW:
        name, column = "small", 248
    elif width < WIDE_FROM:
        name, column = "usual", 292
    else:
        name, column = "wide", 320
    column = round(column * (1 + (text_scale - 1) * 0.7))
    return Room(name, min(max(wanted.column_px, COLUMN_LEAST), COLUMN_MOST) if wanted.column_px else column)


def arrange(
    width: int,
    height: int,
    room: Room,
    wanted: Wanted,
    *,
    verbs_px: int,
    season_px: int,
    column_row_px: int,
    map_only: bool = False,
) -> Arrangement:
    """Return where the parts lie.

    Parameters
    ----------
    width, height
        Of the window [px].
    verbs_px, season_px
        Heights that the row of verbs and the strip ask for at their text size [px].
    column_row_px
        Height of the column where it is a row under the verbs, in a narrow window [px].
    map_only
        Whether all but the map is put away.
    """
    nothing = Box(0, 0, 0, 0)
    if map_only:
        return Arrangement(nothing, nothing, Box(0, 0, width, height), nothing)
    most = max(STRIP_LEAST, round(height * STRIP_MOST_SHARE))
    usual = min(season_px, round(height * (STRIP_LOW_SHARE if height < VERY_LOW else STRIP_USUAL_SHARE)))
    strip = min(max(wanted.season_px or usual, STRIP_LEAST), most)
    middle = max(0, height - verbs_px - strip)
    season = Box(0, height - strip, width, strip)
    verbs = Box(0, 0, width, verbs_px)
    if room.name == "narrow":
        row = min(column_row_px, middle)
        return Arrangement(verbs, Box(0, verbs_px, width, row), Box(0, verbs_px + row, width, middle - row), season)
    return Arrangement(
        verbs,
        Box(0, verbs_px, room.column_px, middle),
        Box(room.column_px, verbs_px, max(0, width - room.column_px), middle),
        season,
    )
