from __future__ import annotations

import pytest

from pigmap.fence.cautions.communication import communication_lines
from pigmap.fence.cautions.overhead import overhead_lines
from pigmap.records import WayKind
from tests.fence.cautions.invented import HERE, farm_with, said, upright


@pytest.mark.parametrize(("off_m", "found"), [(-25.0, 1), (0.0, 1), (1.9, 1), (2.0, 0), (2.1, 0)])
def test_a_fence_keeps_two_metres_off_a_telephone_line(off_m: float, found: int) -> None:
    farm = farm_with(upright(WayKind.OVERHEAD_LINE, 50 + off_m, communication=True))
    cautions = [*communication_lines(farm, HERE)]
    assert [(each.id, each.level, each.held) for each in cautions] == [("W4", "warn", "care")] * found
    assert (
        said(*cautions)
        == [
            (
                "North 3 comes within 2 m of the overhead line, which carries telephone or data.",
                "Keep live wires 2 m or more off it, and never above it: pulses can be heard in it. Ask its owner "
                "where a fence has to pass. Local rules come first.",
            )
        ]
        * found
    )


def test_a_telephone_line_is_no_power_line_and_a_power_line_no_telephone_line() -> None:
    assert not [*overhead_lines(farm_with(upright(WayKind.OVERHEAD_LINE, 25, communication=True)), HERE)]
    assert not [*communication_lines(farm_with(upright(WayKind.OVERHEAD_LINE, 25, voltage_kv=11.0)), HERE)]
    assert not [*communication_lines(farm_with(upright(WayKind.HEDGE, 25)), HERE)]
