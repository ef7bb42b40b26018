"""What is done for the pigs of a group, what befalls them, and the books: each entry can be taken back."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from pigmap.animals.weight import live_weight
from pigmap.document.edits import (
    WeanedTo,
    Went,
    add_group,
    book_slaughter,
    enter_in_register,
    farrow,
    join_groups,
    move_pigs,
    open_litters,
    pigs_born,
    pigs_bought,
    pigs_died,
    pigs_sold,
    record_escape,
    serve,
    split_group,
    they_went,
    treat,
    wean,
)
from pigmap.errors import EditError, PigmapError, RecordError
from pigmap.records import Direction, Edit, Farm, GroupEventKind, PigClass
from tests.document.example_farm import DAY, GROUP, OTHERS, PADDOCK, done, example, only

LATER = DAY + timedelta(days=30)


def refused(edit: Edit, farm: Farm) -> str:
    with pytest.raises(PigmapError) as found:
        edit(farm)
    return f"{found.value.message} {found.value.remedy}"


def pigs(farm: Farm, group: str = GROUP, day: date = LATER) -> int:
    return live_weight(farm, group, day).pigs


def test_a_treatment_is_a_line_of_the_medicine_book_with_the_days_of_the_label() -> None:
    edit = treat(GROUP, DAY, "Wormer", last_on=date(2026, 5, 3), withdrawal_days=28, batch="A7", pigs=3, uid="t")
    row = only(done(example(), edit).treatments)
    assert (row.product, row.batch, row.pigs, row.clear_on) == ("Wormer", "A7", 3, date(2026, 6, 1))
    assert str(edit.label) == "Wormer of 2026-05-01 is in the medicine book."


def test_days_that_nobody_typed_are_not_known() -> None:
    assert only(done(example(), treat(GROUP, DAY, "Wormer")).treatments).clear_on is None


def test_a_treatment_that_cannot_be_is_refused_in_words() -> None:
    with pytest.raises(RecordError, match="The medicine has no name") as found:
        treat(GROUP, DAY, " ")
    assert str(found.value.remedy) == "Give it one."
    with pytest.raises(RecordError, match="ends on 2026-04-30, before 2026-05-01") as found:
        treat(GROUP, DAY, "Wormer", last_on=date(2026, 4, 30))
    assert str(found.value.remedy) == "Give days in the order in which they were."
    words = "The group is not there any more: it was removed meanwhile. Undo brings it back, or choose another group."
    assert refused(treat("nobody", DAY, "Wormer"), example()) == words


def test_an_escape_is_recorded_even_with_more_pigs_back_than_out() -> None:
    edit = record_escape(GROUP, DAY, paddock_uid=PADDOCK, why="a branch on the net", pigs_out=3, pigs_back=4)
    row = only(done(example(), edit).escapes)
    assert (row.paddock_uid, row.pigs_out, row.pigs_back, row.why) == (PADDOCK, 3, 4, "a branch on the net")
    assert str(edit.label) == "Escape of 2026-05-01 recorded."
    assert refused(record_escape(GROUP, DAY, paddock_uid="gone"), example()).startswith("The paddock is not there")


def test_a_sow_is_served_and_due_after_the_days_she_carries() -> None:
    edit = serve(GROUP, " Berta ", DAY)
    litter = only(done(example(), edit).litters)
    assert (litter.sow, litter.due) == ("Berta", DAY + timedelta(days=114))
    assert str(edit.label) == "Berta served on 2026-05-01."
    due = serve(GROUP, "Berta", None, due_on=LATER)
    assert only(done(example(), due).litters).due == LATER
    assert str(due.label) == "Berta is due on 2026-05-31."


def test_a_service_without_a_day_is_refused() -> None:
    with pytest.raises(EditError, match="No day is given") as found:
        serve(GROUP, "Berta", None)
    assert str(found.value.remedy) == "Give the day she was served, or the day she is due."


def test_a_sow_that_was_served_again_is_due_later() -> None:
    farm = done(example(), serve(GROUP, "Berta", DAY), serve(GROUP, "berta", DAY + timedelta(days=21)))
    assert only(farm.litters).served_on == DAY + timedelta(days=21)


def test_a_sow_farrows_and_her_litter_counts_with_her_until_it_is_weaned() -> None:
    farm = done(example(), serve(GROUP, "Berta", DAY), farrow(GROUP, "Berta", LATER, born=10))
    assert (only(farm.litters).farrowed_on, only(farm.litters).born) == (LATER, 10)
    assert pigs(farm) == 8
    unserved = done(example(), farrow(GROUP, "Clara", LATER, born=9, count_piglets=True))
    assert only(unserved.litters).sow == "Clara"
    assert pigs(unserved) == 17


def test_weaning_begins_a_group_with_the_piglets() -> None:
    to = WeanedTo(group_uid="w", new_name="Berta's", mean_kg=8.0)
    farm = done(example(), farrow(GROUP, "Berta", DAY, born=10), wean(GROUP, "Berta", LATER, weaned=9, to=to))
    litter = only(farm.litters)
    assert (litter.weaned_on, litter.weaned, litter.weaned_group_uid) == (LATER, 9, "w")
    assert farm.groups["w"].pig_class is PigClass.WEANED
    assert live_weight(farm, "w", LATER)[:2] == (9, 8.0)
    assert pigs(farm) == 8
    assert not open_litters(farm, GROUP)


def test_piglets_that_were_counted_leave_the_sows_group_at_weaning() -> None:
    to = WeanedTo(group_uid=OTHERS)
    edits = farrow(GROUP, "Berta", DAY, born=10, count_piglets=True), wean(GROUP, "Berta", LATER, weaned=9, to=to)
    farm = done(example(), *edits)
    assert (pigs(farm, day=DAY), pigs(farm), pigs(farm, OTHERS)) == (18, 9, 9)


def test_weaning_without_a_group_leaves_the_count_as_it_is() -> None:
    edit = wean(GROUP, "Berta", LATER, weaned=9)
    farm = done(example(), edit)
    assert pigs(farm) == 8
    assert only(farm.litters).weaned == 9
    assert str(edit.label) == "Piglets of Berta weaned on 2026-05-31."


def test_pigs_that_went_leave_the_group_and_stand_in_the_register() -> None:
    book = book_slaughter(LATER, group_uid=GROUP, pigs=4, least_kg=90.0, uid="b")
    edit = they_went("b", Went(on=LATER, gone=3, live_kg=110.0, mark="UK123", to_where="The butcher"))
    farm = done(example(), book, edit)
    assert pigs(farm) == 5
    line = only(farm.register_entries)
    assert (line.direction, line.pigs, line.mark, line.booking_uid) == (Direction.OFF, 3, "UK123", "b")
    assert str(book.label) == "Booked for slaughter on 2026-05-31."
    assert str(edit.label) == "3 pigs went on 2026-05-31."


def test_what_was_told_of_those_that_went_can_be_put_right() -> None:
    farm = done(example(), book_slaughter(LATER, group_uid=GROUP, pigs=4, uid="b"))
    farm = done(farm, they_went("b", Went(on=LATER, gone=3, to_where="The butcher")))
    again = Went(on=LATER + timedelta(days=1), gone=4, dead_kg=71.5)
    right = done(farm, they_went("b", again))
    assert pigs(right, day=again.on) == 4
    assert right.slaughter_bookings["b"].dead_kg == 71.5
    assert (only(right.register_entries).pigs, only(right.register_entries).to_where) == (4, "The butcher")
    none = done(right, they_went("b", Went(on=LATER, gone=0)))
    assert pigs(none) == 8
    assert not none.register_entries


def test_what_a_booking_takes_off_is_undone_with_it() -> None:
    farm = done(example(), book_slaughter(LATER, group_uid=GROUP, pigs=4, uid="b"))
    rows = they_went("b", Went(on=LATER, gone=4))(farm)
    undone = farm.after(rows).after([each.inverse() for each in reversed(rows)])
    assert (pigs(undone), undone.slaughter_bookings["b"].gone, len(undone.register_entries)) == (8, None, 0)


def test_pigs_of_no_group_go_with_a_line_in_the_register_alone() -> None:
    farm = done(example(), book_slaughter(LATER, pigs=2, uid="b"), they_went("b", Went(on=LATER, gone=2)))
    assert only(farm.register_entries).group_uid is None
    assert pigs(farm) == 8
    assert refused(they_went("x", Went(on=LATER, gone=1)), farm).startswith("The slaughter booking is not there")


def test_bought_pigs_have_a_line_where_their_mark_or_place_is_told() -> None:
    silent = done(example(), pigs_bought(GROUP, LATER, 4))
    told = done(example(), pigs_bought(GROUP, LATER, 4, from_where="A neighbour"))
    assert (pigs(silent), len(silent.register_entries)) == (12, 0)
    assert (pigs(told), only(told.register_entries).from_where) == (12, "A neighbour")
    assert len(done(example(), pigs_bought(GROUP, LATER, 4, register=True)).register_entries) == 1


def test_a_new_group_that_was_bought_stands_in_the_register() -> None:
    farm = done(example(), add_group("Stores", pigs=12, since=DAY, mark="UK9", uid="s"))
    line = only(farm.register_entries)
    assert (line.pigs, line.mark, line.group_uid, line.direction) == (12, "UK9", "s", Direction.ON)
    assert not done(example(), add_group("Stores", pigs=12, since=DAY, uid="s")).register_entries


def test_sold_born_and_dead_pigs_change_the_count() -> None:
    sold = done(example(), pigs_sold(GROUP, LATER, 2, to_where="Market"))
    assert (pigs(sold), only(sold.register_entries).to_where) == (6, "Market")
    assert not done(example(), pigs_sold(GROUP, LATER, 2, register=False)).register_entries
    assert pigs(done(example(), pigs_born(GROUP, LATER, 7))) == 15
    dead = pigs_died(GROUP, LATER, 1)
    assert (pigs(done(example(), dead)), str(dead.label)) == (7, "1 pig died on 2026-05-31.")
    written = done(example(), pigs_died(GROUP, LATER, 2, to_where="Knackery", register=True))
    assert only(written.register_entries).pigs == 2


def test_a_group_that_joins_another_ends() -> None:
    farm = done(example(), join_groups(GROUP, OTHERS, LATER, 8, mean_kg=180.0))
    assert (pigs(farm), pigs(farm, OTHERS)) == (0, 8)
    assert farm.groups[GROUP].closed_on == LATER


def test_a_group_that_splits_is_two_of_a_kind() -> None:
    farm = done(example(), split_group(GROUP, "Second lot", LATER, 3, mean_kg=180.0, uid="n"))
    assert (pigs(farm), live_weight(farm, "n", LATER)[:2]) == (5, (3, 180.0))
    assert farm.groups["n"].pig_class is farm.groups[GROUP].pig_class
    assert farm.groups["n"].colour_index == 2
    kinds = sorted(each.kind for each in farm.group_events.values())
    assert kinds == [GroupEventKind.BOUGHT, GroupEventKind.JOINED, GroupEventKind.SPLIT]


def test_pigs_cannot_go_to_the_group_they_are_in() -> None:
    with pytest.raises(EditError, match="They are in this group already") as found:
        move_pigs(GROUP, GROUP, LATER, 1)
    assert str(found.value.remedy) == "Choose another group."


def test_a_line_of_the_register_can_stand_alone() -> None:
    edit = enter_in_register(Direction.ON, DAY, 1, from_where="A fair")
    assert only(done(example(), edit).register_entries).group_uid is None
    assert str(edit.label) == "1 pig came on 2026-05-01."
    with pytest.raises(RecordError, match="The number of pigs of a register entry is 0") as found:
        enter_in_register(Direction.ON, DAY, 0)
    assert str(found.value.remedy) == "Give a number of at least 1."
