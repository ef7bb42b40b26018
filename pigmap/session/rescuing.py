"""The ways back from a damaged farm file: a rescued copy beside it, or its newest good backup as a farm of its own."""

from __future__ import annotations

from pathlib import Path

from pigmap.paths import data_folder
from pigmap.session.backups import Backup, newest_good, open_as_copy
from pigmap.session.new_farm import Made
from pigmap.store.health import Progress
from pigmap.store.opening import opens_well
from pigmap.store.rescue import rescue
from pigmap.store.rights import takes_files
from pigmap.text import Text

__all__ = ["Backup", "backup_opened", "may_be_rescued", "newest_good", "rescued", "rescued_path"]


def may_be_rescued(path: Path) -> bool:
    """Whether a farm file that does not open has something in it that a rescued copy could hold."""
    return path.is_file() and path.stat().st_size > 0 and not opens_well(path)


def rescued_path(path: Path) -> Path:
    """Return a free name for a rescued copy: beside the farm file, or among the person's own if that cannot be."""
    folder = path.absolute().parent
    if not takes_files(folder):
        folder = data_folder() / "rescued"
        folder.mkdir(parents=True, exist_ok=True)
    to, number = folder / f"{path.stem}, rescued.gpkg", 1
    while to.exists():
        number += 1
        to = folder / f"{path.stem}, rescued ({number}).gpkg"
    return to


def rescued(path: Path, progress: Progress = lambda _: None) -> Made:
    """Write a rescued copy and return it as a farm to open, with what is to be said of it.

    Raises
    ------
    StoreError
        If nothing of a farm can be read, or the copy cannot be written.
    """
    made = rescue(path, rescued_path(path), progress)
    stays = Text("The damaged file was not changed; keep it until you have looked through this one.")
    return Made(made.path, (made.words, stays))


def backup_opened(backup: Backup, path: Path) -> Made:
    """Write a backup beside the farm file and return it as a farm to open; raises as `open_as_copy`."""
    copy = open_as_copy(backup, path)
    words = Text("This is {copy}, the newest good backup. The damaged file was not changed.", {"copy": copy.name})
    return Made(copy, (words,))
