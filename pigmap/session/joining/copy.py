"""A copy of a farm file that was edited on another computer, and what comes of joining the two."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pigmap.errors import EditError
from pigmap.records import Farm
from pigmap.session.joining.apart import Apart, apart
from pigmap.session.joining.merged import Side, merged
from pigmap.session.writer import Joining
from pigmap.store import FarmFile
from pigmap.store.copies import CopyLog, EditMade
from pigmap.store.pictures import copy_pictures
from pigmap.text import Text


class FarmCopy:
    """A copy as it stood when it was read; its file is not changed and not held.

    Parameters
    ----------
    path
        The copy's file.

    Raises
    ------
    StoreError
        If it is missing, damaged, no farm file, or of a newer program.
    """

    def __init__(self, path: Path) -> None:
        file = FarmFile.open(path, read_only=True)
        try:
            self.farm = file.read()
            self.log = file.copy_log()
        finally:
            file.close()
        self.path, self.name = path, path.name

    def bring_pictures(self, farm: Path) -> int:
        """Keep in a farm file the pictures of photos that it has not; return how many."""
        return copy_pictures(self.path, farm)

    def joining(self, farm: Farm, log: CopyLog) -> Joining:
        """Return what joining it with a farm comes to.

        Raises
        ------
        EditError
            If it is no copy of that farm, or there is nothing in it that is not there.
        """
        if self.log.document_uid != log.document_uid:
            raise EditError(
                "{file} is no copy of this farm: the two were made apart.",
                remedy="Open the farm it is a copy of and bring it in there. What one farm has can go to another by "
                "export and import.",
                file=self.name,
            )
        there = apart(self.log, log)
        if not there.edits and not there.touched:
            raise EditError(
                "All that was done in {file} is here already.",
                remedy="Nothing is to be done. To bring its keeper up to date, give them a copy of this file.",
                file=self.name,
            )
        found = merged(Side(farm, apart(log, self.log)), Side(self.farm, there))
        return Joining(_label(self.name, there), found.changes, there.edits, found.conflicts)


def _label(name: str, there: Apart) -> Text:
    if all(not each.edit_id for each in there.edits):
        return Text("Brought in what other software did in {file}.", {"file": name})
    return Text(
        "Brought in {count} step from {file} ({where}).",
        {"file": name, "where": _where(there.edits)},
        plural="Brought in {count} steps from {file} ({where}).",
        count=len(there.edits),
    )


def _where(edits: Sequence[EditMade]) -> str:
    """Return whose and on which computers the edits were made."""
    names = dict.fromkeys(" at ".join(each for each in (edit.made_by, edit.computer) if each) for edit in edits)
    return ", ".join(name for name in names if name) or "?"
