"""What breaks a rule as rows of a table, and as lines in which those of a kind are told together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from pigmap.cli.printing import Row
from pigmap.drawing.words import render
from pigmap.planning.accepted import all_the_same
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Stay
from pigmap.text import Text

COLUMNS = ("what", "rule", "day", "words", "remedy", "accepted", "table", "uid", "caution", "source")
MOST_NAMED = 4
"""Paddocks of one kind of caution that are named after the first."""


def breach_row(farm: Farm, rule: str, breach: Breach) -> Row:
    """Return a breach as a row of `COLUMNS`, with what its paddock is called."""
    stay = farm.stays.get(breach.uid) if breach.table == Stay.TABLE else None
    name = paddock_called(farm, stay.paddock_uid) if stay is not None else None
    return {
        "what": breach.weight,
        "rule": rule,
        "day": breach.day,
        "words": breach.words,
        "remedy": breach.remedy,
        "accepted": breach.accepted,
        "table": breach.table,
        "uid": breach.uid,
        "caution": breach.caution,
        "source": breach.source,
        "paddock": name if isinstance(name, str | Text) else None,
    }


def lines_of(rows: Iterable[Row]) -> Iterator[str]:
    """Yield rows as lines; a caution that several paddocks have in common is one line, with their names."""
    alike: dict[object, list[Row]] = {}
    for row in rows:
        alike.setdefault(_kind_of(row), []).append(row)
    for first, *others in alike.values():
        yield _line(first, others)


def _kind_of(row: Row) -> object:
    """Return what rows that are told together have in common; a row of its own is like no other."""
    if not row.get("caution") or row.get("accepted") or not row.get("paddock"):
        return id(row)
    remedy = row.get("remedy")
    return row["what"], row["rule"], row["caution"], render(remedy) if isinstance(remedy, Text) else remedy


def _line(row: Row, others: Sequence[Row]) -> str:
    accepted = str(row.get("accepted") or "")
    after = all_the_same(accepted) if accepted else row.get("remedy")
    said = [render(part) for part in (row.get("words"), after) if isinstance(part, Text) and part]
    named = dict.fromkeys(_name(each) for each in others if _name(each) != _name(row))
    if named:
        said.append(render(_so_with([*named])))
    source = row.get("source")
    if isinstance(source, Text) and source:
        said.append(f"({render(source)})")
    heading = " ".join(str(row.get(column) or "") for column in ("what", "day", "caution") if row.get(column))
    return f"{heading}: {' '.join(said)}"


def _name(row: Row) -> str:
    name = row.get("paddock")
    return render(name) if isinstance(name, Text) else str(name or "")


def _so_with(names: Sequence[str]) -> Text:
    shown = ", ".join(names[:MOST_NAMED])
    more = len(names) - MOST_NAMED
    if more > 0:
        return Text("Likewise: {names} and {more} more.", {"names": shown, "more": more})
    return Text("Likewise: {names}.", {"names": shown})
