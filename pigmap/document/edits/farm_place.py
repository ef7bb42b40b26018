"""A farm that was begun without a place is given one: its metres stay as they are, and lie on earth from then on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pigmap.document.edits.choices import change_setting
from pigmap.errors import EditError
from pigmap.geometry.typed_place import TypedPlace
from pigmap.records import Edit, Farm, RowChange
from pigmap.records.projection import PLACE_SETTING, PROJECTION_SETTING
from pigmap.text import Text


def may_be_given(farm: Farm) -> bool:
    """Whether a farm has no place yet, or one that was given later and can be put right the same way."""
    return not farm.projection.has_place or farm.setting(PROJECTION_SETTING) is not None


def give_place(place: TypedPlace, east_m: float, north_m: float) -> Edit:
    """Return the edit that puts a spot of the farm's grid [grid m] at a place on earth, with north up.

    No shape changes. Undo takes the place away again.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        from pigmap.geometry.projection import projection_round  # slow to load, and only needed here

        if not may_be_given(farm):
            raise EditError(
                "This farm was begun at its place, and all that is drawn is measured from there.",
                remedy="Start another farm at the other place.",
            )
        kept: dict[str, Any] = {
            PROJECTION_SETTING: projection_round(place.lon, place.lat, east_m, north_m).to_json(),
            PLACE_SETTING: [round(east_m, 1), round(north_m, 1)],
        }
        return [row for key, value in kept.items() for row in change_setting(key, value)(farm)]

    return Edit(Text("The farm lies at {place}.", {"place": place.words}), changes)
