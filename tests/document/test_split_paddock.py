from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import add_net_kind, place_paddock, plan_stay, record_stay, remove, split_paddock
from pigmap.errors import EditError
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm, Stay, StayState
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, PADDOCK, done, example, square

WIDE = Rectangle(60.0, 10.0, 0.0, 100_000, 50_000)
"""Beside the first paddock, which lies from 10 to 60 m east."""
MOVE = DAY + timedelta(days=5)
MIDDLE = shapely.LineString([(110, 0), (110, 70)])


def farm(days: int = 7) -> Farm:
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        place_paddock(
            WIDE,
            net_kind_uid=KIND,
            uid="wide",
            name="Long Field 7",
            group_uid=GROUP,
            in_on=MOVE,
            out_on=MOVE + timedelta(days=days),
            stay_uid="next",
        ),
    )


def planned(on: Farm) -> list[Stay]:
    return sorted((stay for stay in on.stays.values() if stay.state is StayState.PLANNED), key=lambda stay: stay.in_on)


def test_the_half_beside_where_the_pigs_come_from_comes_first_and_the_days_are_shared() -> None:
    after = done(farm(), split_paddock("wide", MIDDLE, second_uid="other"))
    first, second = planned(after)
    assert (first.paddock_uid, first.in_on, first.out_on) == ("wide", MOVE, MOVE + timedelta(days=4))
    assert (second.paddock_uid, second.in_on, second.out_on) == (
        "other",
        MOVE + timedelta(days=4),
        MOVE + timedelta(days=7),
    )
    assert first.ground.equals(shapely.box(60, 10, 110, 60))
    assert second.ground.equals(shapely.box(110, 10, 160, 60))
    one, other = after.paddocks["wide"], after.paddocks["other"]
    assert (one.name, one.nets_long, one.nets_wide) == ("Long Field 7", 1, 1)
    assert (other.name, other.field_uid, other.net_kind_uid) == ("Long Field 8", FIELD, KIND)
    assert one.outline.equals(first.ground)
    assert other.outline.equals(second.ground)


def test_however_the_line_is_drawn_the_nearer_half_comes_first() -> None:
    for line in (MIDDLE, MIDDLE.reverse(), shapely.LineString([(109, 30), (110, 30.5), (111, 31)])):
        after = done(farm(), split_paddock("wide", line))
        first, second = planned(after)
        assert first.ground.distance(square().outline) == pytest.approx(0, abs=1e-6)
        assert first.ground.area + second.ground.area == pytest.approx(5000)


def test_a_slanting_line_makes_halves_of_no_whole_nets() -> None:
    after = done(farm(), split_paddock("wide", shapely.LineString([(100, 0), (120, 70)]), second_uid="other"))
    assert after.paddocks["wide"].nets_long is None
    assert after.paddocks["other"].nets_wide is None


def test_past_stays_keep_their_ground() -> None:
    past = done(farm(), record_stay(GROUP, "wide", DAY - timedelta(days=90), DAY - timedelta(days=85), uid="before"))
    after = done(past, split_paddock("wide", MIDDLE))
    assert after.stays["before"].ground.equals(WIDE.outline)


def test_a_paddock_without_a_stay_is_split_too() -> None:
    bare = done(example(), place_paddock(WIDE, net_kind_uid=KIND, uid="wide"))
    after = done(bare, split_paddock("wide", MIDDLE, second_uid="other"))
    assert after.paddocks["other"].outline.area == pytest.approx(2500)


def test_what_follows_keeps_its_days() -> None:
    more = done(
        farm(),
        place_paddock(square(4), net_kind_uid=KIND, uid="far"),
        plan_stay(GROUP, "far", MOVE + timedelta(days=7), MOVE + timedelta(days=9)),
    )
    after = done(more, split_paddock("wide", MIDDLE))
    assert [stay.in_on for stay in planned(after)] == [MOVE + timedelta(days=each) for each in (0, 4, 7)]


@pytest.mark.parametrize(
    ("line", "words", "remedy"),
    [
        ([(300, 0), (300, 70)], "does not part Long Field 7 in two", "from one side to another"),
        ([(60.2, 0), (60.2, 70)], "would have 10 m", "nearer to the middle"),
    ],
)
def test_a_line_that_makes_no_two_paddocks_is_refused(line: list[tuple[float, float]], words: str, remedy: str) -> None:
    with pytest.raises(EditError, match=words) as refused:
        split_paddock("wide", shapely.LineString(line))(farm())
    assert remedy in str(refused.value.remedy)


def test_one_day_cannot_be_shared() -> None:
    with pytest.raises(EditError, match="one day long") as refused:
        split_paddock("wide", MIDDLE)(farm(days=1))
    assert "Give it a day more" in str(refused.value.remedy)


def test_where_pigs_are_it_is_refused() -> None:
    with pytest.raises(EditError, match="Pigs are in") as refused:
        split_paddock(PADDOCK, shapely.LineString([(30, 0), (30, 70)]))(farm())
    assert "planned next" in str(refused.value.remedy)


def test_halves_of_a_paddock_of_two_kinds_of_nets_have_nets_that_fit_them() -> None:
    base = done(farm(), remove("stays", "next"), add_net_kind("25 m nets", (5_000,) * 5, nets=8, uid="half"))
    sides = (((KIND, 1), ("half", 1)), ((KIND, 1),)) * 2
    placed = place_paddock(
        Rectangle(60, 70, 0, 75_000, 50_000), net_kind_uid=KIND, side_nets=sides, group_uid=GROUP, in_on=MOVE, uid="m"
    )
    after = done(done(base, placed), split_paddock("m", shapely.LineString([(110, 60), (110, 130)]), second_uid="n"))
    west, east = sorted((after.paddocks["m"], after.paddocks["n"]), key=lambda each: each.outline.bounds)
    assert (west.nets_long, west.nets_wide, west.side_nets) == (1, 1, ())
    assert set(east.side_nets) == {"1 half", f"1 {KIND}"}
    aslant = done(done(base, placed), split_paddock("m", shapely.LineString([(100, 60), (120, 130)]), second_uid="n"))
    assert aslant.paddocks["m"].side_nets == aslant.paddocks["n"].side_nets == ()
