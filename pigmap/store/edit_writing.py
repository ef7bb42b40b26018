"""One edit as a whole put into a farm file, and a farm file made with its first one."""

from __future__ import annotations

import getpass
import platform
import sqlite3
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from pigmap.records import Projection, RowChange, new_uid
from pigmap.store.connection import close, connect
from pigmap.store.frame import make_frame
from pigmap.store.migrations import bring_up_to_date
from pigmap.store.writing import write_row
from pigmap.text import Text, text_to_json

MADE = Text("Farm file made")


def make_file(part: Path, projection: Projection, rows: Sequence[RowChange], made_by: str) -> None:
    """Make a farm file with some first rows."""
    part.touch(exist_ok=False)
    db = connect(part)
    try:
        db.execute("BEGIN IMMEDIATE")
        make_frame(db, projection)
        bring_up_to_date(db)
        (srs_id,) = db.execute("SELECT srs_id FROM pigmap_document").fetchone()
        write_edit(db, srs_id, new_uid(), MADE, rows, made_by=made_by, can_undo=False)
        db.execute("COMMIT")
    finally:
        close(db)


def write_edit(
    db: sqlite3.Connection,
    srs_id: int,
    edit_uid: str,
    label: Text,
    changes: Sequence[RowChange],
    *,
    made_by: str,
    undoes: str | None = None,
    can_undo: bool = True,
) -> None:
    """Write one edit, in the transaction that is open."""
    edit = db.execute(
        "INSERT INTO pigmap_edits (edit_uid, made_by, computer, label, undoes_edit_uid, can_undo) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        (edit_uid, *whose(made_by), text_to_json(label), undoes, int(can_undo)),
    )
    db.execute("UPDATE pigmap_document SET current_edit = ?", (edit.lastrowid,))
    for change in changes:
        write_row(db, srs_id, change)
    db.execute("UPDATE pigmap_document SET current_edit = NULL")


def whose(made_by: str) -> tuple[str, str]:
    """Return who made an edit and on which computer; what a named program makes belongs to no computer."""
    return (made_by, "") if made_by else (person(), platform.node())


@cache
def person() -> str:
    """Return the name under which a person uses the computer; empty where nobody has one."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return ""  # nobody has to have a name on a computer
