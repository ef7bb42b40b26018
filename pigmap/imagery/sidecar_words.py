"""Why no tiles of an image can be kept, in words; the map shows the image all the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pigmap.errors import RasterError, StoreError

if TYPE_CHECKING:
    from pigmap.imagery.sidecar_place import Place

MB = 1_000_000


def too_large(place: Place, name: str, wanted: int) -> RasterError:
    """Return what to say of an image whose tiles are more than may be kept."""
    return RasterError(
        "The pictures kept of {name} would take {wanted} MB; kept pictures may take {limit} MB.",
        remedy="It stays slow to look at. Let kept pictures take more under More, Kept pictures.",
        name=name,
        wanted=f"{wanted / MB:,.0f}",
        limit=f"{place.limit_bytes / MB:,.0f}",
    )


def not_whole(name: str) -> RasterError:
    """Return what to say of an image of which parts cannot be read: its tiles would hide which."""
    return RasterError(
        "Parts of {name} cannot be read, so no pictures are kept of it.",
        remedy="It stays slow to look at. Fetch or copy the image again.",
        name=name,
    )


def disk_full(place: Place, name: str) -> StoreError:
    """Return what to say of a disk that takes no more."""
    return StoreError(
        "The disk with {folder} is too full for the pictures kept of {name}.",
        remedy="The image stays slow to look at; nothing else is lost. Make room, or choose another folder under More, "
        "Kept pictures.",
        name=name,
        folder=str(place.folder),
    )


def unwritable(place: Place, name: str, why: OSError) -> StoreError:
    """Return what to say of a folder that takes nothing."""
    return StoreError(
        "The pictures kept of {name} cannot be written to {folder}: {why}.",
        remedy="The image stays slow to look at; nothing else is lost. Choose another folder under More, Kept "
        "pictures.",
        name=name,
        folder=str(place.folder),
        why=why.strerror or type(why).__name__,
    )


def no_memory(name: str) -> RasterError:
    """Return what to say where a strip of an image does not go into memory."""
    return RasterError(
        "There is too little memory to cut {name} into small pictures.",
        remedy="The image stays slow to look at. Close other programs, and open the farm again.",
        name=name,
    )


def other_bytes(place: Place, name: str) -> StoreError:
    """Return what to say of a disk that gives back other bytes than it was given."""
    return StoreError(
        "The disk with {folder} gave back other bytes than were written to it, for the pictures kept of {name}.",
        remedy="Have this disk looked at, and choose another folder under More, Kept pictures.",
        name=name,
        folder=str(place.folder),
    )
