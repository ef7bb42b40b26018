from __future__ import annotations

from datetime import timedelta

import pytest

from pigmap.document.edits import place_paddock, record_stay, swap_stays, swapped_words
from pigmap.errors import EditError
from pigmap.records import Farm, RowChange
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

FIRST, THEN, END = (DAY + timedelta(days=each) for each in (5, 9, 12))


def farm() -> Farm:
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        place_paddock(
            square(1), net_kind_uid=KIND, uid="a", name="A", group_uid=GROUP, in_on=FIRST, out_on=THEN, stay_uid="one"
        ),
        place_paddock(
            square(2),
            net_kind_uid=KIND,
            uid="b",
            name="B",
            group_uid=GROUP,
            in_on=THEN,
            out_on=END,
            why="the pond is dry",
            stay_uid="two",
        ),
    )


def test_the_days_stay_and_the_ground_goes_the_other_way() -> None:
    after = done(farm(), swap_stays("one", "two"))
    one, two = after.stays["one"], after.stays["two"]
    assert (one.paddock_uid, one.in_on, one.out_on, one.why_planned) == ("b", FIRST, THEN, "the pond is dry")
    assert (two.paddock_uid, two.in_on, two.out_on, two.why_planned) == ("a", THEN, END, "")
    assert one.ground.equals(square(2).outline)
    assert two.ground.equals(square(1).outline)


def test_twice_is_as_before_and_undo_takes_it_back() -> None:
    before = farm()
    twice = done(before, swap_stays("one", "two"), swap_stays("two", "one"))
    assert twice.stays["one"] == before.stays["one"]
    rows = swap_stays("one", "two")(before)
    back: list[RowChange] = [row.inverse() for row in rows]
    assert before.after(rows).after(back).stays["two"] == before.stays["two"]


def test_it_says_which_comes_first_then() -> None:
    assert str(swapped_words(farm(), "two", "one")) == "First B, then A."


def test_what_has_begun_is_refused() -> None:
    with pytest.raises(EditError, match="has begun") as refused:
        swap_stays("now", "one")(farm())
    assert "still planned" in str(refused.value.remedy)


def test_two_groups_are_refused() -> None:
    others = done(
        farm(),
        place_paddock(square(4), net_kind_uid=KIND, group_uid=OTHERS, in_on=FIRST, out_on=THEN, stay_uid="theirs"),
    )
    with pytest.raises(EditError, match="Two groups") as refused:
        swap_stays("one", "theirs")(others)
    assert "one group" in str(refused.value.remedy)
