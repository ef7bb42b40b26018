"""A table into a file of the kind its name ends in; the file is complete or the old one is still there."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from pigmap.errors import StoreError, UsageError
from pigmap.records import Projection
from pigmap.session.handing_out.csv_file import write_csv
from pigmap.session.handing_out.geojson import write_geojson
from pigmap.session.handing_out.gpx import write_gpx
from pigmap.session.handing_out.kml import write_kml
from pigmap.session.handing_out.library import write_gpkg, write_shp, write_zip
from pigmap.session.handing_out.lists import SHAPELESS
from pigmap.session.handing_out.parquet import write_parquet
from pigmap.session.handing_out.table import Handed
from pigmap.text import Text

Write = Callable[[Path, Handed, Projection], tuple[Text, ...]]

_WRITERS: Mapping[str, Write] = {
    ".geojson": write_geojson,
    ".gpx": write_gpx,
    ".kml": write_kml,
    ".gpkg": write_gpkg,
    ".csv": write_csv,
    ".shp": write_shp,
    ".zip": write_zip,
    ".parquet": write_parquet,
}
SUFFIXES = tuple(_WRITERS)
"""How the names of files end that are written."""


def need_suffix(path: Path) -> None:
    """Refuse a name that ends in a kind of file that is not written.

    Raises
    ------
    UsageError
        In words.
    """
    if path.suffix.lower() not in SUFFIXES:
        raise UsageError(
            "{file} ends in {suffix}, a kind of file that is not written.",
            remedy="End its name in one of: {kinds}.",
            file=path.name,
            suffix=path.suffix or "nothing",
            kinds=", ".join(SUFFIXES),
        )


def need_table(what: str, path: Path) -> None:
    """Refuse a file of shapes for what has none.

    Raises
    ------
    UsageError
        In words.
    """
    if what in SHAPELESS and path.suffix.lower() != ".csv":
        raise UsageError(
            "The list of {what} has no shapes, so it is not written to {file}.",
            remedy="End the name in .csv.",
            what=Text(_LISTS[what]),
            file=path.name,
        )


_LISTS = {
    "purposes": "purposes of fields",
    "groups": "groups",
    "events": "entries of groups",
    "energizers": "energizers",
    "netkinds": "net kinds",
    "nets": "nets",
}


def hand_out(handed: Handed, path: Path, projection: Projection) -> tuple[Text, ...]:
    """Write a table; returns what of it the format cannot hold, in words.

    Raises
    ------
    UsageError
        If the name ends in something else, or the format cannot hold the table at all.
    StoreError
        If the file cannot be written.
    """
    need_suffix(path)
    need_table(handed.name, path)
    try:
        with tempfile.TemporaryDirectory(prefix=".handing-out-", dir=path.parent) as folder:
            part = Path(folder) / path.name
            notes = _WRITERS[path.suffix.lower()](part, handed, projection)
            for file in sorted(Path(folder).iterdir(), key=lambda file: file.suffix.lower() == path.suffix.lower()):
                file.replace(path.with_name(file.name))
    except (UsageError, StoreError):
        raise
    except (OSError, RuntimeError) as error:  # the vector library raises children of these
        raise StoreError(
            "{file} cannot be written: {why}.",
            remedy="Look whether the folder {folder} is there, may be written to and has room.",
            file=path.name,
            why=_why(error),
            folder=str(path.parent),
        ) from error
    return notes


def _why(error: Exception) -> str:
    """Return the reason in few words: what the system says, else the first line of what the library says."""
    words = error.strerror if isinstance(error, OSError) and error.strerror else str(error).strip()
    return (words.splitlines() or ["no reason given"])[0].rstrip(".")
