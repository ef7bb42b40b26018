from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from pigmap.cli.main import main
from pigmap.session import Session
from tests.builtin.commands.test_ground import ROWS, written
from tests.session.taking_in.at_farm import file

STAYS = "group,paddock,in,out\nGroup g,Paddock q,2026-05-01,2026-05-04\nSows,Paddock q,2026-05-01,2026-05-04\n"


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("farm"), *ROWS)


@pytest.fixture
def farm(invented: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(invented, tmp_path / "invented.gpkg"))


def test_rows_are_taken_in_one_step_that_undo_takes_back(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["import", str(farm), str(file(farm.parent, STAYS))]) == 1
    told = capsys.readouterr()
    assert told.err == (
        "It has columns for group, paddock and day in, so its rows are taken as stays. (--as says otherwise)\n"
    )
    assert "2  Sows Paddock q 2026-05-01     refused  there is no group 'Sows'. The farm has: Group g." in told.out
    assert told.out.endswith("Stays out of rows.csv: 1 taken, 1 refused.\nIt is one step, which undo takes back.\n")
    with Session.open(farm) as session:
        assert len(session.farm.stays) == 2
        assert str(session.undo_label) == "1 row of stays taken in from rows.csv."
        session.undo().result()
        assert len(session.farm.stays) == 1


def test_a_preview_changes_nothing(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = farm.read_bytes()
    assert main(["import", str(farm), str(file(farm.parent, STAYS)), "--preview"]) == 1
    assert capsys.readouterr().out.endswith("Nothing is changed yet: this was a preview.\n")
    assert farm.read_bytes() == before


def test_the_table_is_told_as_json(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["import", str(farm), str(file(farm.parent, STAYS)), "--json", "--as", "stays"])
    told = capsys.readouterr()
    assert [row["result"] for row in json.loads(told.out)] == ["taken", "refused"]
    assert told.err == ""


def test_a_column_is_said_once(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = "who,paddock,in,out\nGroup g,Paddock q,2026-05-01,2026-05-04\n"
    given = [str(farm), str(file(farm.parent, words)), "--as", "stays"]
    assert main(["import", *given]) == 2
    assert "Say which one it is, or name it so in the file. (Options: --as, --layer, --column WHAT=NAME.)" in (
        capsys.readouterr().err
    )
    assert main(["import", *given, "--column", "group=who"]) == 0
    assert main(["import", *given]) == 0
    assert "Stays out of rows.csv: 1 there already.\nNothing is changed.\n" in capsys.readouterr().out


def test_a_column_that_is_said_wrongly_is_refused(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["import", str(farm), str(file(farm.parent, STAYS)), "--column", "group"]) == 2
    assert "group does not say which column tells what. Give it as name=FLDNAME." in capsys.readouterr().err


def test_weather_and_a_farm_with_a_long_table(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    days = "".join(f"2019-{month:02}-{day:02},1.5,3,12\n" for month in range(1, 13) for day in range(1, 28))
    path = file(farm.parent, f"date,rain_mm,tmin_c,tmax_c\n{days}", "weather.csv")
    assert main(["import", str(farm), str(path)]) == 0
    assert "And 324 rows more.\nDays of weather out of weather.csv: 324 taken.\n" in capsys.readouterr().out


def test_days_of_weather_that_cannot_be_are_refused_row_by_row_and_the_others_taken(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = (
        "2019-05-02,1,4,15,50\n2019-05-01,-3,4,15,50\n2019-05-03,wet,4,15,50\n\n"
        "2019-05-02,2,4,15,50\n2019-05-04,1,4,9,104\n"
    )
    path = file(farm.parent, f"station 7\ndate,rain_mm,tmin_c,tmax_c,humidity\n{rows}", "weather.csv")
    assert main(["import", str(farm), str(path), "--as", "weather"]) == 1
    told = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert told == [
        "row name result words",
        "1 2019-05-02 taken",
        "2 refused The rain is -3. Give a number from 0 to 2000.",
        "3 refused wet in rain_mm is no number.",
        "4 refused Thu 2 May 2019 stands in row 1 already, which is the one taken.",
        "5 2019-05-04 taken the humidity is 104 %; the rest of the row is taken.",
        "Days of weather out of weather.csv: 2 taken, 3 refused.",
        "It is one step, which undo takes back.",
    ]
    with Session.open(farm) as session:
        assert sum(row.day.year == 2019 for row in session.farm.weather_days.values()) == 2


def test_a_file_that_is_not_there_is_told(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["import", str(farm), str(farm.with_name("gone.csv"))]) == 1
    assert "The file gone.csv is not in" in capsys.readouterr().err
