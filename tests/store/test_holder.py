"""Two programs on one farm file: real second processes, ended kindly and by force."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from pigmap.errors import StoreError
from pigmap.records import Group, add
from pigmap.session import Session
from pigmap.store import FarmFile
from pigmap.store.holder import Hold, Holder, holder_path, take_hold
from pigmap.text import Text
from tests.store.made import edit

HOLDS = """
import sys
from pathlib import Path
from pigmap.document.edits import add_group
from pigmap.session import Session
with Session.open(Path(sys.argv[1]), hold=True) as session:
    print(bool(session.read_only), flush=True)
    for line in sys.stdin:
        session.do(add_group(line.strip())).result()
        print("done", flush=True)
"""
ROOT = Path(__file__).parents[2]


@contextmanager
def another_program(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Run a program that has the farm open to change it."""
    program = [sys.executable, "-c", HOLDS, str(path)]
    with subprocess.Popen(program, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == "False\n"
        try:
            yield child
        finally:
            child.kill()


def asks(child: subprocess.Popen[str], name: str) -> None:
    """Have the other program add a group."""
    assert child.stdin is not None
    assert child.stdout is not None
    child.stdin.write(f"{name}\n")
    child.stdin.flush()
    assert child.stdout.readline() == "done\n"


def names(session: Session) -> set[str]:
    return {group.name for group in session.farm.groups.values()}


@pytest.mark.parametrize("ends", ["kindly", "by force"])
def test_the_second_looks_on_follows_and_takes_over(farm_path: Path, ends: str) -> None:
    with another_program(farm_path) as child, Session.open(farm_path, hold=True) as session:
        told: list[tuple[bool, bool]] = []
        session.rights_changed = lambda was: told.append((bool(was), bool(session.read_only)))
        words = str(session.read_only)
        assert words.startswith("farm.gpkg is open in another window: ")
        assert words.endswith(
            ". Here it can be looked at; what is done there is shown here. Once it is closed there it can be changed "
            "here."
        )
        refused = session.do(edit("Boars added", add(Group(name="Boars")))).exception()
        assert isinstance(refused, StoreError)
        assert refused.message == session.read_only
        assert str(refused.remedy) == "Change it in the other window, or close that one."
        asks(child, "Sows")
        assert session.poll()
        assert "Sows" in names(session)
        asks(child, "Gilts")
        if ends == "kindly":
            child.communicate(timeout=30)
        else:
            child.send_signal(signal.SIGKILL)
            child.wait(timeout=30)
        session.poll()
        assert told == [(True, False)]
        assert not session.read_only
        assert "Gilts" in names(session)
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert "Boars" in names(session)
        assert session.undo_label == Text("Boars added")
    assert [each.name for each in farm_path.parent.iterdir()] == ["farm.gpkg"]


@pytest.mark.skipif(sys.platform == "win32", reason="forks")
def test_a_program_killed_in_the_middle_of_an_edit_is_taken_over_from(farm_path: Path) -> None:
    with another_program(farm_path) as child, Session.open(farm_path, hold=True) as session:
        assert child.stdin is not None
        for number in range(200):
            child.stdin.write(f"Group {number}\n")
        child.stdin.flush()
        time.sleep(0.3)
        os.kill(child.pid, signal.SIGKILL)
        child.wait(timeout=30)
        session.poll()
        assert not session.read_only
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert "Boars" in names(session)


def test_scripts_take_turns_beside_a_window(farm_path: Path) -> None:
    with Session.open(farm_path, hold=True) as window, Session.open(farm_path) as script:
        script.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert window.poll()
        assert "Boars" in names(window)


def test_who_holds_it_is_told(tmp_path: Path) -> None:
    path = tmp_path / "farm.gpkg"
    hold = take_hold(path, "keeper")
    assert isinstance(hold, Hold)
    held = take_hold(path, "other")
    assert isinstance(held, Holder)
    assert held.who == "keeper"
    assert str(held.words("farm.gpkg")).startswith(f"farm.gpkg is open in another window: keeper on {held.computer}, ")
    hold.let_go()
    hold.let_go()
    assert not holder_path(path).exists()
    again = take_hold(path, "other")
    assert isinstance(again, Hold)
    again.let_go()


def test_what_a_dead_program_left_beside_the_file_holds_nothing(tmp_path: Path) -> None:
    path = tmp_path / "farm.gpkg"
    holder_path(path).write_bytes(b"\xff not json")
    hold = take_hold(path)
    assert isinstance(hold, Hold)
    assert isinstance(take_hold(path), Holder)
    hold.let_go()


def test_where_no_file_can_be_made_nobody_is_kept_out(tmp_path: Path) -> None:
    assert take_hold(tmp_path / "no folder" / "farm.gpkg") is None


def test_an_edit_does_not_go_into_a_file_that_was_moved_away(farm_path: Path) -> None:
    file = FarmFile.open(farm_path)
    farm_path.rename(farm_path.with_name("elsewhere.gpkg"))
    with pytest.raises(StoreError, match=r"farm\.gpkg is no longer in .*: it was moved or replaced, or its") as caught:
        file.write(Text("Boars added"), [add(Group(name="Boars"))])
    assert str(caught.value.remedy) == (
        "Put it back there. Until then nothing can be changed; all that was shown as done is in it."
    )
    file.close()


def test_it_goes_on_once_the_file_is_back(farm_path: Path) -> None:
    away = farm_path.with_name("elsewhere.gpkg")
    with Session.open(farm_path) as session:
        session.do(edit("Sows added", add(Group(name="Sows")))).result()
        farm_path.rename(away)
        assert str(session.look().exception()).startswith("farm.gpkg is no longer in ")
        farm_path.write_bytes(away.read_bytes())  # another file with all that the first had, as from a stick
        session.look().result()
        session.do(edit("Boars added", add(Group(name="Boars")))).result()
        assert {"Sows", "Boars"} <= names(session)
    with Session.open(farm_path) as again:
        assert {"Sows", "Boars"} <= names(again)


def test_another_farm_in_its_place_is_not_written_into(farm_path: Path, tmp_path: Path) -> None:
    with Session.open(farm_path) as session:
        session.do(edit("Sows added", add(Group(name="Sows")))).result()
        older = tmp_path / "older.gpkg"
        older.write_bytes(farm_path.read_bytes())
        session.do(edit("Gilts added", add(Group(name="Gilts")))).result()
        farm_path.unlink()
        older.rename(farm_path)  # it lacks the last edit: going on in it would lose that
        session.look().exception()
        refused = session.do(edit("Boars added", add(Group(name="Boars")))).exception()
        assert isinstance(refused, StoreError)
        assert str(refused).startswith("farm.gpkg is no longer in ")
