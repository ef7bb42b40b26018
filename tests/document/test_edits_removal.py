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
    record_event,
    record_net_use,
    record_stay,
    remove,
    set_purpose,
    weigh,
)
from pigmap.document.edits.find import any_row, name_of
from pigmap.errors import EditError
from pigmap.records import TABLES, Farm, GroupEventKind, PlaceKind, Reason, Use, WayKind
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, OTHERS, PADDOCK, done, example, only


def full() -> Farm:
    """Return a farm with something in most tables, plans but no recorded stay."""
    return done(
        example(),
        add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="box"),
        add_way(
            WayKind.PERMANENT_FENCE, shapely.LineString([(0, 0), (400, 0)]), electric=True, energizer_uid="box", uid="w"
        ),
        add_keep_out(shapely.box(300, 50, 320, 70), Reason.POND, field_uid=FIELD, uid="pond"),
        set_purpose(FIELD, "03-15", "11-01", Use.GRAZE_LIGHTLY),
        plan_stay(GROUP, PADDOCK, DAY, uid="plan"),
        plan_stay(OTHERS, PADDOCK, DAY + timedelta(days=9), uid="later"),
        record_event(OTHERS, DAY + timedelta(days=30), GroupEventKind.DUE, uid="due"),
    )


def stood(farm: Farm) -> Farm:
    """Return a farm with a net that stood by its paddock."""
    run = shapely.LineString([(10, 10), (60, 10)])
    return done(farm, record_net_use(PADDOCK, KIND, run, DAY, net_uid=next(iter(farm.nets)), uid="use"))


def refusal(farm: Farm, table: str, uid: str) -> str:
    """Return why a row is not removed."""
    with pytest.raises(EditError) as refused:
        done(farm, remove(table, uid))
    return str(refused.value)


def test_removing_a_field_takes_plans_along_and_leaves_the_pond() -> None:
    farm = full()
    after = done(farm, remove("fields", FIELD))
    assert not after.fields
    assert not after.paddocks
    assert not after.stays
    assert not after.purposes
    assert only(after.keep_outs).field_uid is None


def test_undoing_a_removal_brings_all_of_it_back() -> None:
    farm = full()
    rows = remove("fields", FIELD)(farm)
    back = farm.after(rows).after([row.inverse() for row in reversed(rows)])
    for table in TABLES:
        assert dict(back.rows(table)) == dict(farm.rows(table))


TAKE_OUT_FIRST = "Remove those first if they never were; a paddock with a past can stay as it is."
END_OF_USE = "Give it an end of use instead: then its past stays."
END_GROUP = "Remove those first if they never were, or end the group instead: then its past stays."


def test_recorded_stays_keep_their_paddock_group_and_field() -> None:
    farm = done(full(), record_stay(OTHERS, PADDOCK, DAY, DAY + timedelta(days=3)))
    assert refusal(farm, "paddocks", PADDOCK) == (
        f"Long Field 1 has 1 recorded stay: it would be lost. {TAKE_OUT_FIRST}"
    )
    assert refusal(farm, "groups", OTHERS) == f"Weaners has 1 recorded stay: it would be lost. {END_GROUP}"
    assert refusal(farm, "fields", FIELD) == f"Long Field has 1 recorded stay: it would be lost. {END_OF_USE}"


def test_daily_checks_keep_their_paddock_group_and_field() -> None:
    farm = done(full(), record_check(PADDOCK, DAY, group_uid=OTHERS), record_check(PADDOCK, DAY))
    assert refusal(farm, "paddocks", PADDOCK) == (
        f"Long Field 1 has 2 daily checks: they would be lost. {TAKE_OUT_FIRST}"
    )
    assert refusal(farm, "fields", FIELD) == f"Long Field has 2 daily checks: they would be lost. {END_OF_USE}"
    assert refusal(farm, "groups", OTHERS) == f"Weaners has 1 daily check: it would be lost. {END_GROUP}"


def test_where_nets_really_stood_keeps_paddock_field_net_and_kind() -> None:
    farm = stood(full())
    assert refusal(farm, "paddocks", PADDOCK) == (
        f"Long Field 1 has 1 recorded place of a net: it would be lost. {TAKE_OUT_FIRST}"
    )
    assert refusal(farm, "fields", FIELD) == (
        f"Long Field has 1 recorded place of a net: it would be lost. {END_OF_USE}"
    )
    net = farm.net_uses["use"].net_uid or ""
    assert refusal(farm, "nets", net) == (
        "The net has 1 recorded place of a net: it would be lost. "
        "Give it a day on which it goes out of use instead: then where it stood stays."
    )


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (GroupEventKind.TREATED, "1 recorded treatment: it would be lost."),
        (GroupEventKind.WEIGHED, "1 weighing: it would be lost."),
        (GroupEventKind.DIED, "1 recorded entry: it would be lost."),
        (GroupEventKind.BOUGHT, "1 recorded entry: it would be lost."),
        (GroupEventKind.SERVED, "1 recorded entry: it would be lost."),
    ],
)
def test_what_happened_to_a_group_keeps_it(kind: GroupEventKind, words: str) -> None:
    farm = done(full(), record_event(OTHERS, DAY, kind, uid="event"))
    assert refusal(farm, "groups", OTHERS) == f"Weaners has {words} {END_GROUP}"
    assert not done(farm, remove("group_events", "event"), remove("groups", OTHERS)).groups.get(OTHERS)


def test_medicine_is_named_before_anything_else_that_keeps_a_group() -> None:
    farm = full()
    for day, kind in enumerate((GroupEventKind.WEIGHED, GroupEventKind.TREATED, GroupEventKind.TREATED)):
        farm = done(farm, record_event(OTHERS, DAY + timedelta(days=day), kind))
    farm = done(farm, record_stay(OTHERS, PADDOCK, DAY, DAY + timedelta(days=3)))
    assert refusal(farm, "groups", OTHERS).startswith("Weaners has 2 recorded treatments: they would be lost.")


def test_a_group_that_others_joined_is_kept() -> None:
    farm = done(full(), record_event(GROUP, DAY, GroupEventKind.SPLIT, pigs=3, other_group_uid=OTHERS))
    assert refusal(farm, "groups", OTHERS) == f"Weaners has 1 recorded entry: it would be lost. {END_GROUP}"


def test_a_group_without_a_past_goes_with_its_plans() -> None:
    after = done(full(), remove("groups", OTHERS))
    assert list(after.groups) == [GROUP]
    assert "due" not in after.group_events
    assert list(after.stays) == ["plan"]


def test_no_fact_of_any_table_goes_with_what_it_is_about() -> None:
    """Whatever is removed, what is recorded about it is either kept whole or keeps it."""
    farm = stood(done(full(), record_check(PADDOCK, DAY, group_uid=GROUP, uid="check"), weigh(GROUP, DAY, 181.0)))
    facts = {
        "net_uses": ["use"],
        "checks": ["check"],
        "group_events": [uid for uid in farm.group_events if uid != "due"],
    }
    for table in TABLES:
        for uid in farm.rows(table):
            try:
                after = done(farm, remove(table, uid))
            except EditError:
                continue
            for kept, uids in facts.items():
                for each in uids:
                    if (kept, each) != (table, uid):
                        assert after.rows(kept)[each] == farm.rows(kept)[each], f"{table} {uid} took {kept} {each}"


def test_a_net_kind_in_use_is_not_removed() -> None:
    assert refusal(full(), "net_kinds", KIND) == (
        "50 m nets has 16 nets: they would be lost. Remove those first, or leave the kind as it is."
    )
    farm = full()
    for uid in farm.nets:
        farm = done(farm, remove("nets", uid))
    assert refusal(farm, "net_kinds", KIND).startswith("50 m nets has 1 paddock made of it: it would be lost.")


def test_an_energizer_that_goes_leaves_its_fence() -> None:
    assert done(full(), remove("places", "box")).ways["w"].energizer_uid is None


def test_rows_that_nothing_hangs_on_simply_go() -> None:
    farm = stood(full())
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
