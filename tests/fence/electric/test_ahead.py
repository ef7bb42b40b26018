from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import place_paddock, record_stay
from pigmap.fence.electric.ahead import FencesAhead
from pigmap.fence.electric.of_paddock import fence_of
from pigmap.fence.standing import standing_on
from pigmap.records import Edit, Energizer, Farm, Record, add
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MAINS = Energizer(uid="mains", name="Shed", output_j=2.0)
OWN = Energizer(uid="own", name="Own unit", output_j=0.5, group_uid=GROUP)


def told(*rows: Record) -> Edit:
    return Edit(Text("Told."), lambda farm: [add(row) for row in rows])


def farm_with(*rows: Record) -> Farm:
    return done(
        example(),
        place_paddock(square(2), net_kind_uid=KIND, uid="c"),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        record_stay(OTHERS, "c", DAY - timedelta(days=2), uid="theirs"),
        told(*rows),
    )


def ahead(farm: Farm, group: str = GROUP) -> FencesAhead:
    return FencesAhead(farm, DAY, group, standing_on(farm, DAY), farm.net_kinds[KIND])


def test_without_an_energizer_no_fence_is_reckoned() -> None:
    assert ahead(farm_with()).fence(4, ring=True) is None
    assert ahead(farm_with(MAINS)).fence(0, ring=True) is None


def test_a_fence_that_is_thought_of_reads_what_it_reads_once_it_stands() -> None:
    farm = done(farm_with(MAINS), place_paddock(square(5), net_kind_uid=KIND, uid="far"))
    thought = ahead(farm).fence(4, ring=True)
    stands = fence_of(farm, "far", farm.paddocks["far"].outline, GROUP, DAY)
    assert thought is not None
    assert stands is not None
    assert thought.fence == stands
    assert thought.fence.beside == 4
    assert thought.should == stands.expected


def test_the_energizer_that_moves_with_the_group_feeds_it_alone() -> None:
    found = ahead(farm_with(MAINS, OWN)).fence(4, ring=True)
    assert found is not None
    assert (found.fence.energizer.uid, found.fence.beside) == ("own", 0)


def test_what_was_found_for_so_many_nets_is_found_once() -> None:
    fences = ahead(farm_with(MAINS))
    assert fences.fence(4, ring=True) is fences.fence(4, ring=True)
    assert fences.fence(5, ring=True) is not fences.fence(4, ring=True)
    row, ring = fences.fence(4, ring=False), fences.fence(4, ring=True)
    assert row is not None
    assert ring is not None
    assert row.should.mown.low_kv < ring.should.mown.low_kv
