from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap import records
from pigmap.records import (
    TABLES,
    ChangeSet,
    Edit,
    Farm,
    Group,
    NetKind,
    Projection,
    Purpose,
    Reason,
    RowChange,
    Setting,
    Stay,
    StayState,
    Use,
    add,
    change,
    new_uid,
    remove,
)
from pigmap.text import Text

PROJECTION = Projection(name="flat", authority="NONE", code=0, definition="")
SOWS, WEANERS = Group(uid="a", name="Sows"), Group(uid="b", name="Weaners")


def _farm() -> Farm:
    return Farm(document_uid="d", projection=PROJECTION).after([add(SOWS)])


def test_every_public_name_is_there_and_every_record_has_a_table_of_the_farm() -> None:
    assert all(hasattr(records, name) for name in records.__all__)
    for table, kind in TABLES.items():
        assert table == kind.TABLE
        assert _farm().rows(table) == getattr(_farm(), table)


def test_a_table_that_is_not_there_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError, match="pigs"):
        _farm().rows("pigs")


def test_changes_make_the_next_revision_and_leave_the_farm_as_it_was() -> None:
    before = _farm()
    renamed = Group(uid="a", name="Old sows")
    after = before.after([change(SOWS, renamed), add(WEANERS)])
    assert dict(after.groups) == {"a": renamed, "b": WEANERS}
    assert dict(before.groups) == {"a": SOWS}
    assert after.revision == before.revision + 1
    assert after.stays is before.stays


def test_what_was_done_and_taken_back_is_the_same_farm_one_more_revision_on() -> None:
    before = _farm()
    done = [add(WEANERS), remove(SOWS)]
    after = before.after(done).after([each.inverse() for each in reversed(done)])
    assert after.groups == before.groups


def test_rows_of_a_farm_cannot_be_changed_in_place() -> None:
    with pytest.raises(TypeError):
        _farm().groups["c"] = WEANERS  # type: ignore[index]


def test_a_change_needs_a_side_and_keeps_its_row() -> None:
    with pytest.raises(ValueError, match="needs a side"):
        RowChange(None, None)
    with pytest.raises(ValueError, match="row a cannot become row b"):
        change(SOWS, WEANERS)


def test_sets_of_changes_are_looked_through_by_table_and_joined_in_order() -> None:
    setting = Setting(key="units", value_json='"us"')
    joined = ChangeSet.joined([ChangeSet((add(SOWS),)), ChangeSet((add(setting), remove(SOWS)))])
    assert [each.after for each in joined.of("groups")] == [SOWS, None]
    assert [each.uid for each in joined.of("settings", "fields")] == [setting.uid]


def test_an_edit_looks_at_the_farm_and_changes_nothing() -> None:
    edit = Edit(Text("Everything removed."), lambda farm: [remove(row) for row in farm.groups.values()])
    farm = _farm()
    assert edit(farm) == [remove(SOWS)]
    assert dict(farm.groups) == {"a": SOWS}


def test_a_setting_is_found_by_its_key() -> None:
    farm = _farm().after([add(Setting(key="farm name", value_json='"Ridge"'))])
    assert (farm.name, farm.setting("units", "metric")) == ("Ridge", "metric")
    assert _farm().name == ""


def test_uids_are_of_version_7_all_different_and_rise_with_time() -> None:
    uids = [new_uid() for _ in range(1_000)]
    assert len(set(uids)) == 1_000
    assert all(uid[14] == "7" and uid[19] in "89ab" for uid in uids)  # RFC 9562, section 5.7
    stamps = [uid[:13] for uid in uids]
    assert stamps == sorted(stamps)


@pytest.mark.parametrize(
    ("first", "last", "day", "covered"),
    [
        ("03-01", "10-31", date(2026, 3, 1), True),
        ("03-01", "10-31", date(2026, 10, 31), True),
        ("03-01", "10-31", date(2026, 11, 1), False),
        ("11-01", "02-28", date(2026, 12, 24), True),
        ("11-01", "02-28", date(2027, 1, 1), True),
        ("11-01", "02-28", date(2027, 3, 1), False),
    ],
)
def test_a_purpose_covers_both_ends_and_may_pass_over_new_year(first: str, last: str, day: date, covered: bool) -> None:
    purpose = Purpose(field_uid="f", from_month_day=first, to_month_day=last, purpose=Use.TURN_OVER)
    assert purpose.covers(day) is covered


def test_a_stay_covers_its_first_day_and_not_its_day_out() -> None:
    stay = Stay(
        group_uid="a",
        paddock_uid="p",
        ground=shapely.box(0, 0, 1, 1),
        state=StayState.PAST,
        in_on=date(2026, 5, 1),
        out_on=date(2026, 5, 4),
    )
    assert [stay.covers(date(2026, 5, day)) for day in (1, 3, 4)] == [True, True, False]


def test_a_stay_with_no_day_out_goes_on() -> None:
    stay = Stay(
        group_uid="a", paddock_uid="p", ground=shapely.box(0, 0, 1, 1), state=StayState.RUNNING, in_on=date(2026, 5, 1)
    )
    assert stay.covers(date(2199, 1, 1))


def test_a_net_is_as_long_as_its_bays_and_has_a_post_more_than_bays() -> None:
    kind = NetKind(name="50 m", bays_mm=(3_571,) * 13 + (3_577,))
    assert (kind.length_mm, kind.length_m, kind.posts) == (50_000, 50.0, 15)


def test_water_is_told_from_dry_reasons() -> None:
    assert {reason for reason in Reason if reason.is_water} == {
        Reason.POND,
        Reason.WATERCOURSE,
        Reason.WELL,
        Reason.WET,
        Reason.FLOOD,
    }
