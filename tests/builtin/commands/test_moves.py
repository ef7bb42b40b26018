from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from pigmap.builtin.commands.moves import command
from pigmap.cli.usage import reader
from pigmap.document.edits import place_paddock, record_stay
from pigmap.errors import UsageError
from pigmap.geometry.rectangle import Rectangle
from pigmap.planning.moves_of_day import moves_of_day
from pigmap.plugins import Registry
from pigmap.records import Edit, add
from pigmap.session import Session
from pigmap.text import Text
from tests.document.example_farm import GROUP, KIND, OTHERS, PADDOCK, done, example, square

Run = Callable[..., int]
TODAY = date.today()
MOVE = TODAY + timedelta(days=2)


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("farm") / "small.gpkg"
    made = done(
        example(),
        record_stay(GROUP, PADDOCK, TODAY - timedelta(days=3)),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
    )
    tables = ("fields", "net_kinds", "nets", "paddocks", "groups", "group_events", "stays")
    rows = [add(row) for table in tables for row in made.rows(table).values()]
    with Session.create(path, made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: rows)).result()
    return path


@pytest.fixture
def run(farm: Path, qapp: object) -> Run:
    def call(*options: str) -> int:
        return command.run(reader(command).parse_args([str(farm), *options]), Registry())

    return call


def test_the_moves_of_a_day_are_listed_with_their_nets(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--on", MOVE.isoformat()) == 0
    head, row = capsys.readouterr().out.splitlines()
    assert head.split() == [
        "move",
        "group",
        "from",
        "to",
        "set",
        "leave",
        "stays",
        "take_up",
        "minutes_alone",
        "minutes_two",
        "trips",
        "trips_two",
        "walk_m",
        "coming",
        "way_m",
    ]
    assert row.split()[0] == "1"
    assert all(words in row for words in ("Sows", "3 x 50 m blue", "1 x 50 m blue"))
    assert row.split()[-5:] == ["30", "20", "4", "2", "583"]


def test_other_programs_get_the_same_as_json(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--on", MOVE.isoformat(), "--json") == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert (row["move"], row["group"], row["take_up"], row["way_m"]) == (1, "Sows", "3 x 50 m blue", None)
    assert (row["trips"], row["trips_two"], row["walk_m"]) == (4, 2, 583)


def test_nets_that_one_carries_can_be_told(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--on", MOVE.isoformat(), "--json", "--nets-a-trip", "3") == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert (row["trips"], row["walk_m"]) == (2, 441)
    for wrong in ("0", "11"):
        with pytest.raises(UsageError, match=f"^{wrong} nets a trip cannot be") as refused:
            run("--on", MOVE.isoformat(), "--nets-a-trip", wrong)
        assert "Give 1 to 10." in str(refused.value)


def test_a_day_without_a_move_names_the_next_one_and_writes_no_cards(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "cards.pdf"
    assert run("--on", (MOVE - timedelta(days=1)).isoformat(), "--cards", str(out)) == 0
    said = capsys.readouterr().out
    assert said.startswith("No group moves on ")
    assert f"The next move is on {MOVE:%A} {MOVE.day} {MOVE:%B %Y}." in said
    assert not out.exists()


def test_after_the_last_move_there_is_none_to_name(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--on", (MOVE + timedelta(days=1)).isoformat()) == 0
    assert "none is planned after it. Plan a stay in the window." in capsys.readouterr().out


def test_cards_are_written_with_their_font_inside(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"
    assert run("--on", MOVE.isoformat(), "--cards", str(out)) == 0
    written = out.read_bytes()
    assert written.startswith(b"%PDF")
    assert len(re.findall(rb"/FontFile\d?", written)) >= 2
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", written)) == 1


def test_the_words_can_be_read_out_of_the_cards_in_order(run: Run, tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not here")
    out = tmp_path / "cards.pdf"
    run("--on", MOVE.isoformat(), "--cards", str(out))
    words = subprocess.run(["pdftotext", "-raw", out, "-"], capture_output=True, text=True, check=True).stdout
    parts = (
        "Sows",
        "move 1 of 1",
        "Go into",
        "Switch off.",
        "Pigs cross.",
        "Take down 3 nets",
        "Moves",
        "Take care",
    )
    found = [words.find(part) for part in parts]
    assert -1 not in found
    assert found == sorted(found)


def test_cards_go_on_as_many_sheets_as_the_paper_asks_for(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"
    assert run("--on", MOVE.isoformat(), "--cards", str(out), "--paper", "letter") == 0
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", out.read_bytes())) == 1


def test_cards_are_pdf_only(run: Run, tmp_path: Path) -> None:
    with pytest.raises(UsageError) as refused:
        run("--cards", str(tmp_path / "cards.png"))
    assert str(refused.value.message) == "Move cards cannot be written as cards.png."
    assert str(refused.value.remedy) == "End the name in .pdf."


def test_a_day_without_moves_is_an_empty_table_and_a_word_beside_it(
    run: Run, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("--on", (MOVE - timedelta(days=1)).isoformat(), "--json") == 0
    out, beside = capsys.readouterr()
    assert json.loads(out) == []
    assert beside.startswith("No group moves on ")
    assert "The next move is on" in beside


def test_pigs_that_were_found_standing_did_not_move(farm: Path) -> None:
    with Session.open(farm) as session:
        assert [move.group.name for move in moves_of_day(session.farm, MOVE, TODAY)] == ["Sows"]
        assert moves_of_day(session.farm, TODAY - timedelta(days=3), TODAY) == ()


def test_a_net_that_stays_for_a_neighbour_is_told_in_both_forms(
    qapp: object, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, since = tmp_path / "two.gpkg", TODAY - timedelta(days=3)
    made = done(
        example(),
        record_stay(GROUP, PADDOCK, since),
        place_paddock(Rectangle(10.0, 60.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, uid="north"),
        record_stay(OTHERS, "north", since),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
    )
    tables = ("fields", "net_kinds", "nets", "paddocks", "groups", "group_events", "stays")
    rows = [add(row) for table in tables for row in made.rows(table).values()]
    with Session.create(path, made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: rows)).result()
    on = [str(path), "--on", MOVE.isoformat()]
    assert command.run(reader(command).parse_args(on), Registry()) == 0
    assert "1 x 50 m blue, north side, Weaners stand behind it" in capsys.readouterr().out
    assert command.run(reader(command).parse_args([*on, "--json"]), Registry()) == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert row["stays"] == "1 x 50 m blue, north side, Weaners stand behind it"
    assert (row["set"], row["leave"], row["take_up"]) == ("3 x 50 m blue", "1 x 50 m blue", "2 x 50 m blue")
