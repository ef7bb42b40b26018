"""Whether a picture was taken with a camera, by what cameras write into their files."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from pigmap.geometry.native import own_data
from pigmap.imagery.opening import opened
from pigmap.imagery.where import reading

_OF_A_SHOT = ("EXIF_GPSLatitude", "EXIF_ExposureTime", "EXIF_FNumber", "EXIF_FocalLength")
_OF_A_DEVICE = ("EXIF_Make", "EXIF_Model")
_SCANNED = ("1", "2", "0x01", "0x02")
"""What the tag FileSource says of a film scanner and of one for prints (Exif; from memory)."""


def is_from_camera(path: Path) -> bool:
    """Whether a picture tells of a camera that took it; False where it tells nothing or cannot be read.

    Only its head is read.
    """
    own_data()
    from rasterio.errors import RasterioError

    try:
        with reading(), opened(path) as picture:
            return tells_of_camera({**picture.tags(ns="EXIF"), **picture.tags()})
    except (RasterioError, OSError):
        return False


def tells_of_camera(told: Mapping[str, str]) -> bool:
    """Whether the tags of a picture are those of a camera: where it stood, how it exposed, or which it is.

    Scanners name themselves too, but have no exposure; they say what they are, or have it in their name.
    """
    if any(told.get(name, "").strip() for name in _OF_A_SHOT):
        return True
    device = " ".join(told.get(name, "") for name in _OF_A_DEVICE).strip().lower()
    scanned = told.get("EXIF_FileSource", "").strip() in _SCANNED
    return bool(device) and not scanned and "scan" not in device
