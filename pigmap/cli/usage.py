"""Reading the command line: names of commands, their options, and the words for what cannot be read."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator
from typing import NoReturn

from pigmap.cli.command import Command
from pigmap.errors import PluginError, UsageError
from pigmap.plugins import Registry

HEAD = """usage: pigmap [COMMAND ...]

With nothing after it, opens the window on the last farm; without a display it writes
the sample farm, a picture of its window and its printed field map into pigmap-sample/.

commands:
"""

FOOT = """
  pigmap COMMAND --help   what a command takes
  pigmap --version        which version this is
"""


class Reader(argparse.ArgumentParser):
    """Reads the options of one command; what it cannot read becomes a `UsageError`."""

    def error(self, message: str) -> NoReturn:
        """Say what cannot be read, and where the options are listed."""
        raise UsageError(
            "{command}: {what}.",
            remedy="See: {command} --help",
            command=self.prog,
            what=_plainly(message.rstrip(".")),
        )


_PLAINER = (
    (re.compile(r"invalid choice: (.+) \(choose from (.+)\)"), r"there is no \1; choose from \2"),
    (re.compile(r"invalid int value: (.+)"), r"\1 is not a whole number"),
    (re.compile(r"invalid float value: (.+)"), r"\1 is not a number"),
    (re.compile(r"invalid \S+ value: (.+)"), r"\1 cannot be read"),
)


def _plainly(message: str) -> str:
    for pattern, plainer in _PLAINER:
        message = pattern.sub(plainer, message)
    return message


def reader(command: Command) -> Reader:
    """Return the reader of a command's options."""
    made = Reader(prog=f"pigmap {command.name}", description=command.summary, allow_abbrev=False)
    command.options(made)
    return made


def load(registry: Registry, name: str) -> Command:
    """Return a command by its name.

    Raises
    ------
    UsageError
        If there is none of that name: near names are suggested.
    PluginError
        If it is there and cannot be used, or nothing is installed.
    """
    names = [part.name for part in registry.parts("commands")]
    if names and name not in names:
        import difflib  # only for a slip of the pen

        near = difflib.get_close_matches(name, names, n=3, cutoff=0.5)
        remedy = "Did you mean {near}?" if near else "There are: {names}."
        raise UsageError(
            "There is no command {name}.",
            remedy=f"{remedy} See: pigmap --help",
            name=name,
            near=" or ".join(near),
            names=", ".join(names),
        )
    command: Command = registry.load("commands", name)
    return command


def overview(registry: Registry) -> str:
    """Return the list of all commands with a line each; one that cannot be used is listed with the reason."""
    lines = list(_lines(registry))
    wide = max((len(name) for name, _ in lines), default=0)
    return HEAD + "".join(f"  {name.ljust(wide)}  {words}\n" for name, words in lines) + FOOT


def _lines(registry: Registry) -> Iterator[tuple[str, str]]:
    for part in registry.parts("commands"):
        try:
            command: Command = registry.load("commands", part.name)
        except PluginError as reason:
            yield part.name, f"({reason.message})"
        else:
            yield part.name, command.summary
