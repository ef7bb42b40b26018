"""An energizer as a source: a charged capacitor behind a resistance."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.fence.electric.tables import INNER_OHM_J, STANDARD_OHM, USUAL_OPEN_V
from pigmap.records import Energizer


class Supply(NamedTuple):
    """What drives a fence.

    The peak of the pulse is taken as steady: 200 m of fence are a microsecond of travel, against pulses of tens of
    microseconds. Electronics that hold the voltage or add energy under load are not looked at.
    """

    open_v: float
    """Peak with nothing connected [V]."""
    inner_ohm: float
    """Resistance behind which it stands [Ω]."""

    @property
    def on_500_v(self) -> float:
        """Peak on the standard load of 500 Ω [V]."""
        return self.open_v * STANDARD_OHM / (STANDARD_OHM + self.inner_ohm)

    def capacity_f(self, output_j: float) -> float:
        """Return the capacity that gives an energy [J] into 500 Ω [F].

        Worked out from ``E = 1/2 C V0^2 * 500 / (500 + Rs)``, the share of the stored energy that the load takes.
        """
        return 2 * output_j * (STANDARD_OHM + self.inner_ohm) / (STANDARD_OHM * self.open_v**2)

    def at_output(self, before_j: float, after_j: float) -> Supply:
        """Return the like with another output [J]: the same open voltage, an inner resistance that is the lower."""
        return self._replace(inner_ohm=self.inner_ohm * before_j / after_j)


def from_sheet(open_v: float, on_500_v: float) -> Supply:
    """Return the source that has these peaks with nothing connected and on 500 Ω [V].

    Examples
    --------
    >>> round(from_sheet(9000, 5357.143).inner_ohm, 3)
    340.0
    """
    return Supply(open_v, STANDARD_OHM * (open_v / on_500_v - 1))


def from_output(output_j: float, open_v: float = USUAL_OPEN_V) -> Supply:
    """Return a usual source with an output in 500 Ω [J], where nothing else is known of it.

    Examples
    --------
    >>> round(from_output(2.0).on_500_v)
    6716
    """
    return Supply(open_v, INNER_OHM_J / output_j)


def supply_of(energizer: Energizer) -> Supply | None:
    """Return the source that an energizer is; None where neither its output nor its voltage on 500 Ω is told."""
    open_v = energizer.open_kv * 1000 if energizer.open_kv else USUAL_OPEN_V
    if energizer.kv_500 and energizer.kv_500 * 1000 < open_v:
        return from_sheet(open_v, energizer.kv_500 * 1000)
    return from_output(energizer.output_j, open_v) if energizer.output_j else None
