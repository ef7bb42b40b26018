"""What is said of a file that cannot be opened as a farm, or not for writing."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pigmap.errors import StoreError
from pigmap.records import Group, add
from pigmap.session import Session
from pigmap.store import FarmFile, connection, farm_file, migrations
from pigmap.store.connection import check_engine
from pigmap.store.health import findings
from tests.store.made import PROJECTION, edit


def refused(path: Path) -> tuple[str, str]:
    """Return message and remedy with which a file is refused, the same at opening and in its findings."""
    with pytest.raises(StoreError) as error:
        Session.open(path)
    found = (str(error.value.message), str(error.value.remedy))
    assert [str(text) for text in findings(path)] == [" ".join(found)]
    return found


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    assert refused(tmp_path / "farm.gpkg") == (
        f"There is no file farm.gpkg in {tmp_path}.",
        "Look for it in another folder, or make a farm with: pigmap new farm.gpkg",
    )


def test_a_folder(tmp_path: Path) -> None:
    assert refused(tmp_path) == (
        f"{tmp_path.name} in {tmp_path.parent} is a folder.",
        "Name the farm file inside it.",
    )


def test_an_empty_file(tmp_path: Path) -> None:
    (tmp_path / "farm.gpkg").touch()
    assert refused(tmp_path / "farm.gpkg") == (
        "farm.gpkg is empty (0 bytes).",
        "Go back to a backup or another copy.",
    )


def test_a_file_of_another_kind(tmp_path: Path) -> None:
    (tmp_path / "farm.gpkg").write_text("name,pigs\nWeaners,12\n")
    assert refused(tmp_path / "farm.gpkg") == (
        "farm.gpkg is no farm file: it does not begin as a GeoPackage does.",
        "Choose a farm file (.gpkg), or make one with: pigmap new",
    )


@pytest.mark.parametrize(
    ("application_id", "said", "remedy"),
    [
        (
            0x47504B47,
            "other.gpkg is a GeoPackage of other software, with no farm in it.",
            "Make a farm from its outlines with: pigmap new farm.gpkg --fields other.gpkg",
        ),
        (
            0,
            "other.gpkg is a database of other software, with no farm in it.",
            "Choose a farm file (.gpkg), or make one with: pigmap new",
        ),
    ],
)
def test_a_database_of_other_software(tmp_path: Path, application_id: int, said: str, remedy: str) -> None:
    path = tmp_path / "other.gpkg"
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"PRAGMA application_id = {application_id}")
        db.execute("CREATE TABLE things (name TEXT)")
    before = path.read_bytes()
    assert refused(path) == (said, remedy)
    assert path.read_bytes() == before


@pytest.mark.parametrize("left", [10, 99, 100, 4096, 100_000, -4096, -1])
def test_a_file_that_is_cut_short(farm_path: Path, left: int) -> None:
    whole = farm_path.stat().st_size
    has = left if left > 0 else whole + left
    os.truncate(farm_path, has)
    said, remedy = refused(farm_path)
    if has < 16:
        assert said == "farm.gpkg is no farm file: it does not begin as a GeoPackage does."
    else:
        assert said == f"farm.gpkg is cut short: it has {has} of {100 if has < 100 else whole} bytes."
        assert remedy == "Copy it again from where it came from, or go back to a backup."


def damaged(path: Path, page: int) -> None:
    """Zero a page of a farm file."""
    with path.open("r+b") as file:
        file.seek((page - 1) * 4096)
        file.write(bytes(4096))


def test_a_damaged_file_is_never_written_to(farm_path: Path) -> None:
    with closing(connection.connect(farm_path)) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'weather_days'").fetchone()
    damaged(farm_path, page)
    before = farm_path.read_bytes()
    with pytest.raises(StoreError, match=r"farm\.gpkg is damaged: .*\. .*go back to a backup"):
        Session.open(farm_path)
    assert farm_path.read_bytes() == before
    (found,) = findings(farm_path)
    assert str(found).startswith("farm.gpkg is damaged: ")


def test_a_damaged_index_opens_for_reading_and_says_so(farm_path: Path) -> None:
    with closing(connection.connect(farm_path)) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'pigmap_checks_checked_on'").fetchone()
    damaged(farm_path, page)
    with Session.open(farm_path) as session:
        assert len(session.farm.checks) == 1
        assert str(session.read_only).startswith("farm.gpkg is damaged: ")
        error = session.do(edit("More", add(Group(name="More")))).exception()
        assert isinstance(error, StoreError)
        assert error.message == session.read_only
        assert str(error.remedy) == "Copy the farm file to a folder of your own and open it there to change it."


def raised_version(path: Path, version: int, oldest_reader: int) -> None:
    """Make a farm file look as a newer program would have left it."""
    with closing(connection.connect(path)) as db:
        db.execute("UPDATE pigmap_document SET schema_version = ?, oldest_reader = ?", (version, oldest_reader))
        db.execute("ALTER TABLE groups ADD COLUMN of_a_newer_program TEXT")


def test_a_file_of_a_newer_program_is_refused(farm_path: Path) -> None:
    raised_version(farm_path, 99, 98)
    with pytest.raises(StoreError) as error:
        Session.open(farm_path)
    assert str(error.value.message) == (
        f"farm.gpkg is of version 99; this program knows versions up to {len(migrations.STEPS)}."
    )
    assert str(error.value.remedy) == "Open it with the newer program that wrote it, or bring this one up to date."


def test_a_file_of_a_newer_program_that_older_ones_may_read_opens_for_reading(farm_path: Path) -> None:
    raised_version(farm_path, 99, 1)
    with Session.open(farm_path) as session:
        assert [group.name for group in session.farm.groups.values()] == ["Weaners"]
        assert str(session.read_only) == (
            "farm.gpkg can only be read: it is of version 99, and this program writes versions up to "
            f"{len(migrations.STEPS)}."
        )
        assert isinstance(session.do(edit("More", add(Group(name="More")))).exception(), StoreError)


AS_A_GUEST = """
import os, sys, urllib.parse  # loaded before its rights go: the interpreter may lie where a guest cannot read
from pathlib import Path
from pigmap.errors import StoreError
from pigmap.records import Group, add
from pigmap.session import Session
from pigmap.store.health import findings
from tests.store.made import PROJECTION, edit

if os.geteuid() == 0:  # root may write everything, so root becomes nobody
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
path = Path(sys.argv[1])
try:
    path.open("rb").close()
except PermissionError:
    print(*findings(path))
    sys.exit()
os.access = lambda *_, **__: True  # as on Windows, where a folder is said to be writable by everyone
with Session.open(path) as session:
    print(len(session.farm.checks))
    print(session.read_only)
    error = session.do(edit("More", add(Group(name="More")))).exception()
    print(type(error).__name__, error)
    error = session.undo().exception()
    print(type(error).__name__, error)
try:
    Session.create(path.with_name("new.gpkg"), PROJECTION, "New").close()
except StoreError as error:
    print(error)
"""


@pytest.fixture
def in_the_open(made_farm: tuple[Path, object]) -> Iterator[Path]:
    """Return a folder with a farm file in it that other people of the computer can reach."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        shutil.copy(made_farm[0], Path(folder) / "farm.gpkg")
        yield Path(folder)


def as_a_guest(path: Path) -> list[str]:
    """Open a farm as someone without the rights of its owner."""
    done = subprocess.run(
        [sys.executable, "-c", AS_A_GUEST, str(path)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return list(done.stdout.splitlines())


@pytest.mark.skipif(sys.platform == "win32", reason="rights are other ones there")
def test_a_read_only_file_and_a_read_only_folder(in_the_open: Path) -> None:
    folder, farm_path = in_the_open, in_the_open / "farm.gpkg"
    farm_path.chmod(0o444)
    folder.chmod(0o777)
    file_said = "farm.gpkg can only be read: the file is read-only."
    remedy = "Copy the farm file to a folder of your own and open it there to change it."
    assert as_a_guest(farm_path) == ["1", file_said, *[f"StoreError {file_said} {remedy}"] * 2]
    (folder / "new.gpkg").unlink()
    assert [each.name for each in folder.iterdir()] == ["farm.gpkg"], "what was tried left something behind"
    farm_path.chmod(0o666)
    folder.chmod(0o555)
    folder_said = f"farm.gpkg can only be read: the folder {folder} is read-only."
    try:
        assert as_a_guest(farm_path) == [
            "1",
            folder_said,
            *[f"StoreError {folder_said} {remedy}"] * 2,
            f"new.gpkg cannot be made: the folder {folder} is read-only. Choose a folder of your own.",
        ]
    finally:
        folder.chmod(0o755)
    assert findings(farm_path) == []


@pytest.mark.skipif(sys.platform == "win32", reason="rights are other ones there")
def test_a_file_that_may_not_be_read(in_the_open: Path) -> None:
    path = in_the_open / "farm.gpkg"
    path.chmod(0)
    assert as_a_guest(path) == [
        f"farm.gpkg in {in_the_open} cannot be read: permission denied. Ask whoever owns it for the right to read it."
    ]


def left_open(path: Path, left: Path) -> None:
    """Leave a farm file behind as a program does that is killed in the middle of writing an edit."""
    with closing(connection.connect(path)) as db:
        db.execute("PRAGMA cache_size = 2")  # so that half of the edit is in the file before it ends
        db.execute("BEGIN IMMEDIATE")
        for number in range(50):
            db.execute("INSERT INTO groups (name, note) VALUES (?, ?)", (str(number), "x" * 4000))
        for end in ("", "-journal"):
            shutil.copy(f"{path}{end}", f"{left}{end}")
        db.execute("ROLLBACK")


@pytest.mark.skipif(sys.platform == "win32", reason="rights are other ones there")
def test_a_file_left_open_is_put_right_where_it_can_be_written_and_told_of_elsewhere(in_the_open: Path) -> None:
    left = in_the_open / "left.gpkg"
    left_open(in_the_open / "farm.gpkg", left)
    said = (
        "left.gpkg was not closed properly, and half an edit has to be taken out of it before it can be read. "
        "Open it where it can be written: that puts it right. If you move it, take left.gpkg-journal along."
    )
    assert [str(text) for text in findings(left)] == [said]
    with Session.open(left) as session:
        assert [group.name for group in session.farm.groups.values()] == ["Weaners"]
        assert not session.read_only
    assert findings(left) == []


def test_a_farm_is_not_made_over_a_file_that_is_there(farm_path: Path) -> None:
    before = farm_path.read_bytes()
    with pytest.raises(StoreError) as error:
        Session.create(farm_path, PROJECTION, "Again")
    assert str(error.value) == (f"There is already a file farm.gpkg in {farm_path.parent}. Choose another name.")
    assert farm_path.read_bytes() == before


def test_a_farm_is_not_made_where_there_is_no_folder(tmp_path: Path) -> None:
    with pytest.raises(StoreError) as error:
        Session.create(tmp_path / "no" / "farm.gpkg", PROJECTION, "New")
    assert str(error.value) == (f"There is no folder {tmp_path / 'no'} to make farm.gpkg in. Make the folder first.")


@pytest.mark.parametrize(
    "hurt",
    [
        "DELETE FROM pigmap_document",
        "UPDATE gpkg_spatial_ref_sys SET srs_id = 5 WHERE srs_id = (SELECT srs_id FROM pigmap_document)",
        "DROP TABLE gpkg_spatial_ref_sys",
    ],
)
def test_a_farm_file_that_lost_its_first_row_or_its_coordinates_is_refused(farm_path: Path, hurt: str) -> None:
    with closing(sqlite3.connect(farm_path, isolation_level=None)) as db:  # no foreign keys, as other software has it
        db.execute(hurt)
    said = (
        "farm.gpkg no longer says which farm it holds, or in which coordinates: other software changed its tables. "
        "Go back to a backup or another copy."
    )
    with pytest.raises(StoreError) as error:
        FarmFile.open(farm_path)
    assert str(error.value) == said
    assert [str(found) for found in findings(farm_path)] == [said]


def test_what_the_system_refuses_while_a_farm_is_made_is_put_into_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(path: Path, target: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", refused)
    with pytest.raises(StoreError) as error:
        FarmFile.create(tmp_path / "farm.gpkg", PROJECTION)
    assert str(error.value) == (
        f"farm.gpkg cannot be made in {tmp_path}: permission denied. Choose a folder of your own, on a disk with room."
    )
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_appeared_meanwhile_is_not_written_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def meanwhile(*_: object) -> None:
        (tmp_path / "farm.gpkg").write_text("mine", encoding="utf-8")

    monkeypatch.setattr(farm_file, "make_file", meanwhile)
    with pytest.raises(StoreError, match=r"There is already a file farm\.gpkg"):
        FarmFile.create(tmp_path / "farm.gpkg", PROJECTION)
    assert (tmp_path / "farm.gpkg").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_is_only_called_a_dot_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(StoreError) as error:
        FarmFile.open(Path("."))
    assert str(error.value) == (f"{tmp_path.name} in {tmp_path.parent} is a folder. Name the farm file inside it.")


def test_nothing_is_left_of_a_farm_that_could_not_be_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(db: sqlite3.Connection) -> None:
        db.execute("CREATE TABLE half_done (x)")
        raise RuntimeError("power cut")

    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS, broken))
    with pytest.raises(RuntimeError, match="power cut"):
        FarmFile.create(tmp_path / "farm.gpkg", PROJECTION)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("uri", "said"),
    [
        ("file:///C:/Farms/Hill%20Farm.gpkg", "file:///C:/Farms/Hill%20Farm.gpkg?mode=rw"),
        ("file://barn/farms/a.gpkg", "file:////barn/farms/a.gpkg?mode=rw"),
    ],
)
def test_a_farm_file_on_another_computer_is_reached_by_its_path(uri: str, said: str) -> None:
    assert connection.address(uri, read_only=False) == said
    assert connection.address(uri, read_only=True) == said.replace("mode=rw", "mode=ro")


def test_a_farm_file_may_have_an_odd_name(farm_path: Path) -> None:
    odd = farm_path.rename(farm_path.with_name("50 % of #1, é.gpkg"))
    FarmFile.open(odd).close()


@pytest.mark.parametrize("part", ["RTREE", "JSON"])
def test_an_sqlite_that_lacks_a_part_is_refused(monkeypatch: pytest.MonkeyPatch, part: str) -> None:
    monkeypatch.setitem(connection._NEEDED, part, "SELECT no_such_function()")
    check_engine.cache_clear()
    with pytest.raises(StoreError, match=f"was built without {part}, which a farm file needs. Use a Python from"):
        check_engine()
    check_engine.cache_clear()


def test_an_old_sqlite_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 37, 2))
    monkeypatch.setattr(sqlite3, "sqlite_version", "3.37.2")
    check_engine.cache_clear()
    with pytest.raises(StoreError) as error:
        check_engine()
    check_engine.cache_clear()
    assert str(error.value) == (
        "This Python comes with SQLite 3.37.2; a farm file needs 3.38.0 or newer. Use a newer Python."
    )
