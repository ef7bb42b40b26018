"""The farm file that a command is given."""

from __future__ import annotations

import argparse
from pathlib import Path

from pigmap.plugins import Registry
from pigmap.session import Session


def add_farm(parser: argparse.ArgumentParser) -> None:
    """Declare the argument FARM."""
    parser.add_argument("farm", metavar="FARM", type=Path, help="a farm file (.gpkg)")


def open_farm(given: argparse.Namespace, registry: Registry) -> Session:
    """Open the farm file that was named; used as a context manager it closes again.

    Raises
    ------
    StoreError
        If there is no such file, it is no farm file, or it cannot be read.
    """
    farm: Path = given.farm
    return Session.open(farm, registry=registry)
