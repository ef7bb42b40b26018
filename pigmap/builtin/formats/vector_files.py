"""Which data sets of outlines a path leads to: the file itself, or those inside a zip."""

from __future__ import annotations

import os
import zipfile
from pathlib import Path

from pigmap.errors import OutlineError

SUFFIXES = (".gpkg", ".shp", ".geojson", ".json", ".kml", ".kmz", ".gpx", ".zip", ".fgb", ".gml", ".tab")
_IN_ZIPS = tuple(suffix for suffix in SUFFIXES if suffix != ".zip")


def need_outline_file(path: Path) -> None:
    """Refuse what cannot be a file of outlines before anything opens it.

    Raises
    ------
    OutlineError
        In words.
    """
    if not path.exists():
        raise OutlineError(
            "The file {file} is not in {folder}.",
            remedy="Look for the file, and name it where it is.",
            file=path.name,
            folder=str(path.resolve().parent),
        )
    if path.is_dir():
        raise OutlineError(
            "{file} is a folder, not a file of outlines.",
            remedy="Name one file in it, such as a .gpkg, .shp or .geojson file.",
            file=path.name,
        )
    if path.stat().st_size == 0:
        raise OutlineError(
            "{file} is empty (0 bytes).", remedy="Fetch or copy it again; it was cut off.", file=path.name
        )
    if not os.access(path, os.R_OK):
        raise OutlineError(
            "{file} may not be read by you.", remedy="Ask its owner to let you read it, or copy it.", file=path.name
        )
    _need_whole_shapefile(path)


def _need_whole_shapefile(path: Path) -> None:
    if path.suffix.lower() != ".shp":
        return
    beside = {each.name.casefold() for each in path.parent.iterdir()}
    missing = [f"{path.stem}{end}" for end in (".shx", ".dbf") if f"{path.stem}{end}".casefold() not in beside]
    if missing:
        raise OutlineError(
            "{file} is one part of a Shapefile; {missing} is missing.",
            remedy="Put it beside {file}, or give the whole Shapefile as a zip.",
            file=path.name,
            missing=" and ".join(missing),
        )


def inside(path: Path) -> list[str]:
    """Return what the vector library is to open, in the file's order.

    Raises
    ------
    OutlineError
        If a zip holds nothing of the kind.
    """
    if path.suffix.lower() == ".kmz" or not zipfile.is_zipfile(path):
        return [str(path)]
    try:
        with zipfile.ZipFile(path) as packed:
            names = packed.namelist()
    except (zipfile.BadZipFile, NotImplementedError, ValueError):  # cut off, or of a version that is none
        names = []
    found = [name for name in names if name.lower().endswith(_IN_ZIPS) and not name.startswith("__MACOSX")]
    if not found:
        raise OutlineError(
            "{file} holds no outlines that can be read here; in it: {names}.",
            remedy="Give a zip with a GeoPackage, Shapefile, GeoJSON, KML or GPX in it.",
            file=path.name,
            names=", ".join(names[:5]) or "0",
        )
    return [f"/vsizip/{{{path.resolve()}}}/{name}" for name in found]
