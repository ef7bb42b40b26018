"""The command ``join``: brings what was done in a copy of the farm into the farm."""

from __future__ import annotations

import argparse
from pathlib import Path

from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import add_json, print_rows, say
from pigmap.errors import StoreError
from pigmap.plugins import Registry
from pigmap.session.joining.copy import FarmCopy
from pigmap.session.joining.told import open_conflicts, told
from pigmap.text import Text

COLUMNS = ("what", "stands", "other")


class JoinCommand:
    """Takes a copy that was edited on another computer; what was changed in both is listed side by side."""

    api = 1
    name = "join"
    summary = "brings what was done in a copy of the farm, on another computer, into the farm"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm and the copy."""
        add_farm(parser)
        parser.add_argument(
            "copy", metavar="COPY", type=Path, help="a copy of it that was edited apart; it stays as it is"
        )
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Join them in one step, which undo takes back."""
        copy: Path = given.copy
        if copy.exists() and given.farm.exists() and copy.samefile(given.farm):
            raise StoreError(
                "{file} is the farm itself.",
                remedy="Name the copy that came back from the other computer.",
                file=copy.name,
            )
        with open_farm(given, registry) as session:
            apart = FarmCopy(copy)
            label = session.join(apart).result().label
            apart.bring_pictures(session.path)
            rows = [
                {"what": each.what, "stands": each.kept, "other": each.other}
                for each in told(session.farm, *open_conflicts(session.path))
            ]
        if not given.json:
            say(label or Text("Joined."))
            if rows:
                say(
                    Text(
                        "{count} thing was changed in both. What was done last stands; look at it:",
                        plural="{count} things were changed in both. What was done last stands; look at them:",
                        count=len(rows),
                    )
                )
        if rows or given.json:
            print_rows(COLUMNS, rows, as_json=given.json)
        return 0


command = JoinCommand()
