from __future__ import annotations

from datetime import date
from typing import Any

from pigmap.records import OwnDays, Purpose, StayState, Use
from pigmap.records.keepers_days import KeepersDays, keepers_days, own_days_of, use_of
from tests.ground.invented import farm, field, herd, on, stay

DAY = date(2026, 7, 1)


def own(uid: str, days: float, **columns: Any) -> OwnDays:
    return OwnDays(uid=uid, days=days, **columns)


def purpose(uid: str, use: Use, first: str = "01-01", last: str = "12-31") -> Purpose:
    return Purpose(uid=uid, field_uid="f", from_month_day=first, to_month_day=last, purpose=use)


def test_what_the_keeper_typed_leads_over_what_the_stays_tell() -> None:
    stays = [stay(f"s{number}", 10 * number, 10 * number + 7) for number in range(3)]
    assert keepers_days(farm(*herd(), *stays), "g") == KeepersDays(7.0, None, (7, 7, 7))
    said = own("all", 3.0)
    assert keepers_days(farm(*herd(), *stays, said), "g") == KeepersDays(3.0, said)


def test_without_word_or_stay_nothing_is_known() -> None:
    assert keepers_days(farm(*herd()), "g") is None
    assert keepers_days(farm(*herd(), stay("s", 0, None, state=StayState.RUNNING)), "g") is None


def test_the_middle_one_of_the_last_five_stays_counts() -> None:
    lengths = (30, 2, 4, 9, 3, 5)
    begins = [0, 40, 60, 80, 100, 120]
    stays = [stay(f"s{at}", first, first + days) for at, (first, days) in enumerate(zip(begins, lengths, strict=True))]
    assert keepers_days(farm(*herd(), *stays), "g") == KeepersDays(4.0, None, (2, 3, 4, 5, 9))


def test_of_several_words_the_one_that_says_most_counts() -> None:
    rows = [
        own("all", 9.0),
        own("group", 8.0, group_uid="g"),
        own("scrub", 7.0, purpose=Use.CLEAR_SCRUB),
        own("winter", 6.0, from_month_day="11-01", to_month_day="03-31"),
        own("both", 5.0, group_uid="g", purpose=Use.CLEAR_SCRUB),
        own("three", 4.0, group_uid="g", purpose=Use.CLEAR_SCRUB, from_month_day="11-01", to_month_day="03-31"),
    ]
    scrub = farm(*herd(), *herd("h"), field(), purpose("p", Use.CLEAR_SCRUB), *rows)
    plain = farm(*herd(), *herd("h"), field(), *rows)

    def days(made: Any, group: str, day: date | None, field_uid: str | None = "f") -> float:
        found = keepers_days(made, group, day, field_uid)
        assert found is not None
        return found.days

    winter = date(2026, 12, 24)
    assert [days(scrub, "g", day) for day in (DAY, winter, None)] == [5.0, 4.0, 8.0]
    assert [days(scrub, "h", day) for day in (DAY, winter, None)] == [7.0, 7.0, 9.0]
    assert [days(plain, "g", day) for day in (DAY, winter)] == [8.0, 8.0]
    assert [days(plain, "h", day) for day in (DAY, winter)] == [9.0, 6.0]
    assert days(scrub, "g", DAY, None) == 8.0


def test_a_word_for_other_pigs_or_another_purpose_does_not_count() -> None:
    rows = [own("other", 2.0, group_uid="h"), own("turn", 3.0, purpose=Use.TURN_OVER)]
    assert keepers_days(farm(*herd(), *herd("h"), field(), *rows), "g", DAY, "f") is None


def test_a_field_is_for_light_grazing_where_nobody_said_and_for_nothing_certain_where_two_things_were_said() -> None:
    assert use_of(farm(field()), "f", DAY) is Use.GRAZE_LIGHTLY
    assert use_of(farm(field(), purpose("p", Use.TURN_OVER)), "f", DAY) is Use.TURN_OVER
    two = farm(field(), purpose("p", Use.TURN_OVER), purpose("q", Use.CLOSED, "06-01", "08-01"))
    assert use_of(two, "f", DAY) is None
    assert use_of(two, "f", on(0)) is Use.TURN_OVER
    assert use_of(farm(), "f", DAY) is None
    assert use_of(farm(field()), None, DAY) is None


def test_words_are_listed_the_plainest_first() -> None:
    rows = [
        own("season", 4.0, group_uid="g", from_month_day="11-01"),
        own("plain", 5.0, group_uid="g"),
        own("all", 6.0),
    ]
    made = farm(*herd(), *rows)
    assert [each.uid for each in own_days_of(made, "g")] == ["plain", "season"]
    assert [each.uid for each in own_days_of(made, None)] == ["all"]
