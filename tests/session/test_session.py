from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from queue import Queue

import pytest

from pigmap.errors import EditError, StoreError
from pigmap.records import ChangeSet, Edit, Farm, Group, RowChange, add, change, remove
from pigmap.session import Published, Session
from pigmap.session.between import CameBetweenError
from pigmap.store.connection import connect
from pigmap.text import Text
from tests.store.made import PROJECTION, edit, farm_of


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return the path of a new farm."""
    path = tmp_path / "farm.gpkg"
    Session.create(path, PROJECTION, "Made-up Farm").close()
    return path


SOWS = Group(name="Sows")


def names(farm: Farm) -> set[str]:
    return {group.name for group in farm.groups.values()}


def test_what_is_published_is_one_revision_on_and_told_to_those_who_listen(path: Path) -> None:
    with Session.open(path) as session:
        seen: list[Published] = []
        unlisten = session.listen(seen.append)
        before = session.farm
        changes = session.do(edit("Sows added", add(SOWS))).result()
        assert changes == ChangeSet((RowChange(None, SOWS),))
        assert seen == [Published(session.farm, changes, Text("Sows added"))]
        assert session.farm.revision == before.revision + 1
        assert SOWS.uid not in before.groups
        unlisten()
        session.undo().result()
        assert len(seen) == 1


def test_an_edit_is_made_on_the_newest_farm(path: Path) -> None:
    def one_more(farm: Farm) -> list[RowChange]:
        return [add(Group(name=f"Group {len(farm.groups) + 1}"))]

    with Session.open(path) as session, Session.open(path) as other:
        for each in (session, other, session):
            each.do(Edit(Text("One more"), one_more)).result()
        assert names(session.farm) == {"Group 1", "Group 2", "Group 3"}


def test_a_refused_edit_publishes_nothing_and_says_why(path: Path) -> None:
    def refuse(_: Farm) -> list[RowChange]:
        raise EditError("It rains.", remedy="Wait.")

    with Session.open(path) as session:
        published: list[Published] = []
        session.listen(published.append)
        before = session.farm
        error = session.do(Edit(Text("Refused"), refuse)).exception()
        assert str(error) == "It rains. Wait."
        assert (session.farm, published) == (before, [])
        session.do(edit("Sows added", add(SOWS))).result()


def test_undo_and_redo_are_named_and_end_somewhere(path: Path) -> None:
    with Session.open(path) as session:
        assert (session.undo_label, session.redo_label) == (None, None)
        said = session.undo().exception()
        assert isinstance(said, EditError)
        assert str(said) == "There is nothing to undo. Everything that can be taken back has been."
        session.do(edit("Sows added", add(SOWS))).result()
        session.do(edit("Sows named", change(SOWS, replace(SOWS, name="Old sows")))).result()
        assert (session.undo_label, session.redo_label) == (Text("Sows named"), None)
        session.undo().result()
        assert (session.undo_label, session.redo_label) == (Text("Sows added"), Text("Sows named"))
        assert names(session.farm) == {"Sows"}
        session.redo().result()
        assert (session.undo_label, session.redo_label) == (Text("Sows named"), None)
        assert names(session.farm) == {"Old sows"}
        said = session.redo().exception()
        assert str(said) == (
            "There is nothing to do again. Only what was just undone can be, until something new is done."
        )


def test_something_new_ends_what_could_be_done_again(path: Path) -> None:
    with Session.open(path) as session:
        session.do(edit("Sows added", add(SOWS))).result()
        session.undo().result()
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert session.redo_label is None


def test_undo_survives_closing(path: Path) -> None:
    with Session.open(path) as session:
        session.do(edit("Sows added", add(SOWS))).result()
        session.do(edit("Sows named", change(SOWS, replace(SOWS, name="Old sows")))).result()
        session.undo().result()
    with Session.open(path) as session:
        assert (session.undo_label, session.redo_label) == (Text("Sows added"), Text("Sows named"))
        session.redo().result()
        session.undo().result()
        session.undo().result()
        assert names(session.farm) == set()
        assert session.undo_label is None


def test_the_making_of_a_farm_cannot_be_undone(path: Path) -> None:
    with Session.open(path) as session:
        assert isinstance(session.undo().exception(), EditError)
        assert session.farm.name == "Made-up Farm"


def test_an_edit_that_belongs_to_the_making_stays_out_of_undo(path: Path) -> None:
    making = Edit(Text("Sows there"), lambda farm: [add(Group(uid="s", name="Sows"))], can_undo=False)
    with Session.open(path) as session:
        session.do(making).result()
        assert session.undo_label is None
        assert isinstance(session.undo().exception(), EditError)
        assert names(session.farm) == {"Sows"}
        assert [str(entry.label) for entry in session.history(1)] == ["Sows there"]


def test_an_undo_stops_where_the_row_was_changed_since_and_shows_both_values(path: Path) -> None:
    with Session.open(path) as session, closing(connect(path)) as other:
        session.do(edit("Sows added", add(SOWS))).result()
        session.do(edit("Sows named", change(SOWS, replace(SOWS, name="Old sows", colour_index=2)))).result()
        other.execute("UPDATE groups SET colour_index = 5")
        error = session.undo().exception()
        assert isinstance(error, EditError)
        assert str(error.message) == (
            "“Sows named” cannot be taken back: colour index of group Old sows was 2 after it and is 5 now."
        )
        assert str(error.remedy) == "Change it by hand if it should be as it was before."
        assert not session.poll(), "what keeps it from being taken back is shown with the refusal"
        (group,) = session.farm.groups.values()
        assert (group.name, group.colour_index) == ("Old sows", 5)
        other.execute("UPDATE groups SET colour_index = 2, note = 'calm'")
        session.undo().result()
        (group,) = session.farm.groups.values()
        assert (group.name, group.colour_index, group.note) == ("Sows", 0, "calm")


def test_what_was_done_before_the_making_of_something_can_still_be_taken_back_and_is_what_the_button_names(
    path: Path,
) -> None:
    making = Edit(Text("Boars there"), lambda farm: [add(Group(uid="b", name="Boars"))], can_undo=False)
    with Session.open(path) as session:
        session.do(edit("Sows added", add(SOWS))).result()
        session.do(making).result()
        assert session.undo_label == Text("Sows added")
        assert session.undo().result().label == Text("Sows added")
        assert names(session.farm) == {"Boars"}
        assert session.undo_label is None
        assert session.redo_label == Text("Sows added")
        session.redo().result()
        assert names(session.farm) == {"Sows", "Boars"}


def test_undo_never_takes_back_what_another_program_did_in_between_until_that_is_named(path: Path) -> None:
    with Session.open(path) as session, Session.open(path) as other:
        session.do(edit("Sows added", add(SOWS))).result()
        other.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert session.undo_label == Text("Sows added")
        error = session.undo().exception()
        assert isinstance(error, CameBetweenError)
        assert str(error.message) == "Another program came in between: it did “Boars added”."
        assert str(error.remedy) == "Undo once more takes back “Boars added”."
        assert names(session.farm) == {"Sows", "Boars"}, "what came in between is shown"
        assert session.undo_label == Text("Boars added")
        session.undo().result()
        assert names(session.farm) == {"Sows"}
        session.undo().result()
        assert names(session.farm) == set()


def test_undo_stops_where_another_program_took_back_what_it_would_have(path: Path) -> None:
    with Session.open(path) as session, Session.open(path) as other:
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        session.do(edit("Sows added", add(SOWS))).result()
        other.poll()
        other.undo().result()
        error = session.undo().exception()
        assert str(error) == (
            "Another program came in between: it took back “Sows added”. Undo once more takes back “Boars added”."
        )
        assert names(session.farm) == {"Boars"}
        assert (session.undo_label, session.redo_label) == (Text("Boars added"), Text("Sows added"))
        other.poll()
        other.undo().result()
        error = session.undo().exception()
        assert str(error) == (
            "Another program came in between: it took back “Boars added”. There is nothing left to undo."
        )
        assert session.undo_label is None


def test_redo_does_only_what_it_named(path: Path) -> None:
    with Session.open(path) as session, Session.open(path) as other:
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        session.do(edit("Sows added", add(SOWS))).result()
        session.undo().result()
        other.poll()
        other.undo().result()
        error = session.redo().exception()
        assert str(error) == (
            "Another program came in between: it took back “Boars added”. Redo once more does “Boars added” again."
        )
        assert names(session.farm) == set()
        other.do(edit("Weaners added", add(Group(name="Weaners")))).result()
        error = session.redo().exception()
        assert str(error) == (
            "Another program came in between: it did “Weaners added”. There is nothing left to do again."
        )
        assert (session.undo_label, session.redo_label) == (Text("Weaners added"), None)


def test_with_a_thread_presses_in_quick_succession_take_back_one_edit_each(path: Path) -> None:
    posted: Posted = Queue()
    with Session.open(path) as other, Session.open(path, post=posted.put) as session:
        for number in range(3):
            other.do(edit(f"Added {number}", add(Group(name=str(number))))).result()
        session.poll()
        session.undo().exception(timeout=20)
        drain(posted)
        assert session.undo_label == Text("Added 2"), "an unseen edit of another program is shown first"
        presses = [session.undo() for _ in range(2)]  # nothing is drained: the button still names the first
        assert [press.result(timeout=20).label for press in presses] == [Text("Added 2"), Text("Added 1")]
        drain(posted)
        assert names(session.farm) == {"0"}


def test_with_a_thread_an_edit_made_since_is_the_one_that_is_taken_back(path: Path) -> None:
    posted: Posted = Queue()
    with Session.open(path) as other, Session.open(path, post=posted.put) as session:
        other.do(edit("Boars added", add(Group(name="Boars")))).result()
        session.do(edit("Sows added", add(SOWS)))
        assert session.undo().result(timeout=20).label == Text("Sows added")
        assert isinstance(session.undo().exception(timeout=20), CameBetweenError)
        drain(posted)
        assert names(session.farm) == {"Boars"}


def test_an_undo_stops_where_the_row_is_gone_or_there_again(path: Path) -> None:
    with Session.open(path) as session, closing(connect(path)) as other:
        session.do(edit("Sows added", add(SOWS))).result()
        other.execute("DELETE FROM groups")
        error = session.undo().exception()
        assert str(error) == (
            "“Sows added” cannot be taken back: Sows (groups) was there after it and was removed since. "
            "Add it again by hand if it should be there."
        )
        other.execute("INSERT INTO groups (uid, name) VALUES (?, 'Sows')", (SOWS.uid,))
        session.poll()
        session.do(edit("Sows removed", remove(SOWS))).result()
        other.execute("INSERT INTO groups (uid, name) VALUES (?, 'Sows')", (SOWS.uid,))
        error = session.undo().exception()
        assert str(error) == (
            "“Sows removed” cannot be taken back: group Sows was removed by it and is there again now. "
            "Change it by hand if it should be as it was before."
        )


def test_edits_of_other_programs_are_no_step_of_the_history(path: Path) -> None:
    with Session.open(path) as session, closing(connect(path)) as other:
        session.do(edit("Sows added", add(SOWS))).result()
        session.undo().result()
        other.execute("INSERT INTO groups (name) VALUES ('Boars')")
        session.poll()
        assert session.redo_label == Text("Sows added")
        session.redo().result()
        assert names(session.farm) == {"Sows", "Boars"}


def test_history_tells_when_who_and_what(path: Path) -> None:
    with Session.open(path, made_by="Crew") as session:
        session.do(edit("Sows added", add(SOWS))).result()
        session.undo().result()
        undone, added, made = session.history()
        assert [str(each.label) for each in (undone, added, made)] == [
            "Undone: Sows added",
            "Sows added",
            "Farm file made",
        ]
        assert (added.made_by, undone.undoes) == ("Crew", added.edit_uid)
        assert made.made_at <= added.made_at <= undone.made_at
        assert session.history(1) == [undone]


def test_a_closed_session_refuses_in_words(path: Path) -> None:
    session = Session.open(path)
    session.close()
    session.close()
    error = session.do(edit("Sows added", add(SOWS))).exception()
    assert isinstance(error, StoreError)
    assert str(error) == "farm.gpkg is closed. Open it again to change it."


Posted = Queue[Callable[[], None]]


def drain(posted: Posted) -> None:
    """Run what was posted, as the window does between two events."""
    while not posted.empty():
        posted.get()()


def test_with_a_thread_the_farm_changes_only_where_it_was_posted_to(path: Path) -> None:
    posted: Posted = Queue()
    threads: list[str] = []
    with Session.open(path, post=posted.put) as session:

        def sows(_: Farm) -> list[RowChange]:
            threads.append(threading.current_thread().name)
            return [add(SOWS)]

        before = session.farm
        changes = session.do(Edit(Text("Sows added"), sows)).result(timeout=20)
        assert len(changes.rows) == 1
        assert session.farm is before
        assert session.undo_label is None
        drain(posted)
        assert names(session.farm) == {"Sows"}
        assert session.undo_label == Text("Sows added")
        assert threads[0].startswith("farm writer")


def test_with_a_thread_edits_keep_their_order_and_close_waits_for_all(path: Path) -> None:
    posted: Posted = Queue()
    session = Session.open(path, post=posted.put)
    seen: list[set[str]] = []
    session.listen(lambda published: seen.append(names(published.farm)))
    futures = [session.do(edit("Added", add(Group(name=str(number))))) for number in range(15)]
    futures.append(session.undo())
    session.close()
    assert all(future.done() and future.exception() is None for future in futures)
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("farm writer")]
    drain(posted)
    assert [len(each) for each in seen] == [*range(1, 16), 14]
    with Session.open(path) as again:
        assert names(again.farm) == {str(number) for number in range(14)}


def test_with_a_thread_a_refused_edit_ends_its_future_and_the_next_goes_on(path: Path) -> None:
    posted: Posted = Queue()
    with Session.open(path, post=posted.put) as session:
        error = session.undo().exception(timeout=20)
        assert isinstance(error, EditError)
        session.do(edit("Sows added", add(SOWS))).result(timeout=20)
        drain(posted)
        assert names(session.farm) == {"Sows"}


def test_with_a_thread_edits_of_other_programs_come_in_by_polling(path: Path) -> None:
    posted: Posted = Queue()
    with Session.open(path, post=posted.put) as session, closing(connect(path)) as other:
        other.execute("INSERT INTO groups (name) VALUES ('Boars')")
        assert not session.poll()
        while names(session.farm) != {"Boars"}:
            posted.get(timeout=20)()


def test_opening_imports_nothing_heavy(path: Path) -> None:
    import subprocess

    script = (
        "import sys; from pathlib import Path; from pigmap.session import Session; "
        "Session.open(Path(sys.argv[1])).close(); "
        "print(sorted({name.split('.')[0] for name in sys.modules} & "
        "{'pandas', 'geopandas', 'scipy', 'rasterio', 'pyproj', 'pyogrio', 'PySide6'}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(path)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout == "[]\n"


def test_the_made_farm_of_other_tests_is_a_farm() -> None:
    assert names(farm_of(SOWS)) == {"Sows"}
