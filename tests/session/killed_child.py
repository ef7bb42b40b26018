"""A process that edits a farm and says so over a connection, made to be killed.

Started as a program it loads everything once; for each line on its standard input it forks a child, so that a child
costs next to nothing. The child names each edit before it makes it, and acknowledges it after.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from multiprocessing.connection import Client, Connection
from pathlib import Path
from random import Random

from pigmap.records import Edit, RowChange
from pigmap.session import Session
from pigmap.text import Text
from tests.session.random_edits import random_changes

Said = tuple[str, Sequence[RowChange]]
"""``do``, ``undo`` or ``redo`` with the changes that are asked for, or ``done``."""


def main(address: str, path: str) -> None:
    """Fork a child for each seed that is asked for, and clear away the one before."""
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            work(address, Path(path), int(line))
            os._exit(0)
        os.waitpid(child, 0)


def work(address: str, path: Path, seed: int) -> None:
    """Edit the farm until someone ends it."""
    chance = Random(seed)
    with Client(address, family="AF_UNIX") as to_parent:
        to_parent.send(os.getpid())
        with Session.open(path) as session:
            while True:
                one(to_parent, session, chance)


def one(to_parent: Connection, session: Session, chance: Random) -> None:
    """Make an edit, or take one back, or do one again."""
    kind = chance.random()
    if kind < 0.2 and session.undo_label is not None:
        to_parent.send(("undo", ()))
        session.undo().result()
    elif kind < 0.35 and session.redo_label is not None:
        to_parent.send(("redo", ()))
        session.redo().result()
    else:
        changes = random_changes(chance, session.farm)
        to_parent.send(("do", changes))
        session.do(Edit(Text("Something"), lambda _: changes)).result()
    to_parent.send(("done", ()))


if __name__ == "__main__":
    main(*sys.argv[1:])
