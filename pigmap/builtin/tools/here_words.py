"""The words while a paddock is put where it stands: how far it has come, and what follows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from pigmap.geometry.carrying import carried_as_one, corners_after, corners_of
from pigmap.geometry.compass import wind
from pigmap.text import Quantity, Text, Value

MOVED_M = 0.01
"""A corner that is no farther off stands where it was [grid m]. Own choice."""


def moved_words(before: shapely.Polygon, now: shapely.Polygon, ground_per_grid: float) -> Text | None:
    """Return how far ground has come, and which way; None where it has not.

    Parameters
    ----------
    before, now
        As it was and as it is [grid m].
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> str(moved_words(shapely.box(0, 0, 50, 50), shapely.box(3, 0, 53, 50), 1.0))
    '3.0 m east'
    """
    if shapely.equals_exact(before, now, tolerance=1e-6):
        return None
    carry = carried_as_one(before, now)
    if carry is not None:
        (east, north) = np.subtract(now.centroid.coords[0], before.centroid.coords[0]).tolist()
        far = float(np.hypot(east, north))
        if carry.turn != 0.0:
            return _turned(float(np.degrees(carry.turn)), east, north, far * ground_per_grid)
        return Text("{far} {way}", {"far": Quantity(far * ground_per_grid, "m", 1), "way": wind(east, north)})
    if len(corners_of(before)) != len(corners_of(now)):
        return Text("with {count} corners", {"count": len(corners_of(now))})
    off = corners_after(before, now) - corners_of(before)
    far_each = np.hypot(off[:, 0], off[:, 1])
    farthest = int(np.argmax(far_each))
    values: dict[str, Value] = {
        "far": Quantity(float(far_each[farthest]) * ground_per_grid, "m", 1),
        "way": wind(*off[farthest].tolist()),
    }
    count = int(np.count_nonzero(far_each > MOVED_M))
    return Text("a corner {far} {way}", values, plural="{count} corners, up to {far} {way}", count=count)


def _turned(turn: float, east: float, north: float, far_m: float) -> Text:
    way = Text("to the left") if turn > 0 else Text("to the right")
    turned = Text("turned {turn} {way}", {"turn": Quantity(abs(turn), "°", 0), "way": way})
    if far_m < MOVED_M:
        return turned
    return Text("{turned}, {far} {wind}", {"turned": turned, "far": Quantity(far_m, "m", 1), "wind": wind(east, north)})


def follows_words(names: Sequence[str]) -> Text | None:
    """Return what is planned and follows; None where nothing does.

    Examples
    --------
    >>> str(follows_words(["Long Field 24", "Long Field 25", "Long Field 26"]))
    '3 planned paddocks follow: Long Field 24 to Long Field 26.'
    """
    if not names:
        return None
    if len(names) == 1:
        return Text("{name}, planned next, follows.", {"name": names[0]})
    values: dict[str, Value] = {"first": names[0], "last": names[-1], "count": len(names)}
    return Text("{count} planned paddocks follow: {first} to {last}.", values)


def done_words(name: str, names: Sequence[str]) -> Text:
    """Return what was done: where a paddock stands, and how many planned ones follow.

    Examples
    --------
    >>> str(done_words("Long Field 23", ["Long Field 24"]))
    'Long Field 23 stands here; 1 planned paddock follows.'
    """
    if not names:
        return Text("{name} stands here.", {"name": name})
    return Text(
        "{name} stands here; {count} planned paddock follows.",
        {"name": name},
        plural="{name} stands here; {count} planned paddocks follow.",
        count=len(names),
    )


def with_notes(words: Text, notes: Sequence[Text]) -> Text:
    """Return what was done with the first thing that is odd about it, and where the others are said."""
    if not notes:
        return words
    said = Text("{words} {note}", {"words": words, "note": notes[0]})
    return Text("{words} More is on its card.", {"words": said}) if len(notes) > 1 else said
