from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import shapely

from pigmap.records import Farm, NetKind, Purpose, StayState, Use
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.things import fields_of, paddocks_of
from tests.builtin.formats.test_vector import write
from tests.ground.invented import SOUTH, WEST, field, paddock, square, stay
from tests.session.taking_in.at_farm import TODAY, after, file, here, said, taken

NETS = NetKind(uid="n", name="50 m nets", bays_mm=(5000,) * 10)
TURNED = shapely.affinity.rotate(square(0, 0, 100, 50), 30)
CROOKED = shapely.Polygon([(WEST, SOUTH), (WEST + 40, SOUTH + 3), (WEST + 44, SOUTH + 50), (WEST - 2, SOUTH + 41)])


def told_of(tmp_path: Path, *outlines: shapely.Polygon, at: Farm | None = None, **columns: Any) -> list[str]:
    path = write(tmp_path / "paddocks.gpkg", list(outlines), **columns)
    return said(taken(path, at=at if at is not None else here(NETS)))


def test_a_paddock_of_whole_nets_is_taken_so_and_a_crooked_one_as_walked_corners(tmp_path: Path) -> None:
    path = write(
        tmp_path / "a.gpkg", [TURNED, CROOKED], name=["P 1", "P 2"], net_kind=["50 m nets", None],
        nets_long=[2, None], nets_wide=[1, None],
    )  # fmt: skip
    told = taken(path, at=here(NETS))
    assert str(told.notes[0]) == "It holds outlines and tells their nets, or is called so: they are taken as paddocks."
    new = {row.name: row for row in after(told, here(NETS)).paddocks.values() if row.uid not in ("p", "q")}
    first, second = new["P 1"], new["P 2"]
    assert (first.net_kind_uid, first.nets_long, first.nets_wide, first.field_uid) == ("n", 2, 1, "f")
    assert (second.net_kind_uid, second.nets_long, second.nets_wide) == (None, None, None)
    assert second.outline.equals(CROOKED)


def test_nets_that_do_not_go_round_are_told_and_the_corners_stand(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [TURNED], name=["P"], net_kind=["50 M  NETS"], nets_long=[3], nets_wide=[1])
    told = taken(path, "paddocks", here(NETS))
    assert said(told) == ["1: Its sides are not those of 3 x 1 50 m nets; its corners stand as they are."]
    new = next(row for row in after(told, here(NETS)).paddocks.values() if row.name == "P")
    assert (new.net_kind_uid, new.nets_long) == ("n", None)


def test_a_net_kind_that_is_not_known_leaves_walked_corners(tmp_path: Path) -> None:
    assert told_of(tmp_path, TURNED, name=["P"], net_kind=["70 m nets"], nets_long=[3])[-1] == (
        "1: There is no net kind '70 m nets'. It is taken as corners that were walked."
    )


def test_an_edge_that_crosses_itself_is_mended_with_both_areas_and_each_part_is_a_paddock(tmp_path: Path) -> None:
    bow = shapely.Polygon(
        [(WEST + 10, SOUTH + 10), (WEST + 60, SOUTH + 50), (WEST + 60, SOUTH + 10), (WEST + 10, SOUTH + 40)]
    )
    path = write(tmp_path / "paddocks.gpkg", [bow], name=["Bow"])
    told = taken(path)
    assert [row.result for row in told.rows] == ["mended"]
    assert "1: The edge of Bow crossed itself; it was mended." in said(told)
    assert said(told)[-1].startswith("1: Its area was 250 m² as it stood, and is ")
    new = [row.name for row in after(told).paddocks.values() if row.uid not in ("p", "q")]
    assert sorted(new) == ["Bow", "Bow, part 2"]


def test_a_paddock_without_a_name_gets_the_next_of_its_field(tmp_path: Path) -> None:
    told = taken(write(tmp_path / "a.gpkg", [square(0, 50), square(50, 50)], number=[None, None]), "paddocks")
    names = {row.name for row in after(told).paddocks.values() if row.uid not in ("p", "q")}
    assert names == {"Field f 1", "Field f 2"}


def test_a_paddock_outside_every_field_is_taken_and_told(tmp_path: Path) -> None:
    assert told_of(tmp_path, square(500, 500), name=["Far"])[-1] == "1: It lies in none of the fields."


def test_a_name_that_is_there_already_is_told(tmp_path: Path) -> None:
    assert told_of(tmp_path, square(50, 50), name=["Paddock p"])[-1] == "1: There is another paddock of that name."


def test_a_paddock_that_was_redrawn_elsewhere_takes_its_running_stay_with_it_and_no_past_one(tmp_path: Path) -> None:
    farm = here(stay("r", 20, None, group="w", state=StayState.RUNNING))
    assert farm.paddocks["p"].outline.equals(square(0, 0))
    path = tmp_path / "paddocks.gpkg"
    wider = replace(paddock(), outline=square(0, 0, 60))
    hand_out(paddocks_of(here(wider), TODAY, TODAY), path, farm.projection)
    told = taken(path, at=farm)
    assert [row.result for row in told.rows] == ["changed", "there already"]
    now = after(told, farm)
    assert now.paddocks["p"].outline.equals(square(0, 0, 60))
    assert now.stays["r"].ground.equals(square(0, 0, 60))
    assert now.stays["s"].ground.equals(square(0, 0))


def test_purposes_go_by_the_name_of_the_field_and_the_part_of_the_year(tmp_path: Path) -> None:
    rows = (
        "field,from,to,purpose,rest days\nfield F,1 March,31.10.,graze,90\nField f,11-01,02-28,winter ground,\n"
        "Meadow,03-01,10-31,closed,\nField f,03-01,30 Feb,closed,\nField f,03-01,10-31,plough,\n"
        "Field f,06-01,06-30,closed,\n"
    )
    told = taken(file(tmp_path, rows))
    assert [row.result for row in told.rows] == ["taken", "taken", "refused", "refused", "refused", "taken"]
    assert said(told)[1:] == [
        "3: there is no field 'Meadow'.",
        "3: The farm has: Field f.",
        "4: the last day, '30 Feb', is no day of the year.",
        "4: Give month and day as MM-DD, such as 03-15.",
        "5: the purpose, 'plough', is not known here.",
        "5: Give one of: graze lightly, turn over, clear scrub, winter ground, closed.",
        "6: Field f is for 'graze lightly' in a part of that time already; both stand.",
    ]
    first, winter, _ = after(told).purposes.values()
    assert (first.purpose, first.from_month_day, first.to_month_day, first.rest_days_wanted) == (
        Use.GRAZE_LIGHTLY, "03-01", "10-31", 90
    )  # fmt: skip
    assert (winter.purpose, winter.from_month_day) == (Use.WINTER_GROUND, "11-01")
    assert {row.result for row in taken(file(tmp_path, rows), at=after(told)).rows} == {"there already", "refused"}


def test_what_is_wanted_of_a_purpose_that_is_there_changes_it(tmp_path: Path) -> None:
    farm = here(Purpose(uid="u", field_uid="f", from_month_day="03-01", to_month_day="10-31", purpose=Use.CLOSED))
    told = taken(file(tmp_path, "field,from,to,purpose,rooting\nField f,03-01,10-31,closed,0.25\n"), at=farm)
    assert [row.result for row in told.rows] == ["changed"]
    assert after(told, farm).purposes["u"].rooting_wanted == 0.25


def test_fields_bring_what_they_are_for(tmp_path: Path) -> None:
    purpose = Purpose(uid="u", field_uid="f", from_month_day="11-01", to_month_day="02-28", purpose=Use.WINTER_GROUND)
    path = tmp_path / "fields.csv"
    hand_out(fields_of(here(purpose)), path, here().projection)
    told = taken(path)
    assert [row.result for row in told.rows] == ["changed"]
    (new,) = after(told).purposes.values()
    assert (new.field_uid, new.from_month_day, new.purpose) == ("f", "11-01", Use.WINTER_GROUND)
    assert not taken(path, at=after(told)).changes_anything


def test_a_field_that_was_redrawn_elsewhere_keeps_its_cells_and_what_the_file_does_not_tell(tmp_path: Path) -> None:
    farm = here(replace(field(), note="wet", turned_deg=12.0))
    path = write(tmp_path / "a.gpkg", [square(0, 0, 120)], name=["North"], uid=["f"])
    told = taken(path, "fields", farm)
    assert [row.result for row in told.rows] == ["changed"]
    (now,) = after(told, farm).fields.values()
    assert (now.name, now.note, now.turned_deg, round(now.outline.area)) == ("North", "wet", 12.0, 14_400)
