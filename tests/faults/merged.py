"""Copies of a farm that were edited apart at random, joined from both sides, beside a second opinion on the rows."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from random import Random

from pigmap.records import Record
from pigmap.store.health import findings
from tests.faults.counts import Counts
from tests.session.joining.pairs import conflicts_of, joined, made, rows_of

Rows = dict[str, dict[str, Record]]


def merged_copies(folder: Path, wanted: int, seed: int = 1) -> Counts:
    """Join pairs from both sides: they end alike, what one side changed holds, what both changed is listed."""
    counts = Counts("merged", wanted, "pairs")
    counts.bad.update({"not alike": 0, "lost": 0, "not listed": 0, "not sound": 0})
    for number in range(wanted):
        here = folder / str(number)
        here.mkdir()
        one, other = made(here, Random(seed * 1_000_003 + number))
        base, mine, theirs = rows_of(here / "base.gpkg"), rows_of(one), rows_of(other)
        back = here / "other as it was.gpkg"
        shutil.copy(other, back)
        joined(other, one)
        joined(one, back)
        counts.tried += 1
        result, conflicts = rows_of(one), conflicts_of(one)
        if result != rows_of(other) or conflicts != conflicts_of(other):
            counts.lose("not alike", f"pair {number}")
        listed = {(table, uid, column) for table, uid, column, *_ in conflicts}
        counts.count("conflicts", len(listed))
        for kind, words in _wrong(base, mine, theirs, result, listed):
            counts.lose(kind, f"pair {number}: {words}")
        for path in (one, other):
            if found := findings(path):
                counts.lose("not sound", str(found[0]))
        shutil.rmtree(here)
    return counts


def _wrong(
    base: Rows, mine: Rows, theirs: Rows, result: Rows, listed: set[tuple[str, str, str]]
) -> Iterator[tuple[str, str]]:
    """Yield what three states of the farm, compared column by column, say against the fourth."""
    for table in base:
        for uid in {*base[table], *mine[table], *theirs[table]}:
            rows = [rows[table].get(uid) for rows in (base, mine, theirs, result)]
            whole = (table, uid, "") in listed
            yield from _wrong_row(
                f"{table} {uid}", rows, whole, {column for t, u, column in listed if (t, u) == (table, uid)}
            )


def _wrong_row(name: str, rows: list[Record | None], whole: bool, listed: set[str]) -> Iterator[tuple[str, str]]:
    was, mine, theirs, now = rows
    if was is None:
        if now not in (mine, theirs) or (now is None and name.split()[0] != "settings"):
            yield "lost", f"{name} was added by one of them"
        return
    if mine is None or theirs is None:
        other = theirs if mine is None else mine
        if other not in (None, was) and now is None:
            yield "lost", f"{name} was changed by one and removed by the other"
        if other not in (None, was) and not whole:
            yield "not listed", f"{name} was changed by one and removed by the other"
        return
    if now is None:
        yield "lost", f"{name} was removed by none"
        return
    for each in fields(was):
        before, one, two, after = (getattr(row, each.name) for row in (was, mine, theirs, now))
        column = each.name if not hasattr(before, "geom_type") else "geom"
        if one != before and two != before and one != two and column not in listed:
            yield "not listed", f"{name} {column}"
        if column not in listed and after != (one if one != before else two):
            yield "lost", f"{name} {column}"
