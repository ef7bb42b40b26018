from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pigmap.errors import EditError, PigmapError
from pigmap.records import TABLES, Record, RowChange
from pigmap.store.columns import MOST_NUMBER, columns
from pigmap.store.connection import add_functions
from pigmap.store.frame import make_frame
from pigmap.store.migrations import STEPS, bring_up_to_date
from pigmap.store.rows import codec
from pigmap.store.writing import write_row
from tests.store.made import PROJECTION, one_of_each
from tests.store.strategies import records

KINDS = list(TABLES.values())


@pytest.fixture(scope="module")
def db() -> Iterator[sqlite3.Connection]:
    """Return a farm file in memory; references are not looked at, so that any row can stand alone."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    add_functions(connection)
    make_frame(connection, PROJECTION)
    bring_up_to_date(connection)
    yield connection
    connection.close()


def same(one: Record, other: Record) -> bool:
    """Whether two records agree in every attribute, in value and in type."""
    pairs = [(getattr(one, each.name), getattr(other, each.name)) for each in fields(one)]
    return type(one) is type(other) and all(a == b and type(a) is type(b) for a, b in pairs)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.TABLE)
def test_any_record_comes_back_equal_from_its_table_and_from_the_change_log(
    db: sqlite3.Connection, kind: type[Record]
) -> None:
    @settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
    @given(records(kind))
    def comes_back(record: Record) -> None:
        db.execute("SAVEPOINT one")
        write_row(db, 0, RowChange(None, record))
        rows = db.execute(f"{codec(kind.TABLE).select(len(STEPS))} WHERE uid = ?", (record.uid,)).fetchall()
        ((op, logged),) = db.execute("SELECT op, after_json FROM pigmap_changes WHERE row_uid = ?", (record.uid,))
        db.execute("ROLLBACK TO one")
        (read,) = codec(kind.TABLE).records(rows, lambda text: pytest.fail(str(text)))
        assert same(read, record)
        assert op == "add"
        assert same(codec(kind.TABLE).made(record.uid, json.loads(logged)), record)

    comes_back()


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.TABLE)
def test_a_change_logs_the_columns_that_differ_and_no_others(db: sqlite3.Connection, kind: type[Record]) -> None:
    @settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
    @given(records(kind), records(kind))
    def logs(before: Record, other: Record) -> None:
        after = kind(**{each.name: getattr(other, each.name) for each in fields(kind)} | {"uid": before.uid})
        db.execute("SAVEPOINT one")
        write_row(db, 0, RowChange(None, before))
        write_row(db, 0, RowChange(before, after))
        logged = db.execute(
            "SELECT before_json, after_json FROM pigmap_changes WHERE row_uid = ? AND op = 'change'", (before.uid,)
        ).fetchall()
        db.execute("ROLLBACK TO one")
        differing = {
            column.name
            for column in columns(kind)
            if getattr(before, column.attribute) != getattr(after, column.attribute)
        }
        if not differing:
            assert logged == []
            return
        old, new = (json.loads(side) for side in logged[0])
        assert set(old) == set(new) == differing
        assert same(codec(kind.TABLE).changed(before, new), after)
        assert same(codec(kind.TABLE).changed(after, old), before)

    logs()


@given(st.lists(st.floats(-MOST_NUMBER, MOST_NUMBER), min_size=50, max_size=50))
@settings(max_examples=20, deadline=None)
def test_reals_are_logged_to_the_last_digit(reals: list[float]) -> None:
    with_log = sqlite3.connect(":memory:")
    found = [with_log.execute("SELECT printf('%!.17g', ?)", (real,)).fetchone()[0] for real in reals]
    with_log.close()
    assert [float(text) for text in found] == reals


def test_the_made_rows_are_of_every_table() -> None:
    assert set(one_of_each()) == set(TABLES)


@pytest.mark.parametrize(
    ("attribute", "value", "said", "remedy"),
    [
        ("origin_x_m", float("inf"), "Origin x m cannot be inf.", "Give a number within 1e+15."),
        ("origin_x_m", float("nan"), "Origin x m cannot be nan.", "Give a number within 1e+15."),
        ("note", "half\ud800", "Note cannot be half\\ud800.", "Give it without that sign."),
        ("note", "nul\0", "Note cannot be nul\\x00.", "Give it without that sign."),
    ],
)
def test_a_value_that_would_become_another_is_refused(attribute: str, value: Any, said: str, remedy: str) -> None:
    field = one_of_each()["fields"]
    odd = type(field)(**{each.name: getattr(field, each.name) for each in fields(field)} | {attribute: value})
    with pytest.raises(EditError) as refused:
        codec("fields").row(odd, 0)
    assert (str(refused.value.message), str(refused.value.remedy)) == (said, remedy)


def test_a_whole_number_that_is_none_is_refused() -> None:
    (column,) = [column for column in columns(TABLES["groups"]) if column.name == "colour_index"]
    for value in (2**63, 1.5):
        with pytest.raises(EditError, match=r"Colour index cannot be .*\. Give a whole number\."):
            column.to_row(value)


def test_a_row_that_no_record_can_hold_is_left_out_and_told() -> None:
    rows = [list(codec("fields").row(one_of_each()["fields"], 0)) for _ in range(3)]
    names = [column.name for column in columns(TABLES["fields"])]
    rows[1][names.index("geom")] = b"no shape at all"
    rows[1][names.index("uid")] = "odd one"
    told: list[str] = []
    read = list(codec("fields").records(rows, lambda text: told.append(str(text))))
    assert len(read) == 2
    assert told == [
        "A row of fields that other software wrote is left out (odd one): A shape in the farm file is no "
        "GeoPackage shape."
    ]


def test_a_log_that_knows_more_columns_than_this_program_is_read_all_the_same() -> None:
    group = one_of_each()["groups"]
    assert same(codec("groups").changed(group, {"colour_index": 3, "of a newer program": 1}), group) is False
    assert isinstance(codec("groups").changed(group, {"of a newer program": 1}), type(group))


def test_errors_of_a_codec_are_errors_a_person_can_meet() -> None:
    assert issubclass(EditError, PigmapError)
