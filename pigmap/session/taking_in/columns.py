"""Which column of a file tells what: by its usual names, by what was chosen, and by what was chosen before."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pigmap.errors import UsageError
from pigmap.records import Farm
from pigmap.session.taking_in.usual import KIND_WORDS, NEEDED, USUAL

SETTING = "columns of files"
"""Setting of the farm: for each set of columns that was met, which of them told what."""
MOST_KEPT = 40
"""Sets of columns that are remembered; the oldest is forgotten. Own choice."""

Columns = Mapping[str, str]
"""What is told, and the column of the file that tells it."""

_UNIT = re.compile(r"[\[(].*?[\])]")


def plain(name: str) -> str:
    """Return the name of a column without its unit, as usual names are written.

    Examples
    --------
    >>> plain("Fence kV [kV]"), plain(" Moved in ")
    ('fence_kv', 'moved_in')
    """
    return re.sub(r"[\s\-]+", "_", _UNIT.sub("", name).strip().casefold())


def columns_for(kind: str, head: Sequence[str], chosen: Columns) -> dict[str, str]:
    """Return which column of a file tells what.

    Raises
    ------
    UsageError
        If something was chosen that is not told of this kind, or a column that the file has not; or what is needed
        has no column.
    """
    usual = USUAL[kind]
    for what, column in chosen.items():
        if what not in usual:
            raise UsageError(
                "{what} is not told of {kind}.",
                remedy="Choose of: {known}.",
                what=what,
                kind=KIND_WORDS[kind],
                known=", ".join(usual) or "-",
            )
        if column not in head:
            raise UsageError(
                "There is no column {column} in the file.",
                remedy="Its columns are: {columns}.",
                column=column,
                columns=_listed(head),
            )
    by_name = {plain(name): name for name in reversed(head)}
    found = {
        what: by_name[name] for what, names in usual.items() if (name := next((n for n in names if n in by_name), ""))
    }
    found |= chosen
    missing = [what for what in NEEDED.get(kind, ()) if what not in found]
    if missing:
        raise UsageError(
            "The file has no column for {what}; its columns are: {columns}.",
            remedy="Say which one it is, or name it so in the file.",
            what=missing[0],
            columns=_listed(head),
        )
    return found


def _listed(head: Sequence[str]) -> str:
    return ", ".join(head[:30]) or "-"


def signature(kind: str, head: Iterable[str]) -> str:
    """Return what a set of columns is known by when its like comes again."""
    return "|".join([kind, *sorted(plain(name) for name in head)])


def remembered(farm: Farm, kind: str, head: Sequence[str]) -> dict[str, str]:
    """Return what was chosen for such a file before."""
    kept: Any = _kept(farm).get(signature(kind, head))
    if not isinstance(kept, dict):
        return {}
    return {str(what): str(column) for what, column in kept.items() if column in head and what in USUAL[kind]}


def with_remembered(farm: Farm, kind: str, head: Iterable[str], chosen: Columns) -> dict[str, Any] | None:
    """Return the setting once this choice is remembered too; None where nothing changes."""
    kept = _kept(farm)
    key = signature(kind, head)
    if not chosen or kept.get(key) == dict(chosen):
        return None
    kept.pop(key, None)
    kept[key] = dict(chosen)
    return dict(list(kept.items())[-MOST_KEPT:])


def _kept(farm: Farm) -> dict[str, Any]:
    kept = farm.setting(SETTING)
    return dict(kept) if isinstance(kept, dict) else {}
