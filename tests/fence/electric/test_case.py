from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pigmap.fence.electric.case import Case, Fault, Level, LiveNet, level_of, live_net, volts
from pigmap.fence.electric.earth import Stakes
from pigmap.fence.electric.line import Line, Span, carried
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import EARTH_OHM, LEAK_OHM, NET_OHM_PER_M, PEAK_SHARE, Growth
from pigmap.records import NetKind

NET = LiveNet(50.0)


@pytest.mark.parametrize(
    ("kv", "level"),
    [
        (0.0, Level.STOP),
        (1.99, Level.STOP),
        (2.0, Level.WARN),
        (2.99, Level.WARN),
        (3.0, Level.FAIR),
        (4.0, Level.GOOD),
    ],
)
def test_two_three_and_four_kilovolts_divide_what_is_enough(kv: float, level: Level) -> None:
    assert level_of(kv) is level


@pytest.mark.parametrize(("growth", "kilo_ohm"), list(zip(Growth, (100, 10, 4, 2, 1), strict=True)))
def test_a_fifty_metre_net_leaks_by_what_grows_and_a_short_one_less(growth: Growth, kilo_ohm: float) -> None:
    assert LEAK_OHM[growth] == kilo_ohm * 1000
    assert NET.span(growth).leak_s_per_m * 50 == pytest.approx(1 / kilo_ohm / 1000)
    assert LiveNet(25.0).span(growth).leak_s_per_m * 25 == pytest.approx(0.5 / kilo_ohm / 1000)


def test_a_kind_that_tells_its_leak_keeps_the_steps_between_growths() -> None:
    kind = NetKind(name="50 m", bays_mm=(50_000,), ohm_per_km=87.0, leak=8.0)
    net = live_net(kind)
    assert (net.length_m, net.ohm_per_m) == (50.0, 0.087)
    assert net.span(Growth.MEDIUM).leak_s_per_m * 50 == pytest.approx(1 / 8000)
    assert net.span(Growth.HEAVY).leak_s_per_m * 50 == pytest.approx(1 / 4000)


@pytest.mark.parametrize("leak", [None, 0.0])
def test_a_kind_that_tells_nothing_is_a_usual_one(leak: float | None) -> None:
    net = live_net(NetKind(name="50 m", bays_mm=(50_000,), leak=leak))
    assert net == LiveNet(50.0, NET_OHM_PER_M, None)
    assert pytest.approx(1.13, abs=0.005) == NET_OHM_PER_M


def test_the_voltage_is_that_of_the_formula_with_the_share_of_the_peak() -> None:
    case = Case(from_output(1.0), (NET,) * 4, ring=False, lead_ohm=9.3)
    span = Span(50.0, NET_OHM_PER_M, 1 / 4000 / 50)
    line = carried(Line((span,) * 4))
    into = 1 / line.load_s
    found = volts(case, Growth.MEDIUM)
    feed_kv = PEAK_SHARE * 9.0 * into / (340 + 9.3 + EARTH_OHM + into)
    assert found.feed_kv == pytest.approx(feed_kv)
    assert found.far_kv == pytest.approx(feed_kv * line.far_share)
    assert found.earth_kv == pytest.approx(PEAK_SHARE * 9.0 * EARTH_OHM / (340 + 9.3 + EARTH_OHM + into))
    assert PEAK_SHARE == 0.85


def test_other_fences_on_the_same_energizer_take_their_part() -> None:
    alone = Case(from_output(0.5), (NET,) * 4)
    both = alone._replace(beside=((NET,) * 4,))
    assert volts(both, Growth.MEDIUM).far_kv < volts(alone, Growth.MEDIUM).far_kv
    stiff = alone._replace(supply=alone.supply._replace(inner_ohm=0.0), stakes=Stakes(1, soil_ohm_m=1e-9))
    both = stiff._replace(beside=((NET,) * 4,))
    assert volts(both, Growth.MEDIUM).far_kv == pytest.approx(volts(stiff, Growth.MEDIUM).far_kv)


def test_a_forgotten_clip_makes_a_ring_a_row() -> None:
    ring = Case(from_output(1.0), (NET,) * 4)
    row = ring._replace(ring=False)
    assert volts(ring, Growth.LIGHT, Fault(forgotten=3)).far_kv == pytest.approx(volts(row, Growth.LIGHT).far_kv)
    assert volts(row, Growth.LIGHT, Fault(forgotten=1)).dead_m == 100.0


cases = st.builds(
    Case,
    supply=st.floats(0.1, 5.0).map(from_output),
    nets=st.lists(st.builds(LiveNet, st.floats(10, 60), st.floats(0.05, 8), st.none()), min_size=1, max_size=8).map(
        tuple
    ),
    ring=st.booleans(),
    lead_ohm=st.floats(0.0, 500.0),
    stakes=st.none(),
    beside=st.just(()),
    output_j=st.none(),
)


@settings(max_examples=50, deadline=None)
@given(cases)
def test_more_growth_never_raises_the_far_end(case: Case) -> None:
    reads = [volts(case, growth).far_kv for growth in Growth]
    assert reads == sorted(reads, reverse=True)
    assert all(0 < each < case.supply.open_v / 1000 for each in reads)


@settings(max_examples=50, deadline=None)
@given(cases)
def test_a_ring_reads_no_less_than_the_same_nets_in_a_row(case: Case) -> None:
    row, ring = (volts(case._replace(ring=closed), Growth.HEAVY).far_kv for closed in (False, True))
    assert ring >= row * (1 - 1e-12)
