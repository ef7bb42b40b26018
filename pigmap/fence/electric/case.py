"""One fence on its energizer: what is told of it, and its voltage for any growth."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import inf
from types import MappingProxyType
from typing import NamedTuple

from pigmap.fence.electric.earth import Stakes, stakes_of
from pigmap.fence.electric.line import Line, Span, Spot, carried
from pigmap.fence.electric.supply import Supply, supply_of
from pigmap.fence.electric.tables import (
    EARTH_OHM,
    GOOD_KV,
    JOINT_OHM,
    LEAK_NET_M,
    LEAK_OHM,
    NET_OHM_PER_M,
    PEAK_SHARE,
    STOP_KV,
    WARN_KV,
    Growth,
)
from pigmap.records import Energizer, NetKind


class Level(StrEnum):
    """Whether a voltage is enough."""

    STOP = "stop"
    WARN = "warn"
    FAIR = "fair"
    GOOD = "good"


def level_of(volts_kv: float) -> Level:
    """Return whether a voltage at the far end is enough [kV].

    Examples
    --------
    >>> [str(level_of(kv)) for kv in (1.9, 2.9, 3.0, 4.0)]
    ['stop', 'warn', 'fair', 'good']
    """
    if volts_kv < STOP_KV:
        return Level.STOP
    return Level.WARN if volts_kv < WARN_KV else Level.FAIR if volts_kv < GOOD_KV else Level.GOOD


class LiveNet(NamedTuple):
    """What one net is to a pulse."""

    length_m: float
    ohm_per_m: float = NET_OHM_PER_M
    leak_ohm: float | None = None
    """Resistance of the net to the ground in medium growth [Ω]; None where its kind tells none."""

    def span(self, growth: Growth, joint_ohm: float = JOINT_OHM) -> Span:
        """Return the net as a line, with what grows into it."""
        usual = self.length_m / LEAK_NET_M / LEAK_OHM[growth]
        told = LEAK_OHM[Growth.MEDIUM] / LEAK_OHM[growth] / self.leak_ohm if self.leak_ohm else usual
        return Span(self.length_m, self.ohm_per_m, told / self.length_m, joint_ohm)


def live_net(kind: NetKind) -> LiveNet:
    """Return what a net of a kind is to a pulse; where the kind tells no resistance or leak, the usual ones."""
    ohm_per_m = kind.ohm_per_km / 1000 if kind.ohm_per_km is not None else NET_OHM_PER_M
    return LiveNet(kind.length_m, ohm_per_m, kind.leak * 1000 if kind.leak else None)


class Fault(NamedTuple):
    """What is wrong with a fence, to look at what it would do."""

    spots: tuple[Spot, ...] = ()
    forgotten: int | None = None
    """Number of the net after which a clip was forgotten, the first is 0."""


SOUND = Fault()


class Volts(NamedTuple):
    """The fence in one growth, the fence's own capacity allowed for."""

    feed_kv: float
    far_kv: float
    far_m: float
    """Where the voltage is least, along the fence from its feed [m]."""
    earth_kv: float
    """On the earth stakes against ground far off."""
    dead_m: float


class Case(NamedTuple):
    """One fence, and what feeds it."""

    supply: Supply
    nets: tuple[LiveNet, ...]
    ring: bool = True
    lead_ohm: float = 0.0
    stakes: Stakes | None = None
    beside: tuple[tuple[LiveNet, ...], ...] = ()
    """Nets of other fences on the same energizer, each taken as a ring fed at the same place."""
    output_j: float | None = None

    @property
    def earth_ohm(self) -> float:
        """Resistance of the earth stakes, the usual one where nothing is told of them [Ω]."""
        return self.stakes.ohm if self.stakes is not None else EARTH_OHM

    @property
    def length_m(self) -> float:
        """Length of the nets of the fence [m]."""
        return sum(net.length_m for net in self.nets)


def case_of(energizer: Energizer) -> Case | None:
    """Return an energizer without any nets; None where neither its output nor its voltage on 500 Ω is told."""
    supply = supply_of(energizer)
    if supply is None:
        return None
    lead_ohm = energizer.lead_m * energizer.lead_ohm_per_km / 1000
    return Case(supply, (), lead_ohm=lead_ohm, stakes=stakes_of(energizer), output_j=energizer.output_j)


def line_of(nets: tuple[LiveNet, ...], growth: Growth, *, ring: bool, fault: Fault = SOUND) -> Line:
    """Return nets as a line in some growth, with what is wrong with it."""
    joints: Mapping[int | None, float] = MappingProxyType({fault.forgotten: inf})
    spans = tuple(net.span(growth, joints.get(at, JOINT_OHM)) for at, net in enumerate(nets))
    return Line(spans, ring, fault.spots)


def volts(case: Case, growth: Growth, fault: Fault = SOUND) -> Volts:
    """Return the voltage of a fence: ``V(0) = V0 Zin / (Rs + Rlead + Rg + Zin)``, then along the line."""
    own = carried(line_of(case.nets, growth, ring=case.ring, fault=fault))
    beside = sum(carried(line_of(nets, growth, ring=True)).load_s for nets in case.beside)
    load, earth = own.load_s + beside, case.earth_ohm
    feed_v = case.supply.open_v * PEAK_SHARE / (1 + (case.supply.inner_ohm + case.lead_ohm + earth) * load)
    far_kv = feed_v * own.far_share / 1000
    return Volts(feed_v / 1000, far_kv, own.far_m, feed_v * load * earth / 1000, own.dead_m)
