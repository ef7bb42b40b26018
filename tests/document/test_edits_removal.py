from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import (
    add_keep_out,
    add_place,
    add_way,
    plan_stay,
    record_check,
    record_net_use,
    record_stay,
    remove,
    set_purpose,
    weigh,
)
from pigmap.document.edits.find import any_row, name_of
from pigmap.errors import EditError
from pigmap.records import TABLES, Farm, PlaceKind, Reason, Use, WayKind
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, OTHERS, PADDOCK, done, example, only


def full() -> Farm:
    """Return a farm with something in most tables, plans but no recorded stay."""
    run = shapely.LineString([(10, 10), (60, 10)])
    farm = example()
    return done(
        farm,
        add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="box"),
        add_way(
            WayKind.PERMANENT_FENCE, shapely.LineString([(0, 0), (400, 0)]), electric=True, energizer_uid="box", uid="w"
        ),
        add_keep_out(shapely.box(300, 50, 320, 70), Reason.POND, field_uid=FIELD, uid="pond"),
        set_purpose(FIELD, "03-15", "11-01", Use.GRAZE_LIGHTLY),
        plan_stay(GROUP, PADDOCK, DAY, uid="plan"),
        weigh(GROUP, DAY, 181.0),
        record_net_use(PADDOCK, KIND, run, DAY, net_uid=next(iter(farm.nets)), uid="use"),
    )


def test_removing_a_field_takes_plans_along_and_leaves_the_pond() -> None:
    farm = full()
    after = done(farm, remove("fields", FIELD))
    assert not after.fields
    assert not after.paddocks
    assert not after.stays
    assert not after.purposes
    assert not after.net_uses
    assert only(after.keep_outs).field_uid is None


def test_undoing_a_removal_brings_all_of_it_back() -> None:
    farm = full()
    rows = remove("fields", FIELD)(farm)
    back = farm.after(rows).after([row.inverse() for row in reversed(rows)])
    for table in TABLES:
        assert dict(back.rows(table)) == dict(farm.rows(table))


def test_recorded_stays_keep_their_paddock_group_and_field() -> None:
    farm = done(full(), record_stay(GROUP, PADDOCK, DAY, DAY + timedelta(days=3)))
    for table, uid, words in (
        (
            "paddocks",
            PADDOCK,
            "Long Field 1 has 1 recorded stay: they would be lost. "
            "Remove those first if they never were; a paddock with a past can stay as it is.",
        ),
        (
            "groups",
            GROUP,
            "Sows has 1 recorded stay: they would be lost. End the group instead: then its past stays.",
        ),
        (
            "fields",
            FIELD,
            "Long Field has 1 recorded stay: they would be lost. Give it an end of use instead: then its past stays.",
        ),
    ):
        with pytest.raises(EditError) as refused:
            done(farm, remove(table, uid))
        assert str(refused.value) == words


def test_daily_checks_keep_their_paddock_and_field() -> None:
    farm = done(full(), record_check(PADDOCK, DAY), record_check(PADDOCK, DAY))
    with pytest.raises(EditError) as refused:
        done(farm, remove("paddocks", PADDOCK))
    assert str(refused.value.message) == "Long Field 1 has 2 daily checks: they would be lost."
    with pytest.raises(EditError) as refused:
        done(farm, remove("fields", FIELD))
    assert str(refused.value.message) == "Long Field has recorded checks: they would be lost."


def test_a_group_without_a_past_goes_with_its_plans_and_weighings() -> None:
    farm = done(full(), record_check(PADDOCK, DAY, group_uid=GROUP, uid="c"))
    after = done(farm, remove("groups", GROUP))
    assert list(after.groups) == [OTHERS]
    assert not after.group_events
    assert not after.stays
    assert after.checks["c"].group_uid is None


def test_a_net_kind_in_use_is_not_removed() -> None:
    with pytest.raises(EditError) as refused:
        done(full(), remove("net_kinds", KIND))
    assert str(refused.value) == (
        "50 m nets has 16 nets: they would be lost. Remove those first, or leave the kind as it is."
    )
    farm = full()
    for uid in farm.nets:
        farm = done(farm, remove("nets", uid))
    assert farm.net_uses["use"].net_uid is None
    with pytest.raises(EditError, match="50 m nets has 1 paddock made of it"):
        done(farm, remove("net_kinds", KIND))


def test_an_energizer_that_goes_leaves_its_fence() -> None:
    assert done(full(), remove("places", "box")).ways["w"].energizer_uid is None


def test_rows_that_nothing_hangs_on_simply_go() -> None:
    farm = full()
    for table in ("keep_outs", "ways", "stays", "net_uses", "purposes", "group_events"):
        uid = next(iter(farm.rows(table)))
        farm = done(farm, remove(table, uid))
        assert uid not in farm.rows(table)


def test_a_removal_is_named_for_what_goes() -> None:
    assert str(remove("fields", FIELD).label) == "Field removed."
    assert str(remove("fields", FIELD, name="Long Field").label) == "Long Field removed."


@pytest.mark.parametrize("table", list(TABLES))
def test_what_is_gone_already_is_said_to_be_gone(table: str) -> None:
    with pytest.raises(EditError, match="is not there any more: it was removed meanwhile"):
        done(example(), remove(table, "x"))


def test_rows_without_a_name_are_called_after_what_they_belong_to() -> None:
    farm = full()
    assert str(name_of(farm, any_row(farm, "stays", "plan"))) == "the stay of Sows"
    assert str(name_of(farm, any_row(farm, "keep_outs", "pond"))) == "the keep-out of Long Field"
    assert str(name_of(farm, any_row(farm, "ways", "w"))) == "the permanent fence"
    assert str(name_of(farm, any_row(farm, "fields", FIELD))) == "Long Field"
