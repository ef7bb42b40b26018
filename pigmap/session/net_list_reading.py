"""A list of nets read from a text file: as this program writes it, and as spreadsheets of many countries do."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

from pigmap.document.edits import ListedNet
from pigmap.errors import PigmapError, RecordError, StoreError
from pigmap.records import Net, NetCondition
from pigmap.session.net_list import COLUMNS, NetListFile
from pigmap.text import Text, Value

MOST_M = 500.0
"""No net is longer [m]. Own choice."""
MOST_BYTES = 4_000_000
_SLASHED = ("%d/%m/%Y", "%m/%d/%Y")
_DATES = ("%Y-%m-%d", "%Y/%m/%d", "%d.%m.%Y", "%d-%m-%Y", *_SLASHED)


def read_net_list(path: Path) -> NetListFile:
    """Read a list of nets: commas, semicolons or tabs; decimal points or commas; days as YYYY-MM-DD or as local.

    Raises
    ------
    StoreError
        If the file cannot be read.
    RecordError
        If it is no table, or has neither the kind nor the length of the nets.
    """
    rows = _table(path)
    (_, head), body = rows[0], rows[1:]
    columns = {_column(name): at for at, name in reversed([*enumerate(head)])}
    if not {"kind", "length_m"} & set(columns):
        raise RecordError(
            "{file} has no column for the kind or the length of nets; its columns are: {columns}.",
            remedy="Name them in its first row: {known}.",
            file=path.name,
            columns=", ".join(head),
            known=", ".join(COLUMNS),
        )
    known = {name: at for name, at in columns.items() if name in COLUMNS}
    days = [row[known[name]] for _, row in body for name in _DAYS if name in known and known[name] < len(row)]
    how = _slashed(path, days)
    listed: list[ListedNet] = []
    left_out: list[Text] = []
    for line, row in body:
        try:
            listed.append(_listed(line, row, known, len(head), how))
        except PigmapError as why:
            values: dict[str, Value] = {"line": line, "why": why.message, "remedy": why.remedy}
            left_out.append(Text("Line {line}: {why} {remedy}", values))
    unknown = [name for name in head if name and _column(name) not in COLUMNS]
    notes = tuple(Text("The column {column} is not taken in.", {"column": name}) for name in unknown)
    return NetListFile(path.name, tuple(listed), tuple(left_out), notes)


def net_list_head(path: Path) -> tuple[str, ...]:
    """Return the names of the columns of a table, as lists of nets are read; raises as `read_net_list`."""
    return tuple(_column(name) for name in _table(path)[0][1])


_DAYS = ("damaged_on", "first_used_on", "retired_on")


def _column(name: str) -> str:
    return name.strip().casefold().replace(" ", "_")


def _table(path: Path) -> list[tuple[int, list[str]]]:
    """Return the rows that are not empty, each with its line in the file."""
    text = _text(path)
    lines = list(io.StringIO(text, newline=""))  # other ends of lines are letters of words
    skipped = 1 if lines and lines[0].casefold().startswith("sep=") else 0
    head = lines[skipped] if len(lines) > skipped else ""
    mark = max(",;\t", key=head.count)
    reader = csv.reader(lines[skipped:], delimiter=mark)
    try:
        rows = [(reader.line_num + skipped, [cell.strip() for cell in row]) for row in reader]
    except csv.Error as why:
        raise _no_table(path) from why
    rows = [(line, row) for line, row in rows if any(row)]
    if len(rows) < 2:
        raise _no_table(path)
    return rows


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _no_table(path)
        raw = path.read_bytes()
    except OSError as error:
        raise StoreError(
            "{file} cannot be read: {why}.",
            remedy="Look whether it is there, and may be read.",
            file=path.name,
            why=(error.strerror or "no reason given").rstrip("."),
        ) from error
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return raw.decode("utf-16", errors="replace")
    if b"\0" in raw:
        raise _no_table(path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")  # as spreadsheets write it where nothing else is chosen


def _no_table(path: Path) -> RecordError:
    return RecordError(
        "{file} is not a list of nets.",
        remedy="Give a text file (CSV): a first row with {known}, then one row for each net.",
        file=path.name,
        known=", ".join(COLUMNS),
    )


def _listed(line: int, row: Sequence[str], columns: Mapping[str, int], wide: int, how: str) -> ListedNet:
    if any(row[wide:]):
        raise RecordError(
            "it has more values than there are columns.",
            remedy="Put what holds a comma between quotation marks, or part the values by semicolons.",
        )
    cells = {name: row[at] if at < len(row) else "" for name, at in columns.items()}
    told: dict[str, Any] = {name: cells[name] for name in ("number", "note") if name in cells}
    if "condition" in cells:
        told["condition"] = _condition(cells["condition"])
    told |= {name: _day(cells[name], how) for name in _DAYS if name in cells}
    told |= _damage(told, cells.get("condition", ""))
    Net(net_kind_uid="", **told)  # whether there can be such a net
    length = _length(cells.get("length_m", ""))
    return ListedNet(line=line, kind=cells.get("kind", ""), length_m=length, tape=cells.get("tape", ""), told=told)


def _length(told: str) -> float | None:
    if not told:
        return None
    try:
        length = float(told.replace(",", ".").removesuffix("m").strip())
    except ValueError:
        length = float("nan")
    if not 0.0 < length <= MOST_M:
        raise RecordError(
            "a net cannot be {length} m long.", remedy="Give its length in metres, such as 50.", length=told
        )
    return length


def _condition(told: str) -> NetCondition:
    words = told.casefold()
    if words not in ("", *NetCondition):
        raise RecordError("'{told}' is not how a net is.", remedy="Give sound or damaged.", told=told)
    return NetCondition(words) if words else NetCondition.SOUND


def _damage(told: Mapping[str, Any], condition: str) -> Mapping[str, Any]:
    """Return what a day of damage means for a net: it is damaged from then on; one in good order has no such day."""
    since = told.get("damaged_on")
    if since is None:
        return {"damaged_on": None} if told.get("condition") is NetCondition.SOUND else {}
    if condition and told["condition"] is NetCondition.SOUND:
        raise RecordError(
            "it is sound, and damaged on {day}.",
            remedy="Say that it is damaged, or leave that day empty where it is mended.",
            day=since,
        )
    return {"condition": NetCondition.DAMAGED}


def _day(told: str, how: str) -> date | None:
    if not told:
        return None
    for each in _DATES:
        if each not in _SLASHED or each == how:
            try:
                return datetime.strptime(told, each).date()
            except ValueError:
                continue
    raise RecordError("'{told}' is not a day.", remedy="Give it as YYYY-MM-DD, such as 2026-03-01.", told=told)


def _slashed(path: Path, days: Sequence[str]) -> str:
    """Return how days with slashes are written: a number above 12 tells day and month apart."""
    slashed = [day for day in days if day.count("/") == 2 and not day[:4].isdecimal()]
    read = [sum(_reads(day, how) for day in slashed) for how in _SLASHED]
    if slashed and read[0] == read[1] and not _alike(slashed):
        raise RecordError(
            "The days of {file}, such as {first}, do not say which number is the day and which the month.",
            remedy="Write them as YYYY-MM-DD.",
            file=path.name,
            first=slashed[0],
        )
    return _SLASHED[read.index(max(read))]


def _alike(days: Sequence[str]) -> bool:
    """Whether day and month are the same number in each."""
    return all(len({part.lstrip("0") for part in day.split("/")[:2]}) == 1 for day in days)


def _reads(told: str, how: str) -> bool:
    try:
        datetime.strptime(told, how)
    except ValueError:
        return False
    return True
