from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import place_paddock, record_net_use, record_stay
from pigmap.fence.electric.case import Case, LiveNet
from pigmap.fence.electric.earth import Stakes
from pigmap.fence.electric.expected import expected
from pigmap.fence.electric.of_paddock import PaddockFence, fence_of
from pigmap.fence.electric.supply import from_output
from pigmap.records import Edit, Energizer, Farm, NetKind, Place, PlaceKind, Record, Soil, Way, WayKind, add
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

ENERGIZER = Energizer(uid="unit", name="Shed", output_j=1.0)


def told(*rows: Record) -> Edit:
    return Edit(Text("Told."), lambda farm: [add(row) for row in rows])


def farm_with(*rows: Record) -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY, uid="now"), told(*rows))


def of(farm: Farm, paddock: str = PADDOCK, group: str = GROUP) -> PaddockFence | None:
    return fence_of(farm, paddock, farm.paddocks[paddock].outline, group, DAY)


def fence(farm: Farm, paddock: str = PADDOCK, group: str = GROUP) -> PaddockFence:
    found = of(farm, paddock, group)
    assert found is not None
    return found


def test_nothing_is_made_up_where_no_energizer_or_no_output_is_told() -> None:
    assert of(farm_with()) is None
    assert of(farm_with(Energizer(name="Shed"))) is None


def test_the_nets_round_a_paddock_are_a_ring_of_its_kind() -> None:
    found = fence(farm_with(ENERGIZER))
    kind = example().net_kinds[KIND]
    assert found.nets == ((kind, 4),)
    assert found.beside == 0
    assert found.case == Case(from_output(1.0), (LiveNet(kind.length_m),) * 4, output_j=1.0)
    assert found.expected == expected(found.case)


def test_stakes_and_lead_out_are_those_of_the_energizer() -> None:
    unit = Energizer(name="Shed", output_j=1.0, rods=2, soil=Soil.CLAY, lead_m=300.0)
    case = fence(farm_with(unit)).case
    assert case.stakes == Stakes(2, soil_ohm_m=40.0)
    assert case.lead_ohm == pytest.approx(9.3)


def test_a_side_that_a_permanent_fence_closes_opens_the_ring() -> None:
    ground = square(0).outline
    west, south, east, _ = ground.bounds
    line = shapely.LineString([(west - 5, south), (east + 5, south)])
    found = fence(farm_with(ENERGIZER, Way(uid="fence", kind=WayKind.PERMANENT_FENCE, line=line)))
    assert not found.case.ring
    assert sum(count for _, count in found.nets) == 3


def test_nets_that_are_written_down_count_as_they_are() -> None:
    long = NetKind(uid="long", name="100 m", bays_mm=(4000,) * 25, ohm_per_km=87.0)
    west, south, east, north = square(0).outline.bounds
    half = shapely.LineString([(west, south), (east, south), (east, north)])
    farm = done(farm_with(ENERGIZER, long), record_net_use(PADDOCK, "long", half, DAY))
    found = fence(farm)
    assert sorted((kind.name, count) for kind, count in found.nets) == [("100 m", 1), (farm.net_kinds[KIND].name, 2)]
    assert sorted(net.ohm_per_m for net in found.case.nets)[0] == pytest.approx(0.087)


def test_fences_of_other_groups_on_the_same_energizer_take_their_part_and_a_shared_net_is_one() -> None:
    beside = done(
        farm_with(ENERGIZER),
        place_paddock(square(1), net_kind_uid=KIND, uid="b"),
        record_stay(OTHERS, "b", DAY - timedelta(days=2), uid="theirs"),
    )
    found = fence(beside)
    assert found.nets[0][1] == 4
    assert found.beside == 3  # one of its four sides is shared
    assert [len(nets) for nets in found.case.beside] == [3]
    own = done(beside, told(Energizer(name="Theirs", output_j=0.3, group_uid=OTHERS)))
    assert fence(own).beside == 0


def test_the_paddock_that_the_group_comes_from_does_not_load_its_next_one() -> None:
    farm = done(farm_with(ENERGIZER), place_paddock(square(1), net_kind_uid=KIND, uid="b"))
    assert fence(farm, "b").beside == 0


def test_nets_begin_where_the_energizer_stands() -> None:
    long = NetKind(uid="long", name="100 m", bays_mm=(4000,) * 25, ohm_per_km=87.0)
    west, south, east, north = square(0).outline.bounds
    half = shapely.LineString([(west, south), (east, south), (east, north)])
    for spot, first in (((east + 1, south - 1), 100.0), ((west - 1, north + 1), 50.0)):
        place = Place(uid="spot", kind=PlaceKind.ENERGIZER, point=shapely.Point(spot))
        unit = Energizer(name="Shed", output_j=1.0, place_uid="spot")
        farm = done(farm_with(place, unit, long), record_net_use(PADDOCK, "long", half, DAY))
        assert fence(farm).case.nets[0].length_m == pytest.approx(first, abs=0.1)


def test_walked_corners_take_the_only_kind_of_the_farm_and_of_two_kinds_none() -> None:
    walked = done(farm_with(ENERGIZER), place_paddock(square(2), uid="walked"))
    assert fence(walked, "walked").nets == ((walked.net_kinds[KIND], 4),)
    two = done(walked, told(NetKind(uid="other", name="25 m", bays_mm=(25_000,))))
    assert of(two, "walked") is None
