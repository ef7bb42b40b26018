"""The farm as it was at any moment, held against what was published then."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from pigmap.errors import EditError, StoreError
from pigmap.records import TABLES, Edit, Farm, Group, add
from pigmap.session import Session
from pigmap.session.past import open_past
from pigmap.store.connection import connect
from pigmap.text import Text
from tests.session.random_edits import random_changes
from tests.store.made import PROJECTION, edit


def same(farm: Farm, other: Farm) -> bool:
    return all(farm.rows(table) == other.rows(table) for table in TABLES)


def test_every_moment_is_as_it_was_published(tmp_path: Path) -> None:
    path, chance = tmp_path / "farm.gpkg", Random(8)
    moments: list[tuple[str, Farm]] = []
    with Session.create(path, PROJECTION, "Made-up Farm") as session:
        for _ in range(40):
            if chance.random() < 0.25 and session.undo_label is not None:
                session.undo().result()
            else:
                changes = random_changes(chance, session.farm)
                session.do(Edit(Text("Something"), lambda _, changes=changes: changes)).result()  # type: ignore[misc]
            moments.append((session.history(1)[0].edit_uid, session.farm))
        for uid, farm in moments[::5]:
            with open_past(path, uid) as past:
                assert same(past.farm, farm)


def test_what_other_software_did_since_is_not_of_that_moment(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        session.do(edit("Sows added", add(Group(name="Sows")))).result()
        (last, *_), then = session.history(), session.farm
    with closing(connect(farm_path)) as db:
        db.execute("UPDATE groups SET name = 'Strangers'")
        db.execute("DELETE FROM weather_days")
    with open_past(farm_path, last.edit_uid) as past:
        assert same(past.farm, then)


def test_the_past_cannot_be_changed_and_says_when_it_was(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        session.do(edit("Sows added", add(Group(name="Sows")))).result()
        (_, before, *_) = session.history()
    with open_past(farm_path, before.edit_uid) as past, Session.open(farm_path) as now:
        assert past.past is not None
        assert (past.past.at, past.past.label) == (before.made_at, before.label)
        assert (past.undo_label, past.redo_label) == (None, None)
        for refused in (past.do(edit("Boars added", add(Group(name="Boars")))), past.undo()):
            why = refused.exception()
            assert isinstance(why, StoreError)
            assert not isinstance(why, EditError)
            assert str(why.message) == "The farm as it was then can be looked at and printed, not changed."
            assert str(why.remedy) == "Go back to the farm as it is now to change it."
        now.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert not past.poll()
        assert {group.name for group in past.farm.groups.values()} == {"Weaners"}


def test_a_moment_of_another_farm_is_refused(farm_path: Path) -> None:
    with pytest.raises(StoreError, match=r"What was done then is not in the history of farm\.gpkg\.") as caught:
        open_past(farm_path, "nowhere")
    assert str(caught.value.remedy) == "Look at its history anew: another copy of the farm may lie in its place."
