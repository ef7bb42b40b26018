"""The contract of a command."""

from __future__ import annotations

import argparse
from typing import Protocol

from pigmap.plugins import Registry


class Command(Protocol):
    """One command of the command line.

    ``api = 1``. ``run`` returns the exit status: 0 done, 1 refused or breaches found, 2 wrong usage. A
    `PigmapError` that it raises is printed in words on standard error, with status 1 (2 for a `UsageError`).
    """

    api: int
    name: str
    summary: str
    """One line for the list of commands."""

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare arguments and options."""
        ...

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Do it."""
        ...
