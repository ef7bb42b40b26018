"""The farm file that a command is given."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from pigmap.drawing.words import render
from pigmap.plugins import Registry
from pigmap.session import Session


def add_farm(parser: argparse.ArgumentParser) -> None:
    """Declare the argument FARM."""
    parser.add_argument("farm", metavar="FARM", type=Path, help="a farm file (.gpkg)")


def open_farm(given: argparse.Namespace, registry: Registry, *, tell: bool = True) -> Session:
    """Open the farm file that was named; used as a context manager it closes again.

    What in it could not be read is told on standard error, unless the command itself does so.

    Raises
    ------
    StoreError
        If there is no such file, it is no farm file, or it cannot be read.
    """
    farm: Path = given.farm
    session = Session.open(farm, registry=registry)
    for note in session.notes if tell else ():
        sys.stderr.write(f"{render(note)}\n")
    return session
