from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from pigmap.errors import RecordError, UsageError
from pigmap.records import StayState
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.days import checks_of, stays_of
from tests.builtin.formats.test_table import spreadsheet
from tests.ground.invented import check, paddock, square
from tests.session.taking_in.at_farm import after, file, here, said, taken

STAYS = "group,paddock,in,out\n"
CHECKS = "paddock,day,kv,rooting,note\n"


def test_stays_are_taken_with_their_state(tmp_path: Path) -> None:
    rows = (
        "Weaners,Paddock p,2026-05-01,2026-05-04\nWeaners,paddock  Q,4.5.2026,\n"
        "Group g,Paddock q,2026-07-01,2026/07/05\n"
    )
    told = taken(file(tmp_path, STAYS + rows))
    assert said(told) == ["It has columns for group, paddock and day in, so its rows are taken as stays."]
    new = [row for row in after(told).stays.values() if row.uid != "s"]
    assert [(row.group_uid, row.paddock_uid, row.state, row.in_on, row.out_on) for row in new] == [
        ("w", "p", StayState.PAST, date(2026, 5, 1), date(2026, 5, 4)),
        ("w", "q", StayState.RUNNING, date(2026, 5, 4), None),
        ("g", "q", StayState.PLANNED, date(2026, 7, 1), date(2026, 7, 5)),
    ]
    assert new[0].ground == here().paddocks["p"].outline


def test_of_many_paddocks_the_first_are_named_and_the_rest_are_counted(tmp_path: Path) -> None:
    at = here(*(paddock(f"r{each}", square(50, 0)) for each in range(14)))
    told = taken(file(tmp_path, STAYS + "Weaners,Meadow,2026-05-01,\n"), "stays", at)
    assert said(told)[-1].endswith("Paddock r9 and 4 more.")


def test_rows_that_name_what_is_not_there_are_told_with_their_number(tmp_path: Path) -> None:
    rows = (
        "Weener,Paddock p,2026-05-01,\nWeaners,Meadow,2026-05-01,\nWeaners,Paddock p,31.2.2026,\n"
        "Weaners,Paddock p,2026-05-09,2026-05-01\n,Paddock p,2026-05-01,\nWeaners,Paddock p,,\n"
        "Weaners,Paddock p,2026-05-01,2026-05-02\n"
    )
    told = taken(file(tmp_path, STAYS + rows), "stays")
    assert [row.result for row in told.rows] == ["refused"] * 6 + ["taken"]
    assert said(told) == [
        "1: there is no group 'Weener'.",
        "1: Did you mean Weaners?",
        "2: there is no paddock 'Meadow'.",
        "2: The farm has: Paddock p, Paddock q.",
        "3: the day in, '31.2.2026', is not a day.",
        "3: Give it as YYYY-MM-DD, such as 2026-03-01.",
        "4: A stay goes out on 2026-05-01, before it comes in on 2026-05-09.",
        "4: Give a day out that is not before the day in.",
        "5: no group is named.",
        "5: Write its name.",
        "6: no day in is given.",
        "6: Write the day on which the group came.",
    ]
    assert len(after(told).stays) == 2


def test_two_groups_on_one_paddock_at_once_are_taken_as_they_were(tmp_path: Path) -> None:
    told = taken(file(tmp_path, f"{STAYS}Weaners,Paddock p,2026-04-01,2026-04-06\n"))
    assert [row.result for row in told.rows] == ["taken"]


def test_a_running_stay_ends_the_one_before(tmp_path: Path) -> None:
    first = after(taken(file(tmp_path, f"{STAYS}Weaners,Paddock p,2026-05-01,\n")))
    now = after(taken(file(tmp_path, f"{STAYS}Weaners,Paddock q,2026-05-06,\n"), at=first), first)
    ended = next(row for row in now.stays.values() if row.group_uid == "w" and row.paddock_uid == "p")
    assert (ended.state, ended.out_on) == (StayState.PAST, date(2026, 5, 6))


def test_what_is_there_already_is_not_taken_twice(tmp_path: Path) -> None:
    path = file(tmp_path, f"{STAYS}Weaners,Paddock p,2026-05-01,2026-05-04\n")
    now = after(taken(path))
    again = taken(path, at=now)
    assert [row.result for row in again.rows] == ["there already"]
    assert not again.changes_anything


def test_a_paddock_of_which_there_are_two_is_told_apart_by_its_field(tmp_path: Path) -> None:
    twin = replace(paddock("p2", square(0, 50), None), name="Paddock p")
    farm = here(twin)
    told = taken(file(tmp_path, f"{STAYS}Weaners,Paddock p,2026-05-01,\n"), at=farm)
    assert said(told)[1:] == [
        "1: there are 2 paddocks called 'Paddock p'.",
        "1: Give the field too, in a column of its own, or other names.",
    ]
    words = "group,paddock,field,in,out\nWeaners,Paddock p,field F,2026-05-01,\n"
    assert [row.result for row in taken(file(tmp_path, words), at=farm).rows] == ["taken"]


def test_a_day_out_that_was_put_right_in_the_file_changes_the_stay(tmp_path: Path) -> None:
    farm = here()
    path = tmp_path / "stays.csv"
    hand_out(stays_of(farm), path, farm.projection)
    assert [row.result for row in taken(path).rows] == ["there already"]
    words = path.read_text(encoding="utf-8-sig").replace("2026-04-06", "2026-04-09")
    told = taken(file(tmp_path, words, "put right.csv"))
    assert [row.result for row in told.rows] == ["changed"]
    assert after(told).stays["s"].out_on == date(2026, 4, 9)


def test_days_with_slashes_are_read_as_the_file_means_them_or_refused(tmp_path: Path) -> None:
    told = taken(file(tmp_path, f"{STAYS}Weaners,Paddock p,03/04/2026,25/04/2026\n"))
    assert after(told).stays[told.rows[0].added.uid].in_on == date(2026, 4, 3)  # type: ignore[union-attr]
    with pytest.raises(RecordError, match=r"do not say which number is the day and which the month\. Write them as"):
        taken(file(tmp_path, f"{STAYS}Weaners,Paddock p,03/04/2026,05/04/2026\n"), "stays")


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252", "utf-16"])
def test_tables_of_spreadsheets_of_many_countries_are_read(tmp_path: Path, encoding: str) -> None:
    words = 'sep=;\r\npaddock;day;kV [kV];note\r\nPaddock p;1.5.2026;5,6 kV;Größe "50;m"\r\n'.replace('"50;m"', "gut")
    told = taken(file(tmp_path, words, encoding=encoding))
    (row,) = after(told).checks.values()
    assert (row.fence_kv, row.note, row.checked_on) == (5.6, "Größe gut", date(2026, 5, 1))


def test_a_reading_that_does_not_read_is_left_out_and_the_row_is_taken(tmp_path: Path) -> None:
    rows = "Paddock p,2026-05-01,strong,2,\nPaddock p,2026-05-02,5400,9,a lot\nPaddock x,2026-05-02,5,1,\n"
    told = taken(file(tmp_path, CHECKS + rows))
    assert [row.result for row in told.rows] == ["taken", "taken", "refused"]
    assert said(told)[1:6] == [
        "1: the fence voltage in kV, 'strong', is no number. The rest of the row is taken.",
        "2: The fence voltage is 5400. The rest of the row is taken.",
        "2: The rooting score is 9. The rest of the row is taken.",
        "3: there is no paddock 'Paddock x'.",
        "3: Did you mean Paddock q?",
    ]
    first, second = after(told).checks.values()
    assert (first.fence_kv, first.rooting_score) == (None, 2)
    assert (second.fence_kv, second.rooting_score, second.note) == (None, None, "a lot")


def test_yes_and_no_are_read_as_people_write_them(tmp_path: Path) -> None:
    words = (
        "paddock,day,water,all well,pigs\nPaddock p,2026-05-01,no,,12\nPaddock p,2026-05-02,x,yes,\n"
        "Paddock q,2026-05-02,maybe,,\n"
    )
    told = taken(file(tmp_path, words), "checks")
    rows = list(after(told).checks.values())
    assert [(row.water_ok, row.all_well, row.pigs_seen) for row in rows] == [
        (False, False, 12), (True, True, None), (None, False, None)
    ]  # fmt: skip
    assert said(told) == ["3: whether there is water, 'maybe', is neither yes nor no. The rest of the row is taken."]


@pytest.mark.parametrize("suffix", ["csv", "gpkg", "geojson", "kml", "gpx", "zip"])
def test_checks_that_were_handed_out_are_there_already(tmp_path: Path, suffix: str) -> None:
    farm = here(check("c", 6, 2), check("d", 7, None))
    path = tmp_path / f"checks.{suffix}"
    hand_out(checks_of(farm), path, farm.projection)
    told = taken(path, at=farm)
    assert [row.result for row in told.rows] == ["there already"] * 2
    words = [str(note) for note in told.notes]
    assert any("taken as daily checks" in each for each in words)


def test_a_column_that_is_needed_and_not_there_is_asked_for(tmp_path: Path) -> None:
    path = file(tmp_path, "who,where,in\nWeaners,Paddock p,2026-05-01\n")
    with pytest.raises(UsageError, match=r"no column for group; its columns are: who, where, in\. Say which one it is"):
        taken(path, "stays")
    told = taken(path, "stays", columns={"group": "who", "paddock": "where"})
    now = after(told)
    assert len(now.stays) == 2
    assert [row.result for row in taken(path, "stays", now).rows] == ["there already"]


def test_what_a_file_holds_is_asked_where_it_does_not_show(tmp_path: Path) -> None:
    with pytest.raises(
        UsageError, match=r"rows\.csv does not show what it holds: a, b\. Say whether it is fields, purposes of fields"
    ):
        taken(file(tmp_path, "a,b\n1,2\n"))


def test_a_shape_that_lies_nowhere_does_not_keep_a_fact_out(tmp_path: Path) -> None:
    words = (
        'group,paddock,in,out,wkt\nWeaners,Paddock p,2026-05-01,2026-05-02,"POLYGON ((1e6 1, 2e6 1, 2e6 9, 1e6 1))"\n'
    )
    told = taken(file(tmp_path, words))
    assert [row.result for row in told.rows] == ["taken"]


def test_weather_is_found_out_and_only_new_days_count(tmp_path: Path) -> None:
    path = file(tmp_path, "date,rain,tmin,tmax\n2029-05-01,3.5,4,15\n2026-04-02,0,11,23\n", "weather.csv")
    told = taken(path)
    assert said(told)[0] == "It has a day and rain or temperatures, so it is taken as weather."
    assert sorted(row.result for row in told.rows) == ["changed", "taken"]
    now = after(told)
    assert sum(row.day == date(2029, 5, 1) and row.rain_mm == 3.5 for row in now.weather_days.values()) == 1
    assert {row.result for row in taken(path, at=now).rows} == {"there already"}


def test_stays_come_out_of_a_spreadsheet(tmp_path: Path) -> None:
    group, paddocks, out = ["Weaners"] * 2, ["Paddock p"] * 2, ["2026-05-04", ""]
    since = ["2026-05-01", "2026-05-04"]
    path = spreadsheet(tmp_path / "a.xlsx", "XLSX", "Sheet1", group=group, paddock=paddocks, moved_in=since, out=out)
    told = taken(path)
    assert [row.result for row in told.rows] == ["taken", "taken"]
    spreadsheet(path, "XLSX", "Sheet2", append=True, a=["b"])
    with pytest.raises(UsageError, match=r"a\.xlsx has 2 layers with rows: Sheet1 \(2\), Sheet2 \(1\)\. Name the one"):
        taken(path)
    assert [row.result for row in taken(path, layer="sheet1").rows] == ["taken", "taken"]


def test_a_table_without_shapes_is_taken_out_of_a_geopackage(tmp_path: Path) -> None:
    import pyogrio.raw

    columns = {"group": "Weaners", "paddock": "Paddock p", "in": "2026-05-01", "out": "2026-05-03"}
    values = [np.array([value], dtype=object) for value in columns.values()]
    pyogrio.raw.write(tmp_path / "a.gpkg", None, values, list(columns), driver="GPKG", layer="m", geometry_type=None)
    told = taken(tmp_path / "a.gpkg")
    assert (told.kind, [row.result for row in told.rows]) == ("stays", ["taken"])
