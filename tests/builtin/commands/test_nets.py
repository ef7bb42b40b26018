from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
import shapely
from shapely.affinity import translate

from pigmap.builtin.commands.nets import command
from pigmap.cli.main import main
from pigmap.cli.usage import reader
from pigmap.document.edits import place_paddock, record_net_use, record_stay
from pigmap.drawing.words import day_words
from pigmap.plugins import Registry
from pigmap.records import Edit, Net, NetCondition, add, change
from pigmap.session import Session
from pigmap.text import Text
from tests.document.example_farm import GROUP, KIND, PADDOCK, done, example, square

TODAY = date.today()
MOVE = TODAY + timedelta(days=2)


def _run(path: Path, *options: str) -> int:
    return command.run(reader(command).parse_args([str(path), *options]), Registry())


def _written(path: Path, *, nets: int, damaged: int = 0, price: float | None = None) -> Path:
    """Write a farm on which a group stands and goes on in two days, with so many nets of 50 m."""
    made = done(
        example(),
        record_stay(GROUP, PADDOCK, TODAY - timedelta(days=3)),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
    )
    conditions = [NetCondition.DAMAGED] * damaged + [NetCondition.SOUND] * (nets - damaged)
    owned = [
        Net(uid=f"net {at}", net_kind_uid=KIND, number=str(at), condition=condition)
        for at, condition in enumerate(conditions)
    ]
    kind = made.net_kinds[KIND]
    rows = [add(row) for table in ("fields", "net_kinds", "paddocks", "groups", "group_events", "stays") for row in
            made.rows(table).values()]  # fmt: skip
    with Session.create(path, made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: [*rows, *map(add, owned)])).result()
        session.do(Edit(Text("Price"), lambda _: [change(kind, replace(kind, price=price))])).result()
    return path


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return _written(tmp_path_factory.mktemp("farm") / "small.gpkg", nets=8, damaged=1)


def test_the_stock_what_stands_where_and_what_the_plan_needs_are_told(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(farm) == 0
    said = capsys.readouterr().out
    lines = [line.split() for line in said.splitlines()]
    assert said.startswith(f"Nets on {day_words(TODAY, 'full')}\n")
    assert ["kind", "tape", "owned", "standing", "spare", "damaged"] in lines
    assert ["50", "m", "nets", "blue", "8", "4", "3", "1"] in lines
    assert "4 x 50 m blue" in said
    assert "Sows" in said
    assert f"The plan takes at most 7 at once, first on {day_words(MOVE, 'short')} {MOVE.year}, when Sows go to" in said
    assert "7 are in good order, so there are enough." in said


def test_numbers_are_told_where_nets_have_some(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(farm) == 0
    assert "1, 2, 3, 4" in capsys.readouterr().out


def test_the_day_that_is_short_is_told_with_what_mends_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(_written(tmp_path / "torn.gpkg", nets=8, damaged=2)) == 0
    said = capsys.readouterr().out
    assert f"The plan takes 7 on {day_words(MOVE, 'short')} {MOVE.year}, when Sows go to" in said
    assert "6 are in good order: 1 too few." in said
    assert "Mend 1 of the damaged ones, or plan a smaller paddock or one beside a fence that stands." in said


def test_what_is_to_be_bought_has_its_price(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(_written(tmp_path / "few.gpkg", nets=5, price=120.0)) == 0
    said = capsys.readouterr().out
    assert "Buy or borrow 2 (240 at your price), or plan a smaller paddock" in said


def test_more_that_stand_than_there_are_have_a_column_of_their_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(_written(tmp_path / "three.gpkg", nets=3)) == 0
    said = capsys.readouterr().out
    assert ["50", "m", "nets", "blue", "3", "4", "0", "0", "1"] in [line.split() for line in said.splitlines()]
    assert "4 stand today, and 3 are owned in good order: 1 too few." in said


def test_other_programs_get_the_same_as_json(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(farm, "--json", "--on", MOVE.isoformat()) == 0
    rows = json.loads(capsys.readouterr().out)
    found = next(row for row in rows if row["standing"])
    assert (found["owned"], found["standing"], found["spare"], found["damaged"], found["lacking"]) == (8, 4, 3, 1, 0)
    assert (found["peak"], found["peak_on"], found["short_on"]) == (7, MOVE.isoformat(), None)
    assert found["peak_move"]["group"] == "Sows"
    assert [(place["pigs"], place["nets"]) for place in found["where"]] == [("Sows", 4)]
    assert all(row["peak_on"] is None and row["where"] == [] for row in rows if row is not found)


def test_of_a_day_before_today_the_plan_is_left_out(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(farm, "--on", (TODAY - timedelta(days=400)).isoformat()) == 0
    said = capsys.readouterr().out
    assert "plan" not in said
    assert "today" not in said.lower()
    assert [line.split()[-4:] for line in said.splitlines() if line.startswith("50 m nets")] == [["8", "0", "7", "1"]]


def test_on_a_day_to_come_it_is_told_that_the_plan_goes_from_today(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(farm, "--on", MOVE.isoformat()) == 0
    assert f"The plan from today, {day_words(TODAY, 'full')}, on" in capsys.readouterr().out.splitlines()
    assert _run(farm) == 0
    assert "The plan from today" not in capsys.readouterr().out


def test_a_farm_without_nets_says_where_they_are_entered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.gpkg"
    with Session.create(path, example().projection, "Bare Farm"):
        pass
    assert _run(path) == 0
    told = "No nets are entered yet. Open the window, take Place, and say how many there are and how long.\n"
    assert capsys.readouterr() == (told, "")
    assert _run(path, "--json") == 0
    assert capsys.readouterr() == ("[]\n", told)


def test_a_day_that_is_none_is_refused_in_words(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nets", str(farm), "--on", "2026-02-30"]) == 2
    assert capsys.readouterr().err == (
        "2026-02-30 is not a day of the calendar. Give year, month and day, such as 2026-03-01.\n"
    )


def test_a_file_that_is_not_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nets", str(tmp_path / "none.gpkg")]) == 1
    assert "There is no file none.gpkg" in capsys.readouterr().err


def test_nets_that_were_left_where_nobody_is_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _written(tmp_path / "left.gpkg", nets=8)
    with Session.open(path) as session:
        paddock = session.farm.paddocks[PADDOCK]
        empty = replace(paddock, uid="empty", name="Old Corner", outline=translate(paddock.outline, xoff=3_000))
        side = shapely.LineString(shapely.get_coordinates(empty.outline)[:2])
        session.do(Edit(Text("Paddock"), lambda _: [add(empty)])).result()
        session.do(record_net_use("empty", KIND, side, TODAY - timedelta(days=9))).result()
    assert _run(path) == 0
    assert ["Old", "Corner", "nobody,", "left", "standing", "1", "x", "50", "m", "blue"] in [
        line.split()[:10] for line in capsys.readouterr().out.splitlines()
    ]
