"""One farm from two that were edited apart: what was changed in one copy holds; what in both, as it was changed last.

Nothing that somebody worked on is lost: a row that was removed in one copy and changed in the other, or that a row
of the other needs, stays. The answer is the same whichever copy is asked first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from pigmap.errors import PigmapError
from pigmap.records import TABLES, Farm, Record, RowChange, Setting
from pigmap.records.frozen import dataclass
from pigmap.session.joining.apart import WHOLE_ROW, Apart, Stamp
from pigmap.store.copies import Conflict, as_json
from pigmap.store.rows import codec
from pigmap.store.tables import RULES

Key = tuple[str, str]
"""Table and uid of a row."""


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One copy: its farm as it stands, and what was done in it alone."""

    farm: Farm
    apart: Apart

    def row(self, key: Key) -> Record | None:
        """Return a row as it stands, None where there is none."""
        return self.farm.rows(key[0]).get(key[1])

    def stamps(self, key: Key) -> Mapping[str, Stamp]:
        """Return what was touched of a row in this copy alone."""
        return self.apart.touched.get(key, {})

    def last(self, key: Key) -> Stamp:
        """Return when a row was touched last."""
        return max(self.stamps(key).values(), default=Stamp("", ""))


@dataclass(frozen=True, slots=True)
class Merged:
    """What becomes of the farm of one copy."""

    changes: tuple[RowChange, ...]
    conflicts: tuple[Conflict, ...]


def merged(here: Side, there: Side) -> Merged:
    """Return the changes that make the farm of one copy that of both, and what was changed in both."""
    rows: dict[Key, Record | None] = {}
    conflicts: list[Conflict] = []
    if not here.apart.touched:  # nothing was done here that is not there: what is there is both
        rows.update(_all_of(here, there))
        return Merged(tuple(_changes(here, rows)), ())
    keys = sorted({*here.apart.touched, *there.apart.touched})
    for key in keys:
        if key[0] in TABLES:
            rows[key] = _row(key, here, there, conflicts)
    _one_of_each_setting(here, there, rows, conflicts)
    _what_is_needed(here, there, rows, conflicts)
    return Merged(tuple(_changes(here, rows)), tuple(sorted(set(conflicts), key=_by_row)))


def _all_of(here: Side, there: Side) -> Iterator[tuple[Key, Record | None]]:
    for table in TABLES:
        for uid in sorted({*here.farm.rows(table), *there.farm.rows(table)}):
            yield (table, uid), there.row((table, uid))


def _by_row(conflict: Conflict) -> tuple[str, str, str]:
    return conflict.table, conflict.uid, conflict.column


def _row(key: Key, here: Side, there: Side, conflicts: list[Conflict]) -> Record | None:
    one, other = here.row(key), there.row(key)
    if not here.stamps(key):
        return other
    if not there.stamps(key):
        return one
    if one is None or other is None:
        kept, lost = (there, here) if one is None else (here, there)
        if kept.row(key) is not None:
            conflicts.append(_of_row(key, kept, lost))
        return kept.row(key)
    return _both(key, here, there, conflicts)


def _of_row(key: Key, kept: Side, lost: Side) -> Conflict:
    """Return the conflict about a row that is kept in spite of being removed in one copy."""
    return Conflict(key[0], key[1], WHOLE_ROW, None, None, kept.last(key).edit_uid, lost.last(key).edit_uid)


def _both(key: Key, here: Side, there: Side, conflicts: list[Conflict]) -> Record:
    """Return a row of which both copies changed something, column by column."""
    one, other = here.row(key), there.row(key)
    assert one is not None
    assert other is not None
    taken: dict[str, Any] = {}
    for column in codec(key[0]).columns:
        mine, theirs = getattr(one, column.attribute), getattr(other, column.attribute)
        if column.name == "uid" or mine == theirs:
            continue
        stamps = here.stamps(key).get(column.name), there.stamps(key).get(column.name)
        if stamps[0] is not None and stamps[1] is not None:
            conflicts.append(_of_column(key, column.name, here, there))
        if (stamps[1] or Stamp("", "")) > (stamps[0] or Stamp("", "")):
            taken[column.attribute] = theirs
    try:
        return replace(one, **taken)
    except PigmapError:  # each of the two can be, but not both together: the one that was touched last stands whole
        kept, lost = (here, there) if here.last(key) > there.last(key) else (there, here)
        conflicts[:] = [each for each in conflicts if each[:2] != key]
        conflicts += [
            _of_column(key, column.name, kept, lost, later_row=True)
            for column in codec(key[0]).columns
            if getattr(one, column.attribute) != getattr(other, column.attribute)
        ]
        row = kept.row(key)
        assert row is not None
        return row


def _of_column(key: Key, column: str, one: Side, other: Side, *, later_row: bool = False) -> Conflict:
    """Return the conflict about a column, with the later value as the one that is kept."""
    found = [(side.stamps(key).get(column, Stamp("", "")), side) for side in (one, other)]
    if later_row:
        (kept_at, kept), (lost_at, lost) = ((side.last(key), side) for side in (one, other))
    else:
        (lost_at, lost), (kept_at, kept) = sorted(found, key=lambda each: each[0])
    stands, falls = (as_json(key[0], column, _value(side.row(key), key[0], column)) for side in (kept, lost))
    return Conflict(key[0], key[1], column, stands, falls, kept_at.edit_uid, lost_at.edit_uid)


def _value(row: Record | None, table: str, column: str) -> Any:
    attribute = next(each.attribute for each in codec(table).columns if each.name == column)
    return getattr(row, attribute, None)


def _one_of_each_setting(here: Side, there: Side, rows: dict[Key, Record | None], conflicts: list[Conflict]) -> None:
    """Where both copies made a setting of one key, keep the one that was set last."""
    by_key: dict[str, dict[str, Setting]] = {}
    for side in (here, there):
        for setting in side.farm.settings.values():
            standing = rows.get((Setting.TABLE, setting.uid), setting)
            if isinstance(standing, Setting):
                by_key.setdefault(standing.key, {})[standing.uid] = standing
    for found in by_key.values():
        if len(found) < 2:
            continue
        last = {uid: max(side.last((Setting.TABLE, uid)) for side in (here, there)) for uid in found}
        *lost, kept = sorted(found, key=lambda uid: (last[uid], uid))
        for uid in lost:
            rows[Setting.TABLE, uid] = None
            if found[uid].value_json != found[kept].value_json:
                stands, other = (as_json(Setting.TABLE, "value_json", found[each].value_json) for each in (kept, uid))
                edits = last[kept].edit_uid, last[uid].edit_uid
                conflicts.append(Conflict(Setting.TABLE, kept, "value_json", stands, other, *edits))


def _what_is_needed(here: Side, there: Side, rows: dict[Key, Record | None], conflicts: list[Conflict]) -> None:
    """Keep rows that were removed in one copy where what the other brings needs them."""
    while True:
        missing = {key for key in _referred(here, rows) if _standing(here, rows, key) is None}
        back = {key: side for key in sorted(missing) for side in (here, there) if side.row(key) is not None}
        if not back:
            return
        for key, side in back.items():
            rows[key] = side.row(key)
            lost = there if side is here else here
            if lost.stamps(key):
                conflicts.append(_of_row(key, side, lost))


def _standing(here: Side, rows: Mapping[Key, Record | None], key: Key) -> Record | None:
    return rows[key] if key in rows else here.row(key)


def _referred(here: Side, rows: Mapping[Key, Record | None]) -> Iterator[Key]:
    """Yield the rows that what is to stand points at."""
    for table, rule in RULES.items():
        uids = {*here.farm.rows(table), *(uid for of, uid in rows if of == table)} if rule.refers else ()
        for uid in uids:
            row = _standing(here, rows, (table, uid))
            for column, target in rule.refers.items():
                to = getattr(row, column, None)
                if to:
                    yield target, to


def _changes(here: Side, rows: Mapping[Key, Record | None]) -> Iterator[RowChange]:
    """Yield the changes of one copy in an order in which no row points at one that is not there."""
    order = {table: at for at, table in enumerate(TABLES)}
    twice = [RowChange(here.row(key), None) for key, row in rows.items() if _is_setting_gone(here, key, row)]
    yield from twice  # no two may have one key, not even for a moment
    removed: list[RowChange] = []
    for key in sorted(rows, key=lambda key: (order[key[0]], key[1])):
        before, after = here.row(key), rows[key]
        if _is_setting_gone(here, key, after):
            continue
        if after is None and before is not None:
            removed.append(RowChange(before, None))
        elif after is not None and before != after:
            yield RowChange(before, after)
    yield from reversed(removed)


def _is_setting_gone(here: Side, key: Key, after: Record | None) -> bool:
    return key[0] == Setting.TABLE and after is None and here.row(key) is not None
