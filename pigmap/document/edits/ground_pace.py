"""How fast green goes and comes back on this farm: the numbers that were learned from its daily checks."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.document.edits.choices import change_setting
from pigmap.document.edits.together import together
from pigmap.records import Edit, Farm, RowChange
from pigmap.text import Text

_PER_LOAD, _PER_WARMTH = "m²/(kg·d)", "1/(°C·d)"
_DIGITS = 6
PACE = ("cover loss", "cover regrowth", "wood loss")
"""Keys of the settings that replace the numbers from print."""


def keep_pace(*, loss: float, regrowth: float, wood: float | None = None) -> Edit:
    """Return the edit that computes the ground with these numbers from now on.

    Parameters
    ----------
    loss
        Share of cover lost for each unit of load [m²/(kg·d)].
    regrowth
        Growth rate for each degree-day [1/(°C·d)].
    wood
        Factor on the loss under trees; None leaves it as it is.
    """
    edits = [
        change_setting("cover loss", round(loss, _DIGITS), unit=_PER_LOAD),
        change_setting("cover regrowth", round(regrowth, _DIGITS), unit=_PER_WARMTH),
    ]
    if wood is not None:
        edits.append(change_setting("wood loss", round(wood, _DIGITS)))

    def changes(farm: Farm) -> Sequence[RowChange]:
        return [row for edit in edits for row in edit.changes(farm)]

    return Edit(Text("How fast green goes and comes back, as daily checks tell."), changes)


def use_printed_pace() -> Edit:
    """Return the edit that computes the ground with the numbers from print again."""
    edits = [change_setting(key, None) for key in PACE]
    return together(Text("How fast green goes and comes back, as from print."), edits)
