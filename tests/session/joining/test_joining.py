"""Bringing a copy of the farm in: what each side did alone holds, what both did is listed, nothing is lost."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from pigmap.document.edits import change_setting
from pigmap.drawing.words import render
from pigmap.errors import EditError, StoreError
from pigmap.records import (
    Group,
    GroupEvent,
    GroupEventKind,
    Projection,
    Record,
    RowChange,
    Treatment,
    WeatherDay,
    add,
    change,
    remove,
)
from pigmap.session import Session
from pigmap.session.joining.copy import FarmCopy
from pigmap.session.joining.told import Told, nothing, open_conflicts, take_other, told
from pigmap.store import FarmFile
from pigmap.store.connection import connect
from pigmap.store.health import findings
from tests.store.made import edit

PLANE = Projection(name="plane", authority="NONE", code=0, definition="", ground_per_grid=1.0)
SOWS = Group(uid="sows", name="Sows", note="calm")


class Pair:
    """A farm and a copy of it, each edited on its own."""

    def __init__(self, folder: Path, *rows: Record) -> None:
        self.farm, self.copy = folder / "farm.gpkg", folder / "copy.gpkg"
        Session.create(self.farm, PLANE, "Farm").close()
        self.do(self.farm, *(add(row) for row in (SOWS, *rows)))
        shutil.copy(self.farm, self.copy)

    @staticmethod
    def do(path: Path, *changes: RowChange, label: str = "Something") -> None:
        """Edit one of them."""
        with Session.open(path, made_by=path.stem) as session:
            session.do(edit(label, *changes)).result()

    def join(self) -> str:
        """Bring the copy into the farm, and return what was said."""
        with Session.open(self.farm) as session:
            done = session.join(FarmCopy(self.copy)).result()
        assert findings(self.farm) == []
        return render(done.label)

    def told(self) -> list[Told]:
        """Return what is open, in words."""
        with Session.open(self.farm) as session:
            return told(session.farm, *open_conflicts(self.farm))

    def conflicts(self) -> list[tuple[str, str, str]]:
        """Return what is open, side by side, without the day."""
        return [
            (render(each.what), _without_day(render(each.kept)), _without_day(render(each.other)))
            for each in self.told()
        ]

    def group(self, uid: str = "sows") -> Group | None:
        """Return a group of the farm."""
        with Session.open(self.farm) as session:
            return session.farm.groups.get(uid)


def _without_day(words: str) -> str:
    return re.sub(r", \w+ \d+ \w+ \d{4}\)", ")", words)


def test_what_each_side_did_alone_holds(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    pair.do(pair.copy, change(SOWS, replace(SOWS, colour_index=3)), add(Group(uid="weaners", name="Weaners")))
    assert pair.join() == "Brought in 1 step from copy.gpkg (copy)."
    assert pair.group() == replace(SOWS, note="wild", colour_index=3)
    assert pair.group("weaners") is not None
    assert pair.told() == []


def test_what_both_changed_stands_as_it_was_changed_last_and_is_listed(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="first")))
    pair.do(pair.copy, change(SOWS, replace(SOWS, note="second")))
    pair.join()
    assert pair.group() == replace(SOWS, note="second")
    assert pair.conflicts() == [("Sows: note", "second (copy)", "first (farm)")]


def test_the_same_change_on_both_sides_is_no_conflict(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    for path in (pair.farm, pair.copy):
        pair.do(path, change(SOWS, replace(SOWS, note="wild")))
    pair.join()
    assert pair.told() == []


def test_a_row_that_one_removed_and_the_other_worked_on_stays_and_is_listed(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.copy, remove(SOWS))
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    pair.join()
    assert pair.group() == replace(SOWS, note="wild")
    assert pair.conflicts() == [("Sows: kept or removed", "kept (farm)", "removed (copy)")]


def test_a_row_that_something_new_needs_stays(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, remove(SOWS))
    event = GroupEvent(group_uid="sows", happened_on=date(2026, 5, 1), kind=GroupEventKind.WEIGHED, pigs=8, mean_kg=90)
    pair.do(pair.copy, add(event))
    pair.join()
    assert pair.group() == SOWS
    with Session.open(pair.farm) as session:
        assert session.farm.group_events == {event.uid: event}
    ((what, kept, other),) = pair.conflicts()
    assert (what, kept, other) == ("Sows: kept or removed", "kept", "removed (farm)")


def test_what_neither_may_hold_together_stands_as_the_later_one_had_it(tmp_path: Path) -> None:
    given = Treatment(uid="t", group_uid="sows", product="Drench", given_on=date(2026, 5, 1), last_on=date(2026, 5, 9))
    pair = Pair(tmp_path, given)
    pair.do(pair.farm, change(given, replace(given, given_on=date(2026, 5, 8))))
    pair.do(pair.copy, change(given, replace(given, last_on=date(2026, 5, 3))))
    pair.join()
    with Session.open(pair.farm) as session:
        assert session.farm.treatments["t"] == replace(given, last_on=date(2026, 5, 3))
    assert {what for what, _, _ in pair.conflicts()} == {
        "the line of the medicine book of Sows: given on",
        "the line of the medicine book of Sows: last on",
    }


def test_a_setting_that_both_made_is_one_and_the_later_one_stands(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    for path, value in ((pair.farm, "metric"), (pair.copy, "us")):
        with Session.open(path, made_by=path.stem) as session:
            session.do(change_setting("units", value)).result()
    pair.join()
    with Session.open(pair.farm) as session:
        assert session.farm.setting("units") == "us"
    assert pair.conflicts() == [("units: value json", '"us" (copy)', '"metric" (farm)')]


def test_what_was_taken_back_in_the_copy_does_not_come(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    with Session.open(pair.copy) as session:
        session.do(edit("More", add(Group(uid="weaners", name="Weaners")))).result()
        session.undo().result()
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    assert pair.join().startswith("Brought in 2 steps from copy.gpkg")
    assert pair.group("weaners") is None
    assert pair.group() == replace(SOWS, note="wild")


def test_one_step_back_takes_a_joining_back_and_the_copy_can_come_again(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    pair.do(pair.copy, add(Group(uid="weaners", name="Weaners")))
    pair.join()
    with Session.open(pair.farm) as session:
        session.undo().result()
        assert "weaners" not in session.farm.groups
    pair.join()
    assert pair.group("weaners") is not None
    with pytest.raises(EditError, match="is here already"):
        pair.join()


def test_the_history_names_what_came_and_who_did_it(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    pair.do(pair.copy, add(Group(name="Weaners")), label="Weaners bought")
    pair.join()
    with Session.open(pair.farm) as session:
        came = [(render(each.label), each.made_by, each.can_undo) for each in session.history(2)]
        assert came[0] == ("Weaners bought", "copy", False)
        assert came[1][0] == "Brought in 1 step from copy.gpkg (copy)."


def test_what_other_software_did_in_the_copy_comes_too(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, add(WeatherDay(day=date(2026, 5, 1), rain_mm=3.0)))
    db = connect(pair.copy)
    db.execute("UPDATE groups SET note = 'by hand' WHERE uid = 'sows'")
    db.close()
    assert pair.join() == "Brought in what other software did in copy.gpkg."
    assert pair.group() == replace(SOWS, note="by hand")
    with pytest.raises(EditError, match="is here already"):
        pair.join()


def test_a_person_takes_the_other_value_or_lets_it_stand_and_it_is_settled(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="first", colour_index=1)))
    pair.do(pair.copy, change(SOWS, replace(SOWS, note="second", colour_index=2)))
    pair.join()
    colour, note = pair.told()
    assert (colour.conflict.column, note.conflict.column) == ("colour_index", "note")
    with Session.open(pair.farm) as session:
        session.settle([note.number], take_other(note.conflict)).result()
        session.settle([colour.number], nothing()).result()
        assert session.farm.groups["sows"] == replace(SOWS, note="first", colour_index=2)
        assert session.undo_label is not None
        assert render(session.undo_label) == "The value of the other copy taken."
    assert pair.told() == []


def test_what_is_gone_needs_no_settling(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="first")))
    pair.do(pair.copy, change(SOWS, replace(SOWS, note="second")))
    pair.join()
    (found,) = pair.told()
    with Session.open(pair.farm) as session:
        session.do(edit("Gone", remove(session.farm.groups["sows"]))).result()
        with pytest.raises(EditError) as refused:
            take_other(found.conflict)(session.farm)
    assert str(refused.value.message) == "It is gone meanwhile."
    assert str(refused.value.remedy) == "Nothing is to be settled there any more; go on with the next."
    assert pair.told() == []


def test_another_farm_is_no_copy(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    Session.create(tmp_path / "other.gpkg", PLANE, "Other").close()
    with Session.open(pair.farm) as session, pytest.raises(EditError) as refused:
        session.join(FarmCopy(tmp_path / "other.gpkg")).result()
    assert str(refused.value.message) == "other.gpkg is no copy of this farm: the two were made apart."
    assert str(refused.value.remedy) == (
        "Open the farm it is a copy of and bring it in there. What one farm has can go to another by export and import."
    )


def test_a_copy_with_nothing_new_says_so_and_changes_nothing(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.farm, change(SOWS, replace(SOWS, note="wild")))
    before = pair.farm.read_bytes()
    with Session.open(pair.farm) as session, pytest.raises(EditError) as refused:
        session.join(FarmCopy(pair.copy)).result()
    assert str(refused.value.message) == "All that was done in copy.gpkg is here already."
    assert str(refused.value.remedy) == (
        "Nothing is to be done. To bring its keeper up to date, give them a copy of this file."
    )
    assert pair.farm.read_bytes() == before


def test_a_damaged_copy_is_refused_and_the_farm_stays(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.copy.write_bytes(pair.copy.read_bytes()[:5000])
    before = pair.farm.read_bytes()
    with pytest.raises(StoreError):
        FarmCopy(pair.copy)
    assert pair.farm.read_bytes() == before


def test_the_copy_stays_as_it_is(tmp_path: Path) -> None:
    pair = Pair(tmp_path)
    pair.do(pair.copy, change(SOWS, replace(SOWS, note="wild")))
    before = pair.copy.read_bytes()
    pair.join()
    assert pair.copy.read_bytes() == before
    file = FarmFile.look(pair.copy)
    assert file.open_conflicts() == []
    file.close()
