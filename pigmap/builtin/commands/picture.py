"""The command ``picture``: draws the whole window into a file."""

from __future__ import annotations

import argparse
import re
from datetime import date
from pathlib import Path

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import remark, say
from pigmap.errors import UsageError
from pigmap.plugins import Registry

USUAL_SIZE = (1600, 1000)
_SIZE = re.compile(r"(\d{1,6})[x\u00d7](\d{1,6})")


class PictureCommand:
    """Draws the window off screen, as it would stand on a display."""

    api = 1
    name = "picture"
    summary = "draws the whole window into a file, without a display"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the file and the look."""
        add_farm(parser)
        parser.add_argument("-o", "--output", metavar="OUT.png", type=Path, required=True, help="the picture")
        parser.add_argument("--on", metavar="DATE", type=day, help="the day that is shown; today if not given")
        parser.add_argument("--show", metavar="NAME", default="", help="how the ground is coloured: rest, ready, ...")
        parser.add_argument("--theme", metavar="THEME", default="light", help="light, dark or bright")
        parser.add_argument("--size", metavar="WIDExHIGH", type=size, default=USUAL_SIZE, help="in pixels: 1600x1000")
        parser.add_argument("--density", metavar="N", type=float, default=1.0, help="2 for sharp screens and print")
        parser.add_argument("--panel", metavar="NAME", default="", help="one panel alone: groups, season, key, ...")

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Draw it and print the path."""
        write = registry.load("faces", "picture")
        with open_farm(given, registry) as session:
            said = write(
                session,
                given.output,
                day=given.on or date.today(),
                show=given.show,
                theme=given.theme,
                size=given.size,
                density=given.density,
                panel=given.panel,
            )
        if said:
            remark(said)
        say(str(given.output))
        return 0


def size(typed: str) -> tuple[int, int]:
    """Return breadth and height that were typed as ``1600x1000``.

    Raises
    ------
    UsageError
        If it does not read as two numbers.

    Examples
    --------
    >>> size("1280x800")
    (1280, 800)
    """
    found = _SIZE.fullmatch(typed.strip().lower())
    if found is None:
        raise UsageError(
            "{typed} is not a size.", remedy="Give breadth and height in pixels, such as 1600x1000.", typed=typed
        )
    return int(found[1]), int(found[2])


command = PictureCommand()
