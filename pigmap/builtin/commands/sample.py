"""The command ``sample``: writes the sample farm."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from pigmap.cli.dates import day
from pigmap.cli.printing import add_json, print_rows, say
from pigmap.plugins import Registry
from pigmap.session.sample import write_sample


class SampleCommand:
    """Writes the invented farm with its aerial image and weather, and prints the paths."""

    api = 1
    name = "sample"
    summary = "writes the sample farm with its aerial image and weather into a folder"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the folder and the day."""
        parser.add_argument("folder", metavar="FOLDER", type=Path, help="made if it is not there")
        parser.add_argument("--on", metavar="DATE", type=day, help="the day the farm is at; today if not given")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Write it."""
        paths = write_sample(given.folder, today=given.on or date.today())
        if given.json:
            rows = [{"what": what, "path": str(path)} for what, path in paths._asdict().items()]
            print_rows(("what", "path"), rows, as_json=True)
        else:
            for path in paths:
                say(str(path))
        return 0


command = SampleCommand()
