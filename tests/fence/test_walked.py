from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import add_net_kind, begin_stay, place_paddock, stands_there
from pigmap.errors import OutlineError
from pigmap.fence.books import Books
from pigmap.fence.walked import Walked, walked_fence
from pigmap.records import Edit, Farm, StayState
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, done, example

CROOKED = [(100.0, 10.0), (151.0, 12.0), (149.0, 62.0), (99.0, 60.0)]
BESIDE = [(151.0, 12.0), (201.0, 13.0), (199.0, 63.0), (149.0, 62.0)]


def stood(farm: Farm, corners: list[tuple[float, float]], group: str = GROUP, number: str = "one") -> Farm:
    walked = walked_fence(farm, corners, group, DAY, today=DAY)
    return done(farm, edit_of(walked, group, number))


def edit_of(walked: Walked, group: str, number: str) -> Edit:
    nets = [(net.kind.uid, net.line) for net in walked.nets]
    return stands_there(group, walked.outline, DAY, nets, uid=number, stay_uid=f"stay {number}")


def counts(walked: Walked) -> dict[str, int]:
    return {kind.uid: count for kind, count in walked.counts}


def test_a_crooked_paddock_stands_in_the_nets_that_reach_round_it() -> None:
    walked = walked_fence(example(), CROOKED, GROUP, DAY, today=DAY)
    assert counts(walked) == {KIND: 4}
    assert shapely.line_merge(shapely.MultiLineString([net.line for net in walked.nets])).length == pytest.approx(
        walked.outline.exterior.length
    )


def test_it_is_recorded_with_its_stay_and_its_nets_and_counted_so() -> None:
    farm = stood(example(), CROOKED)
    paddock, stay = farm.paddocks["one"], farm.stays["stay one"]
    assert paddock.name == "Long Field 2"
    assert (stay.state, stay.in_on, stay.ground) == (StayState.RUNNING, DAY, paddock.outline)
    assert Books(farm, DAY).counts(DAY) == {KIND: 4}


def test_a_side_that_another_paddock_has_already_takes_no_nets() -> None:
    farm = stood(example(), CROOKED)
    walked = walked_fence(farm, BESIDE, OTHERS, DAY, today=DAY)
    assert counts(walked) == {KIND: 3}
    both = done(farm, edit_of(walked, OTHERS, "two"))
    assert Books(both, DAY).counts(DAY) == {KIND: 7}


def test_corners_set_crosswise_are_said_and_taken_in_order() -> None:
    first, second, third, fourth = CROOKED
    walked = walked_fence(example(), [first, third, second, fourth], GROUP, DAY, today=DAY)
    assert walked.outline.equals(shapely.Polygon(CROOKED))
    assert str(walked.notes[0]) == "The corners were set crosswise. They are taken in order round the paddock."


def test_nets_that_cannot_close_what_stands_are_said_and_it_is_kept_all_the_same() -> None:
    wide = [(0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0)]
    walked = walked_fence(example(), wide, GROUP, DAY, today=DAY)
    assert counts(walked) == {KIND: 24}
    assert [str(note) for note in walked.notes] == [
        "It takes 1200 m of nets, and the spare ones reach 800 m. Kept as it stands. Look at the corners, or say under "
        "Place how many nets you own."
    ]


def test_a_round_that_seems_longer_than_its_nets_is_said() -> None:
    walked = walked_fence(example(), [(0, 0), (52.0, 0), (52.0, 51.0), (0, 51.0)], GROUP, DAY, today=DAY)
    assert counts(walked) == {KIND: 4}
    assert [str(note) for note in walked.notes] == [
        "It seems 206 m round, but 4 of 50 m reach 200 m. Kept as it stands. When you are there, count its nets and "
        "look at its corners."
    ]


def test_nets_that_someone_counted_stand_instead_of_those_guessed() -> None:
    farm = done(example(), add_net_kind("25 m nets", (25_000,), nets=2, uid="half"))
    corners = [(0.0, 0.0), (49.0, 0.0), (49.0, 26.0), (0.0, 26.0)]
    assert counts(walked_fence(farm, corners, GROUP, DAY, today=DAY)) == {KIND: 2, "half": 2}
    told = walked_fence(farm, corners, GROUP, DAY, today=DAY, told={KIND: 3})
    assert counts(told) == {KIND: 3}
    assert told.notes == ()
    few = walked_fence(farm, corners, GROUP, DAY, today=DAY, told={KIND: 2})
    assert [str(note) for note in few.notes] == [
        "It seems 150 m round, but 2 of 50 m reach 100 m. Kept as it stands. When you are there, count its nets and "
        "look at its corners."
    ]


def test_ground_of_another_standing_paddock_under_it_is_said() -> None:
    farm = stood(example(), CROOKED)
    over = [(140.0, 12.0), (201.0, 13.0), (199.0, 63.0), (140.0, 62.0)]
    notes = [str(note) for note in walked_fence(farm, over, OTHERS, DAY, today=DAY).over]
    assert notes[0].startswith("It lies ")
    assert notes[0].endswith(" over Long Field 2, which stands too. Click the corners that both have on its corners.")
    assert walked_fence(farm, BESIDE, OTHERS, DAY, today=DAY).over == ()


def test_a_short_round_takes_the_nets_of_a_second_kind() -> None:
    farm = done(example(), add_net_kind("25 m nets", (25_000,), nets=2, uid="half"))
    walked = walked_fence(farm, [(0, 0), (50, 0), (50, 25), (0, 25)], GROUP, DAY, today=DAY)
    assert walked.notes == ()
    assert sum(kind.length_mm * count for kind, count in walked.counts) == 150_000


def test_corners_on_a_line_are_refused() -> None:
    with pytest.raises(OutlineError, match="lie on one line"):
        walked_fence(example(), [(0, 0), (5, 5), (9, 9)], GROUP, DAY, today=DAY)


def test_what_the_same_group_told_before_ends_and_its_nets_are_free() -> None:
    farm = stood(example(), CROOKED)
    later = DAY + timedelta(days=2)
    walked = walked_fence(farm, BESIDE, GROUP, later, today=later)
    assert counts(walked) == {KIND: 4}
    nets = [(net.kind.uid, net.line) for net in walked.nets]
    after = done(farm, stands_there(GROUP, walked.outline, later, nets, uid="two"))
    assert (after.stays["stay one"].state, after.stays["stay one"].out_on) == (StayState.PAST, later)
    assert {use.taken_on for use in after.net_uses.values() if use.paddock_uid == "one"} == {later}


def test_a_move_takes_up_the_nets_that_the_new_paddock_does_not_use() -> None:
    farm = stood(example(), [(100.0, 10.0), (150.0, 10.0), (150.0, 60.0), (100.0, 60.0)])
    beside = shapely.box(150, 10, 200, 60)
    later = DAY + timedelta(days=4)
    place = place_paddock(beside, net_kind_uid=KIND, group_uid=GROUP, in_on=later, uid="two", stay_uid="next")
    moved = done(farm, place, begin_stay("next", later))
    left = [use for use in moved.net_uses.values() if use.taken_on is None]
    assert [shapely.get_coordinates(use.run)[:, 0].tolist() for use in left] == [[150.0, 150.0]]
    assert Books(moved, later).counts(later) == {KIND: 4}
