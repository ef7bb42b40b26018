"""The command line: finds the command, runs it, and puts what was refused into words."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence

from pigmap import __version__
from pigmap.cli.printing import complain, say
from pigmap.cli.usage import load, overview, reader
from pigmap.errors import PigmapError, PluginError, UsageError
from pigmap.paths import cache_folder
from pigmap.plugins import Part, Registry

DONE, REFUSED, WRONG_USAGE, STOPPED = 0, 1, 2, 130


def main(arguments: Sequence[str] | None = None, registry: Registry | None = None) -> int:
    """Run the command line and return its exit status.

    Parameters
    ----------
    arguments
        What stands after ``pigmap``; by default that of this process.
    registry
        The contributed parts; by default everything that is installed.

    Returns
    -------
    int
        0 done, 1 refused or breaches found, 2 wrong usage, 130 stopped from the keyboard.
    """
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        status = _answer(given, registry if registry is not None else Registry(kept_in=cache_folder()))
        sys.stdout.flush()
    except PigmapError as refused:
        complain(refused)
        return WRONG_USAGE if isinstance(refused, UsageError) else REFUSED
    except BrokenPipeError:
        _leave_the_pipe()
        return REFUSED
    except KeyboardInterrupt:
        return STOPPED
    return status


def run_command(registry: Registry, name: str, given: Sequence[str]) -> int:
    """Run one command with its arguments and return its status."""
    command = load(registry, name)
    try:
        return command.run(reader(command).parse_args(minus_kept(given)), registry)
    except SystemExit as left:  # argparse leaves this way after --help
        return left.code if isinstance(left.code, int) else DONE
    except (PigmapError, BrokenPipeError):
        raise
    except Exception as fault:
        part = next(part for part in registry.parts("commands") if part.name == name)
        if part.built_in:
            raise
        raise _stranger_failed(part, fault) from fault


def minus_kept(given: Sequence[str]) -> list[str]:
    """Return arguments with a value that begins with a minus tied to its option, which it would else be taken for.

    Examples
    --------
    >>> minus_kept(["a.gpkg", "--at", "-99.18,47.03", "-o", "b"])
    ['a.gpkg', '--at=-99.18,47.03', '-o', 'b']
    """
    kept: list[str] = []
    for word in given:
        if kept and kept[-1].startswith("--") and "=" not in kept[-1] and _BEGINS_MINUS.match(word):
            kept[-1] = f"{kept[-1]}={word}"
        else:
            kept.append(word)
    return kept


_BEGINS_MINUS = re.compile(r"-\.?\d")


def _answer(given: list[str], registry: Registry) -> int:
    match given:
        case []:
            from pigmap.cli.start import start

            return start(registry)
        case ["-h" | "--help" | "help"]:
            say(overview(registry).rstrip("\n"))
        case ["help", name, *_]:
            return run_command(registry, name, ["--help"])
        case ["-V" | "--version"]:
            say(f"pigmap {__version__}")
        case [option, *_] if option.startswith("-"):
            raise UsageError(
                "pigmap has no option {option}.", remedy="Options follow a command. See: pigmap --help", option=option
            )
        case [name, *rest]:
            return run_command(registry, name, rest)
    return DONE


def _stranger_failed(part: Part, fault: Exception) -> PluginError:
    return PluginError(
        "{shipper}: command {name} stopped half way: {why}.",
        remedy="Its maker can mend it; the commands of pigmap itself work without it.",
        shipper=part.shipper,
        name=part.name,
        why=f"{type(fault).__name__}: {fault}".rstrip("."),
    )


def _leave_the_pipe() -> None:
    # Python would complain once more while it closes standard output (docs of the signal module, "SIGPIPE").
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
