import pickle
from collections.abc import Callable
from datetime import date
from threading import Thread

import pytest

from pigmap.errors import StoreError
from pigmap.records.later_rows import LaterRows, from_day
from pigmap.records.rows import ChangedRows

SINCE = date(2026, 6, 1)
ALL = {"old": 1, "new": 2}


def _later(read: Callable[[], dict[str, int]] = ALL.copy) -> LaterRows[int]:
    return LaterRows({"new": 2}, SINCE, read)


@pytest.mark.parametrize(
    "look",
    [
        lambda rows: rows["old"],
        lambda rows: rows.get("lost", 7),
        lambda rows: "old" in rows,
        len,
        list,
        bool,
        repr,
        lambda rows: list(rows.values()),
        lambda rows: list(rows.items()),
        lambda rows: list(rows.keys()),
        lambda rows: list(reversed(rows)),
        lambda rows: rows.copy(),
        lambda rows: rows | {"next": 3},
        lambda rows: {"first": 0} | rows,
        lambda rows: rows == ALL,
        lambda rows: dict(ChangedRows.after(rows, [("old", None), ("next", 3)])),
        lambda rows: pickle.loads(pickle.dumps(rows)),
    ],
)
def test_whoever_looks_into_rows_that_are_not_read_gets_what_all_of_them_tell(
    look: Callable[[object], object],
) -> None:
    rows = _later()
    assert look(rows) == look(ALL)
    assert rows.are_read


def test_the_newest_rows_are_told_without_reading_the_others() -> None:
    rows = _later()
    assert (list(from_day(rows, SINCE)[0]), from_day(rows, SINCE)[1]) == ([2], SINCE)
    assert not rows.are_read


def test_a_day_before_the_newest_rows_has_all_of_them_read() -> None:
    rows = _later()
    assert (list(from_day(rows, date(2026, 5, 31))[0]), from_day(rows, date.max)[1]) == ([1, 2], date.min)
    assert rows.are_read


def test_plain_rows_are_all_there() -> None:
    assert (list(from_day(ALL, SINCE)[0]), from_day(ALL, SINCE)[1]) == ([1, 2], date.min)


def test_rows_that_several_threads_ask_for_are_read_once_what_comes_first_is_shown() -> None:
    reads = []

    def read() -> dict[str, int]:
        reads.append(1)
        return ALL.copy()

    rows = _later(read)
    asking = [Thread(target=rows.all) for _ in range(8)]
    for each in asking:
        each.start()
    assert not reads, "what comes first is not shown yet"
    rows.begin()
    for each in asking:
        each.join()
    assert len(reads) == 1


def test_rows_that_cannot_be_read_are_not_tried_again_for_the_file_may_hold_others_by_then() -> None:
    reads = []

    def read() -> dict[str, int]:
        reads.append(1)
        raise StoreError("The disk is gone.", remedy="Put it back.")

    rows = _later(read)
    for _ in range(2):
        with pytest.raises(StoreError, match="The disk is gone"):
            len(rows)
    assert (reads, str(rows.refused)) == ([1], str(StoreError("The disk is gone.", remedy="Put it back.")))


def test_rows_of_a_file_that_was_closed_say_so_unless_they_were_read_before() -> None:
    closed = StoreError("farm.gpkg is closed.", remedy="Open it again.")
    late, read = _later(), _later()
    read.all()
    for rows in (late, read):
        rows.give_up(closed)
    assert len(read) == 2
    with pytest.raises(StoreError, match="is closed"):
        late.all()
