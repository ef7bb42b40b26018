from __future__ import annotations

import json
from pathlib import Path

import pytest

from pigmap.cli.main import main
from pigmap.records import Record
from pigmap.session import Session
from tests.builtin.commands.test_ground import written
from tests.ground.invented import check, field, herd, paddock, square, stay


def rows_of(visits: int) -> list[Record]:
    rows: list[Record] = [*herd(), field(outline=square(0, 0, 400))]
    for number in range(visits):
        ground = square(50.0 * (number % 8), 50.0 * (number // 8))
        rows += [
            paddock(f"p{number}", ground),
            stay(f"s{number}", 6 * number, 6 * number + 5, ground, paddock=f"p{number}"),
            check(f"c{number}", 6 * number + 5, 2 + number % 2, f"p{number}"),
        ]
    return rows


@pytest.fixture(scope="module")
def twelve(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("twelve"), *rows_of(12))


@pytest.fixture(scope="module")
def four(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("four"), *rows_of(4))


def settings_of(path: Path) -> dict[str, object]:
    with Session.open(path) as session:
        return {row.key: row.value for row in session.farm.settings.values()}


def test_seen_against_expected_is_printed_and_what_was_learned(
    twelve: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ground", str(twelve), "--learn", "--on", "2027-04-01"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["day", "field", "paddock", "seen", "expected", "learned"]
    assert lines[1].split() == ["2026-04-06", "Field", "f", "Paddock", "p0", "0.5", "0.24", "0.61"]
    assert lines[13] == "Fitted on 12 visits."
    assert lines[14].startswith("What is computed is mostly off by up to 1")
    assert lines[15].startswith("Loss [m²/(kg·d)]: 0.4")
    assert lines[15].endswith("; from print 0.113.")
    assert lines[16] == "Regrowth [1/(°C·d)]: 0.0065, as from print; it takes 3 checks after a rest to learn it."
    assert lines[17] == "Loss under trees, times: 0.68, as from print; it takes 5 checks in woods to learn it."
    assert "cover loss" not in settings_of(twelve)


def test_the_table_alone_goes_to_other_programs(twelve: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground", str(twelve), "--learn", "--on", "2027-04-01", "--json"]) == 0
    printed = capsys.readouterr()
    rows = json.loads(printed.out)
    assert len(rows) == 12
    assert rows[0]["seen"] == 0.5
    assert "Fitted on 12 visits." in printed.err


def test_what_was_learned_is_kept_by_one_edit_that_can_be_undone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, *rows_of(12))
    before = settings_of(path)
    assert main(["ground", str(path), "--learn", "--keep", "--on", "2027-04-01"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "The ground is computed with these numbers from now on."
    now = settings_of(path)
    assert 0.2 < float(str(now["cover loss"])) < 0.6
    assert now["cover regrowth"] == 0.0065
    assert "wood loss" not in now
    with Session.open(path) as session:
        session.undo().result()
    assert settings_of(path) == before


def test_too_few_checks_are_said_and_nothing_is_kept(four: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground", str(four), "--learn", "--on", "2027-04-01"]) == 0
    assert "There are 4 daily checks with a rooting on ground used before" in capsys.readouterr().out
    assert main(["ground", str(four), "--learn", "--keep", "--on", "2027-04-01"]) == 1
    told = capsys.readouterr().err
    assert "Nothing was learned that could be kept: There are 4 daily checks" in told
    assert "Come back when there are 10 checks." in told
    assert "cover loss" not in settings_of(four)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (
            ["--keep"],
            "--keep keeps what was learned, and nothing was asked to be learned. Add --learn.",
        ),
        (
            ["--learn", "--field", "f"],
            "--field does not go with --learn, which looks at the daily checks of the whole farm. "
            "Leave it out; --on and --json go with it.",
        ),
        (
            ["--learn", "-o", "x.csv"],
            "-o does not go with --learn, which looks at the daily checks of the whole farm. "
            "Leave it out; --on and --json go with it.",
        ),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    options: list[str], words: str, four: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ground", str(four), *options]) == 2
    assert words in capsys.readouterr().err
