from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import shapely

from pigmap.cli.main import main
from pigmap.planning.rule import Breach
from pigmap.plugins import Registry
from pigmap.plugins.declared import installed
from pigmap.records import Edit, Farm, Place, PlaceKind, Record, RowChange, Stay, add
from pigmap.session import Session
from pigmap.text import Text
from tests.planning.invented import PROJECTION, TODAY, farm_with, stay
from tests.plugins.strangers import stranger


class Torn:
    api = 1
    name = "torn"
    title = Text("Torn")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        raise KeyError("colour")


torn = Torn()


def _file(tmp_path: Path, *rows: Record) -> Path:
    path = tmp_path / "farm.gpkg"
    farm = farm_with(*rows)
    tables = (farm.fields, farm.places, farm.net_kinds, farm.groups, farm.nets, farm.paddocks, farm.stays)
    kept = [row for table in tables for row in table.values()]

    def changes(_: Farm) -> list[RowChange]:
        return [add(row) for row in kept]

    with Session.create(path, PROJECTION, "Test farm") as session:
        session.do(Edit(Text("All of it."), changes)).result()
    return path


def test_a_sound_farm_says_so_with_status_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _file(tmp_path, *stay("sows", (0, 0), -2, 4))
    assert main(["verify", str(path), "--on", TODAY.isoformat()]) == 0
    assert "Test farm: the file is sound; records and plan keep all" in capsys.readouterr().out


def test_what_was_accepted_is_listed_with_its_reason_and_status_0(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [
        replace(row, why_planned="agreed with the neighbour") if isinstance(row, Stay) else row
        for row in stay("sows", (280, 0), 3, 6)
    ]
    path = _file(tmp_path, *rows)
    assert main(["verify", str(path), "--on", TODAY.isoformat()]) == 0
    first, last = capsys.readouterr().out.splitlines()
    assert first == (
        "plan 2026-05-23: 0.15 ha of 280 0 lie outside every field. Placed all the same: agreed with the neighbour."
    )
    assert last == "Test farm: the file is sound; what breaks a rule was accepted with a reason, once."
    assert main(["verify", str(path), "--on", TODAY.isoformat(), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["accepted"] == "agreed with the neighbour"


def test_what_only_wants_care_is_told_with_status_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    gate = Place(kind=PlaceKind.GATE, name="Yard gate", point=shapely.Point(20, 0))
    path = _file(tmp_path, gate, *stay("sows", (0, 0), 2, 4))
    assert main(["verify", str(path), "--on", TODAY.isoformat()]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith("care 2026-05-22: 0 0 covers Yard gate: nobody gets through")
    assert "the file is sound" in said[1]


def test_every_breach_is_one_line_with_status_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _file(tmp_path, *stay("sows", (280, 0), -9, -4), *stay("sows", (0, 0), -2, 4), *stay("sows", (50, 0), 3, 5))
    assert main(["verify", str(path), "--on", TODAY.isoformat()]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert any(line.startswith("fact 2026-05-11: 0.15 ha of 280 0 lie outside every field. Move the") for line in lines)
    assert any(line.startswith("plan 2026-05-23: Sows are in 0 0 and in 50 0 on") for line in lines)
    assert len(lines) == 2


def test_json_names_rule_table_and_row(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _file(tmp_path, *stay("sows", (280, 0), 1, 4))
    assert main(["verify", str(path), "--on", TODAY.isoformat(), "--json"]) == 1
    (row,) = json.loads(capsys.readouterr().out)
    assert (row["what"], row["rule"], row["day"]) == ("plan", "ground-inside", "2026-05-21")
    assert (row["table"], row["uid"]) == ("stays", "sows 280 0 1")


def test_a_row_changed_behind_the_log_is_a_finding_of_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = _file(tmp_path)
    db = sqlite3.connect(path)
    _unlock(db)
    db.execute("DELETE FROM pigmap_changes WHERE row_uid = 'sows'")
    db.commit()
    db.close()
    assert main(["verify", str(path)]) == 1
    assert "file: A row of groups is not in the change log: sows." in capsys.readouterr().out


def _unlock(db: sqlite3.Connection) -> None:
    """Take away what keeps the log from being cut, as another program might."""
    triggers = db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'pigmap_changes'")
    for (name,) in triggers.fetchall():
        db.execute(f'DROP TRIGGER "{name}"')


def test_a_rule_of_a_stranger_that_fails_is_named_and_the_others_are_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = _file(tmp_path, *stay("sows", (280, 0), -9, -4))
    registry = Registry([*installed(), stranger("rules", "torn", f"{__name__}:torn")])
    assert main(["verify", str(path), "--on", TODAY.isoformat()], registry) == 1
    shown = capsys.readouterr().out
    assert "The rule torn of stranger stopped half way: KeyError: 'colour'. Its maker can mend it." in shown
    assert "lie outside every field" in shown


def test_a_rule_that_cannot_be_loaded_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    registry = Registry([*installed(), stranger("rules", "gone", "no.such.module:rule")])
    assert main(["verify", str(_file(tmp_path))], registry) == 1
    assert "stranger: rules gone cannot be used" in capsys.readouterr().out


def test_a_file_that_is_not_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["verify", str(tmp_path / "no.gpkg")]) == 1
    assert "no.gpkg" in capsys.readouterr().err


def test_a_damaged_file_is_told_of_once_and_not_opened(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _file(tmp_path)
    with path.open("r+b") as file:
        file.truncate(path.stat().st_size // 2)
    assert main(["verify", str(path)]) == 1
    shown = capsys.readouterr()
    assert shown.out.startswith("file: ")
    assert "farm.gpkg" in shown.out
    assert shown.err.startswith("For a copy with all that can be read of it: pigmap verify ")
    assert len(shown.err.splitlines()) == 1


def _damaged(tmp_path: Path) -> Path:
    path = _file(tmp_path, *stay("sows", (0, 0), -2, 4))
    with sqlite3.connect(path) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'stays'").fetchone()
    db.close()
    data = bytearray(path.read_bytes())
    data[(page - 1) * 4096 : page * 4096] = bytes(4096)
    path.write_bytes(data)
    return path


def test_a_damaged_file_is_told_with_the_way_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = _damaged(tmp_path)
    assert main(["verify", str(path)]) == 1
    told = capsys.readouterr()
    assert "file: farm.gpkg is damaged: " in told.out
    assert f"For a copy with all that can be read of it: pigmap verify {path} --rescue 'farm, rescued.gpkg'" in told.err


def test_a_damaged_file_is_rescued_into_another(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = _damaged(tmp_path), tmp_path / "new.gpkg"
    before = path.read_bytes()
    assert main(["verify", str(path), "--rescue", str(out)]) == 0
    told = capsys.readouterr().out
    assert "rows were rescued into new.gpkg. 1 of them was made anew from the change log. None is known" in told
    assert path.read_bytes() == before
    assert main(["verify", str(out), "--on", TODAY.isoformat()]) == 0
    assert main(["verify", str(path), "--rescue", str(out)]) == 1
    assert "There is already a file new.gpkg in " in capsys.readouterr().err
