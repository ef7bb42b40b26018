"""What the plate says of free corners whose sides cross: nothing else is known of them."""

from __future__ import annotations

from pigmap.builtin.tools.place_figures import HELD_CORNERS, PlateWords, Row
from pigmap.qt.stage import Stage


def crossed_words(stage: Stage) -> PlateWords:
    """Return what is wrong, and what puts it right."""
    return PlateWords(
        head=stage.say("Its sides cross"),
        second="",
        nets=Row(stage.say("Carry"), stage.say("not known"), ""),
        rows=(),
        against=stage.say("Its sides cross."),
        remedy=stage.say("Go round it once, from corner to corner. Backspace takes the last corner back."),
        held=stage.words(HELD_CORNERS),
        deeds=("free",),
    )
