"""The command ``open``: opens the window on a farm."""

from __future__ import annotations

import argparse
from pathlib import Path

from pigmap.cli.display import without_display
from pigmap.errors import DisplayError
from pigmap.plugins import Registry


class OpenCommand:
    """Opens the window; without a display it says so and names the commands that need none."""

    api = 1
    name = "open"
    summary = "opens the window on a farm"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm."""
        parser.add_argument("farm", metavar="FARM", type=Path, help="a farm file (.gpkg)")

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Open it, and stay until the window is closed."""
        if without_display():
            raise DisplayError(
                "The window needs a display, and there is none here.",
                remedy="Draw it into a file with: pigmap picture; or print the field map with: pigmap sheet.",
            )
        return int(registry.load("faces", "window")(given.farm))


command = OpenCommand()
