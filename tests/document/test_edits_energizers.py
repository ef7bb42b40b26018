"""What is told of energizers, who is fed by them, and what goes with them when they go."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
import shapely

from pigmap.document.edits import (
    add_place,
    add_way,
    feed_paddock,
    read_energizer,
    remove,
    tell_energizer_at,
    tell_energizer_of,
)
from pigmap.errors import EditError, RecordError
from pigmap.records import Edit, Energizer, Farm, NetRepair, PlaceKind, PowerSource, WayKind, add
from pigmap.text import Text
from tests.document.example_farm import done, example

DAY = date(2026, 5, 1)


def only(rows: Any) -> Any:
    (row,) = rows.values()
    return row


@pytest.fixture
def farm() -> Farm:
    return done(example(), add_place(PlaceKind.ENERGIZER, shapely.Point(1, 2), name="Yard", uid="yard"))


def test_what_is_told_of_an_energizer_at_a_place_is_told_of_one_row(farm: Farm) -> None:
    farm = done(farm, tell_energizer_at("yard", source=PowerSource.MAINS, output_j=2.0))
    farm = done(farm, tell_energizer_at("yard", output_j=1.5, rods=3))
    told = only(farm.energizers)
    assert (told.name, told.place_uid, told.source, told.output_j, told.rods) == ("Yard", "yard", "mains", 1.5, 3)


def test_a_group_has_one_energizer_of_its_own(farm: Farm) -> None:
    group = next(iter(farm.groups.values()))
    farm = done(farm, tell_energizer_of(group.uid, output_j=0.5))
    farm = done(farm, tell_energizer_of(group.uid, output_j=0.25))
    told = only(farm.energizers)
    assert (told.name, told.group_uid, told.output_j) == (f"{group.name}, own unit", group.uid, 0.25)


def test_a_place_that_is_no_energizer_is_refused() -> None:
    farm = done(example(), add_place(PlaceKind.GATE, shapely.Point(1, 2), uid="gate"))
    with pytest.raises(EditError) as caught:
        done(farm, tell_energizer_at("gate", output_j=1.0))
    assert str(caught.value.message) == "Gate is no energizer."
    assert str(caught.value.remedy) == "Set a place of that kind where the energizer stands."


def test_an_energizer_above_5_j_is_refused_before_anything_is_done(farm: Farm) -> None:
    with pytest.raises(RecordError, match="at most 5 J"):
        tell_energizer_at("yard", output_j=15.0)


def test_a_reading_belongs_to_its_energizer_and_goes_with_it(farm: Farm) -> None:
    farm = done(farm, tell_energizer_at("yard", output_j=1.0))
    uid = only(farm.energizers).uid
    farm = done(farm, read_energizer(uid, DAY, battery_v=12.4))
    paddock = next(iter(farm.paddocks.values()))
    farm = done(farm, feed_paddock(paddock.uid, uid, own_switch=True))
    assert (farm.paddocks[paddock.uid].energizer_uid, farm.paddocks[paddock.uid].own_switch) == (uid, True)
    assert only(farm.energizer_readings).battery_v == 12.4
    farm = done(farm, remove("energizers", uid))
    assert not farm.energizers
    assert not farm.energizer_readings
    assert farm.paddocks[paddock.uid].energizer_uid is None


def test_a_reading_of_nothing_is_refused() -> None:
    with pytest.raises(EditError) as caught:
        read_energizer("any", DAY)
    assert (str(caught.value.message), str(caught.value.remedy)) == (
        "Nothing was read.",
        "Give the battery or the earth test.",
    )


def test_without_its_place_an_energizer_and_a_fence_stay(farm: Farm) -> None:
    farm = done(farm, tell_energizer_at("yard", output_j=1.0))
    line = shapely.LineString([(0, 0), (1, 1)])
    farm = done(farm, add_way(WayKind.PERMANENT_FENCE, line, uid="fence", electric=True, energizer_uid="yard"))
    farm = done(farm, remove("places", "yard"))
    assert only(farm.energizers).place_uid is None
    assert farm.ways["fence"].energizer_uid is None


def test_a_net_that_was_mended_is_kept(farm: Farm) -> None:
    net = next(iter(farm.nets.values()))
    mended = NetRepair(net_uid=net.uid, mended_on=DAY)
    farm = done(farm, Edit(Text("Mended."), lambda _: [add(mended)]))
    with pytest.raises(EditError, match="has 1 recorded repair: it would be lost"):
        done(farm, remove("nets", net.uid))


def test_a_group_that_goes_leaves_its_energizer(farm: Farm) -> None:
    from pigmap.document.edits import add_group

    farm = done(farm, add_group("Late pigs", uid="late"))
    farm = done(farm, tell_energizer_of("late", output_j=0.5))
    farm = done(farm, remove("groups", "late"))
    unit = only(farm.energizers)
    assert isinstance(unit, Energizer)
    assert unit.group_uid is None
