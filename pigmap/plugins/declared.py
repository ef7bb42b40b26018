"""What installed distributions declare, kept from one start to the next as long as no folder they lie in changes."""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from importlib.metadata import Distribution, EntryPoint

GROUPS = "pigmap."
_SETTLED_NS = 2_000_000_000
"""A folder that changed less than this ago may change again without another time on it."""


class Declared(NamedTuple):
    """One entry point, and the distribution that declares it."""

    group: str
    name: str
    target: str
    shipper: str


def declared(kept_in: Path | None = None) -> list[Declared]:
    """Return the entry points of every installed distribution that are meant for this program.

    To look through all distributions takes some twentieth of a second. What was found is kept in a folder, if one is
    given, with the time of change of each folder that Python looks through: to install or remove a distribution
    changes one.
    """
    if kept_in is None:
        return list(of(installed()))
    path, places = kept_in / "declared.json", _places()
    kept = _kept(path, places)
    if kept is not None:
        return kept
    found = list(of(installed()))
    if all(changed < time.time_ns() - _SETTLED_NS for _, changed in places):
        _keep(path, places, found)
    return found


def installed() -> Iterator[EntryPoint]:
    """Yield every entry point of every installed distribution.

    ``importlib.metadata.entry_points`` is not used: before Python 3.12 it cannot be walked through without a group.
    """
    from importlib.metadata import distributions

    return (entry for distribution in distributions() for entry in distribution.entry_points)


def of(entries: Iterable[EntryPoint]) -> Iterator[Declared]:
    """Yield those of some entry points that are meant for this program."""
    names: dict[Distribution | None, str] = {None: "unknown"}
    for entry in entries:
        if entry.group.startswith(GROUPS):
            if entry.dist is not None and entry.dist not in names:
                names[entry.dist] = entry.dist.name  # each look at it reads the whole of the metadata anew
            shipper = names[entry.dist]
            yield Declared(entry.group, entry.name, entry.value, shipper)


def _places() -> list[tuple[str, int]]:
    """Return the folders and archives that Python looks through, and when each changed [ns]."""
    places = [(sys.prefix, sys.hexversion)]
    for place in sys.path:
        with suppress(OSError):
            places.append((os.path.abspath(place), os.stat(place or os.curdir).st_mtime_ns))
    return places


def _kept(path: Path, places: list[tuple[str, int]]) -> list[Declared] | None:
    try:
        saved = json.loads(path.read_text(encoding="utf-8"))
        if saved["places"] == [list(place) for place in places]:
            return [Declared(*map(str, each)) for each in saved["declared"]]
    except (OSError, ValueError, TypeError, KeyError):
        return None  # not kept yet, or no longer what this program writes
    return None


def _keep(path: Path, places: list[tuple[str, int]], found: list[Declared]) -> None:
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps({"places": places, "declared": found}), encoding="utf-8")
        part.replace(path)
