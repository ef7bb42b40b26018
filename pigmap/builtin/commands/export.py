"""The command ``export``: hands what the farm knows to other programs and to phones."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import remark, say
from pigmap.errors import UsageError
from pigmap.plugins import Registry
from pigmap.session.handing_out import SUFFIXES, WHAT, Asked, hand_out, handed, need_suffix, need_table
from pigmap.session.net_list import write_net_list


class ExportCommand:
    """Writes a table of the farm, with its shapes, into a file of an open format."""

    api = 1
    name = "export"
    summary = "hands fields, paddocks, corners for a phone, stays, checks and more to other programs"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, what of it, and the file."""
        add_farm(parser)
        parser.add_argument("--what", choices=WHAT, required=True, help="what of the farm")
        kinds = f"{', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]}"
        parser.add_argument(
            "-o", "--output", metavar="OUT", type=Path, required=True, help=f"a file that ends in {kinds}"
        )
        parser.add_argument("--field", metavar="NAME", default="", help="only what belongs to this field")
        parser.add_argument("--paddock", metavar="NAME", default="", help="only the corners of this paddock")
        parser.add_argument("--on", metavar="DATE", type=day, help="the day of the ground and of the pigs; today")
        parser.add_argument("--by", choices=("cell", "paddock", "field"), help="pieces of ground; paddock if not given")

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Write the file; what it cannot hold is told on standard error."""
        _check_usage(given)
        today = date.today()
        with open_farm(given, registry) as session:
            if given.what == "nets":
                write_net_list(session.farm, given.output)
            else:
                asked = Asked(
                    what=given.what,
                    on=given.on or today,
                    today=today,
                    field=given.field,
                    paddock=given.paddock,
                    by=given.by or "paddock",
                )
                for note in hand_out(handed(session, asked), given.output, session.farm.projection):
                    remark(note)
        say(str(given.output))
        return 0


def _check_usage(given: argparse.Namespace) -> None:
    output: Path = given.output
    need_suffix(output)
    need_table(given.what, output)
    for option, value, what in (("--paddock", given.paddock, "corners"), ("--by", given.by, "ground")):
        if value and given.what != what:
            raise UsageError(
                "{option} counts only with --what {what}.",
                remedy="Leave it out, or give --what {what}.",
                option=option,
                what=what,
            )


command = ExportCommand()
