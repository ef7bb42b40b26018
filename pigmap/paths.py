"""Find the resources that come with the program, and the folders where a person's files belong."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def resource(*parts: str) -> Path:
    """Return the path of a resource file or folder.

    An installed package carries ``resources`` inside it; a checkout (or an editable install) has it beside it.

    Raises
    ------
    FileNotFoundError
        If neither place has it: the installation is incomplete.
    """
    for base in (_PACKAGE / "resources", _PACKAGE.parent / "resources"):
        found = base.joinpath(*parts)
        if found.exists():
            return found
    raise FileNotFoundError(f"resources/{'/'.join(parts)} is missing beside {_PACKAGE}")


def data_folder() -> Path:
    """Return the folder for a person's own data (last farm, backups); it may not exist yet.

    ``PIGMAP_DATA`` overrides the platform's usual place.
    """
    return _folder(
        "PIGMAP_DATA", windows="APPDATA", mac="Library/Application Support", xdg=("XDG_DATA_HOME", ".local/share")
    )


def cache_folder() -> Path:
    """Return the folder for what can be made again (overview pictures); it may not exist yet.

    ``PIGMAP_CACHE`` overrides the platform's usual place.
    """
    return _folder("PIGMAP_CACHE", windows="LOCALAPPDATA", mac="Library/Caches", xdg=("XDG_CACHE_HOME", ".cache"))


def _folder(override: str, *, windows: str, mac: str, xdg: tuple[str, str]) -> Path:
    if chosen := os.environ.get(override):
        return Path(chosen)
    if sys.platform == "win32":
        return Path(os.environ.get(windows, Path.home())) / "pigmap"
    if sys.platform == "darwin":
        return Path.home() / mac / "pigmap"
    return Path(os.environ.get(xdg[0]) or Path.home() / xdg[1]) / "pigmap"
