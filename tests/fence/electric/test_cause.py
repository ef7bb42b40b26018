from __future__ import annotations

import pytest

from pigmap.fence.electric.case import Case, Fault, LiveNet, volts
from pigmap.fence.electric.cause import Cause, Read, likely_cause, spots_that_do_it, too_little
from pigmap.fence.electric.expected import expected
from pigmap.fence.electric.line import Spot
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import Growth

CASE = Case(from_output(1.0), (LiveNet(50.0),) * 4, output_j=1.0)
SHOULD = expected(CASE)


def cause(far_kv: float, earth_kv: float | None = None, soil_on_net: bool | None = None) -> Cause | None:
    return likely_cause(CASE, SHOULD, Read(far_kv, earth_kv, soil_on_net))


def words(far_kv: float, earth_kv: float | None = None, soil_on_net: bool | None = None) -> tuple[str, str]:
    found = cause(far_kv, earth_kv, soil_on_net)
    assert found is not None
    return str(found.words), str(found.look_first)


def test_what_reads_as_it_should_needs_no_cause() -> None:
    assert SHOULD.mown == pytest.approx((6.6, 7.5), abs=0.05)
    assert SHOULD.grown == pytest.approx((4.2, 5.5), abs=0.05)
    for reading in (SHOULD.mown.low_kv, SHOULD.mown.high_kv, SHOULD.grown.high_kv, 4.0):
        assert cause(reading) is None


def test_next_to_nothing_is_sought_at_the_energizer_first() -> None:
    assert words(0.2) == (
        "Next to nothing arrives. Likely the energizer is off or its battery is empty, or a clip is off.",
        "Read at the energizer first, then from clip to clip away from it.",
    )


def test_less_than_long_grass_would_leave_is_soil_on_the_bottom_strand() -> None:
    said, look = words(3.4)
    assert said == (
        "Lower than long grass alone would make it. Likely soil or a wet branch is on the bottom strand: 1 such place "
        "would do it."
    )
    assert look == "Walk the fence: the bottom strand first, then the clips, then the earth stakes."
    more, _ = words(3.0)
    assert "Likely soil or wet branches are on the bottom strand: 2 such places would do it." in more


def test_less_than_soil_explains_is_a_clip_or_a_wire() -> None:
    assert words(0.6)[0] == "Lower than grass and soil alone would make it. Likely a clip is off or a wire is broken."


def test_what_was_seen_goes_before_what_is_guessed() -> None:
    assert words(2.0, soil_on_net=True) == (
        "Soil lies on the net: that likely takes most of it.",
        "Clear the bottom strand, then read again.",
    )
    assert words(2.0, earth_kv=0.8) == (
        "The earth stakes read 0.8 kV, more than 0.3 kV: likely much is lost there.",
        "Wet the ground round the earth stakes or set one more, then test them again.",
    )
    assert words(2.0, earth_kv=0.2)[0].startswith("Lower than long grass")


def test_a_weak_fence_that_grass_explains_wants_mowing() -> None:
    weak = Case(from_output(0.25), (LiveNet(50.0),) * 4)
    should = expected(weak)
    found = likely_cause(weak, should, Read(2.2))
    assert should.grown.low_kv < 2.2 < should.grown.high_kv
    assert found is not None
    assert str(found.words) == "Long or wet grass in the mesh would make it so."
    assert str(found.look_first) == "Mow or trim along the net, then read again."


def test_more_than_the_whole_fence_would_read_is_a_part_of_it_or_the_tester() -> None:
    said, look = words(9.5)
    assert said.startswith("Higher than the whole fence should read. Perhaps a clip is off and only the near part")
    assert look == "Read again at the far end, with the probe in damp ground."


def test_so_many_spots_are_named_as_bring_it_down() -> None:
    for count in (1, 3):
        spots = tuple(Spot(200.0 * (at + 0.5) / count, 500.0) for at in range(count))
        read = volts(CASE, Growth.MEDIUM, Fault(spots)).far_kv
        assert spots_that_do_it(CASE, read * 1.001) == count
    assert spots_that_do_it(CASE, 0.1) is None


@pytest.mark.parametrize(
    ("kv", "words"),
    [
        (1.9, "Under 2 kV at the far end: do not rely on this fence."),
        (2.9, "Under 3 kV at the far end is little for pigs."),
        (3.0, ""),
    ],
)
def test_too_little_is_too_little_whatever_feeds_the_fence(kv: float, words: str) -> None:
    found = too_little(kv)
    assert (str(found.words) if found is not None else "") == words
