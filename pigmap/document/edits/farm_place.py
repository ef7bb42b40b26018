"""A farm is given its place, or another one: its metres stay as they are, and lie there from then on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pigmap.document.edits.choices import change_setting
from pigmap.errors import EditError
from pigmap.geometry.typed_place import TypedPlace
from pigmap.records import Edit, Farm, RowChange
from pigmap.records.projection import INSTEAD_OF, PLACE_SETTING, PROJECTION_SETTING, Projection, begun_with
from pigmap.text import Text


def lying_by_themselves(farm: Farm) -> tuple[str, ...]:
    """Return the names of images that tell where they lie: they stay there when the farm is moved."""
    if not farm.projection.has_place:
        return ()
    images = [image.name for image in farm.images.values() if not image.pins]
    return (*images, *(terrain.name for terrain in farm.terrains.values()))


def give_place(place: TypedPlace, east_m: float, north_m: float, *, off_images: bool = False) -> Edit:
    """Return the edit that puts a spot of the farm's grid [grid m] at a place on earth, with north up.

    All that is drawn moves there as one piece; no shape and no length changes. Undo takes it back to where it lay.

    Parameters
    ----------
    place
        Where the spot lies from then on.
    east_m, north_m
        The spot.
    off_images
        Whether it may move off images that tell where they lie; those stay.

    Raises
    ------
    EditError
        When it is done, if there are such images and nobody said that it may.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        from pigmap.geometry.projection import projection_round  # slow to load, and only needed here

        images = lying_by_themselves(farm)
        if images and not off_images:
            raise EditError(
                "{image} tells where it lies and would stay there, so what is drawn would no longer lie on it.",
                remedy="Say that it may move off the image, or leave the place as it is.",
                image=images[0],
            )
        per_grid = farm.projection.ground_per_grid if farm.projection.has_place else 1.0
        moved = projection_round(place.lon, place.lat, east_m, north_m, ground_per_grid=per_grid)
        kept: dict[str, Any] = {
            PROJECTION_SETTING: {**moved.to_json(), **_begun(farm)},
            PLACE_SETTING: [round(east_m, 1), round(north_m, 1)],
        }
        return [row for key, value in kept.items() for row in change_setting(key, value)(farm)]

    return Edit(Text("The farm lies at {place}.", {"place": place.words}), changes)


def _begun(farm: Farm) -> dict[str, Any]:
    """Return what is kept of where the farm was begun, for undo; nothing where that was nowhere."""
    kept = farm.setting(PROJECTION_SETTING)
    was: Projection | None = farm.projection if kept is None and farm.projection.has_place else begun_with(kept)
    return {} if was is None else {INSTEAD_OF: was.to_json()}
