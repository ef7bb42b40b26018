from __future__ import annotations

from datetime import timedelta

import shapely

from pigmap.document.edits import add_group, feed_paddock, place_paddock, record_stay
from pigmap.fence.electric.fed_by import feeds, fences_of, off_with, off_words
from pigmap.records import Edit, Energizer, Farm, Place, PlaceKind, Record, add
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MAINS = Energizer(uid="mains", name="Shed", output_j=2.0)
OWN = Energizer(uid="own", name="Own unit", output_j=0.5, group_uid=GROUP)
SECOND = Energizer(uid="second", name="Barn", output_j=1.0)


def told(*rows: Record) -> Edit:
    return Edit(Text("Told."), lambda farm: [add(row) for row in rows])


def farm_with(*energizers: Record) -> Farm:
    return done(
        example(),
        place_paddock(square(2), net_kind_uid=KIND, uid="c"),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        record_stay(OTHERS, "c", DAY - timedelta(days=2), uid="theirs"),
        told(*energizers),
    )


def fed(farm: Farm, paddock: str = PADDOCK, group: str = GROUP) -> str:
    found = feeds(farm, paddock, group)
    return found.uid if found is not None else ""


def test_without_any_energizer_nothing_feeds() -> None:
    assert fed(farm_with()) == ""


def test_the_only_one_that_moves_with_nobody_feeds_everything() -> None:
    farm = farm_with(MAINS)
    assert fed(farm) == "mains"
    assert fed(farm, "c", OTHERS) == "mains"


def test_the_one_that_moves_with_the_group_goes_before_it() -> None:
    farm = farm_with(MAINS, OWN)
    assert fed(farm) == "own"
    assert fed(farm, "c", OTHERS) == "mains"


def test_one_that_moves_with_another_group_feeds_nobody_else() -> None:
    assert fed(farm_with(OWN), "c", OTHERS) == ""


def test_of_two_that_stay_nobody_knows_which_until_it_is_told_of_the_paddock() -> None:
    farm = farm_with(MAINS, SECOND)
    assert fed(farm) == ""
    farm = done(farm, feed_paddock(PADDOCK, "second"))
    assert fed(farm) == "second"
    assert fed(done(farm_with(MAINS, OWN), feed_paddock(PADDOCK, "mains"))) == "mains"


def test_one_that_stands_at_a_place_and_of_which_nothing_is_told_is_another_one() -> None:
    here = Place(uid="here", kind=PlaceKind.ENERGIZER, name="Here", point=shapely.Point(0, 0))
    there = Place(uid="there", kind=PlaceKind.ENERGIZER, name="There", point=shapely.Point(9, 0))
    at_here = Energizer(uid="mains", name="Shed", output_j=2.0, place_uid="here")
    assert fed(farm_with(here, at_here)) == "mains"
    assert fed(farm_with(here, MAINS)) == "mains"  # where it stands is not told: it may be that one
    assert fed(farm_with(here, there, at_here)) == ""
    assert fed(farm_with(here, there, at_here, OWN)) == "own"


def test_the_fences_of_a_day_are_told_apart_by_what_feeds_them() -> None:
    farm = farm_with(MAINS, OWN)
    found = fences_of(farm, DAY)
    assert {uid: [each.paddock_uid for each in paddocks] for uid, paddocks in found.items()} == {
        "own": [PADDOCK],
        "mains": ["c"],
    }
    unknown = fences_of(farm_with(OWN), DAY)
    assert [each.paddock_uid for each in unknown[""]] == ["c"]


def test_switching_one_off_takes_the_power_from_all_that_hang_on_it() -> None:
    farm = farm_with(MAINS)
    found = off_with(farm, PADDOCK, GROUP, DAY)
    assert not found.own_switch
    assert found.group_uids == (OTHERS,)
    assert [each.paddock_uid for each in found.others] == ["c"]
    assert off_with(farm_with(MAINS, OWN), PADDOCK, GROUP, DAY).others == ()


def test_a_fence_with_a_switch_of_its_own_goes_dead_alone() -> None:
    farm = done(farm_with(MAINS), feed_paddock(PADDOCK, None, own_switch=True))
    found = off_with(farm, PADDOCK, GROUP, DAY)
    assert found.own_switch
    assert found.others == ()
    assert off_with(farm, "c", OTHERS, DAY).group_uids == (GROUP,)


def test_who_is_without_power_is_said_by_name() -> None:
    farm = farm_with(MAINS)
    words = off_words(farm, off_with(farm, PADDOCK, GROUP, DAY))
    assert str(words) == "Shed off: no power for Weaners either."
    farm = farm_with(MAINS, OWN)
    assert off_words(farm, off_with(farm, PADDOCK, GROUP, DAY)) is None
    farm = farm_with()
    assert off_words(farm, off_with(farm, PADDOCK, GROUP, DAY)) is None
    farm = done(farm_with(MAINS), feed_paddock(PADDOCK, None, own_switch=True))
    words = off_words(farm, off_with(farm, PADDOCK, GROUP, DAY))
    assert str(words) == "This fence has a switch of its own: leave the others on."


def test_several_groups_without_power_are_listed() -> None:
    more = [
        add_group("Gilts", uid="gilts"),
        place_paddock(square(4), net_kind_uid=KIND, uid="e"),
        record_stay("gilts", "e", DAY, uid="gilts now"),
    ]
    farm = done(farm_with(MAINS), *more)
    words = off_words(farm, off_with(farm, PADDOCK, GROUP, DAY))
    assert str(words) == "Shed off: no power for Weaners, Gilts either."
