"""How long the voltage at the far end of a paddock of twelve nets takes."""

from __future__ import annotations

from pigmap.fence.electric.case import Case, LiveNet, volts
from pigmap.fence.electric.earth import Stakes
from pigmap.fence.electric.expected import expected
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import Growth
from tests.benchmarks.sticks import Measured, Watch, quantile

NETS = 12


def measure_voltage(*, quick: bool) -> dict[str, Measured]:
    """Measure one voltage of a ring of twelve nets with two earth stakes, of the processor, 95 of 100 times."""
    case = Case(from_output(1.0), (LiveNet(50.0),) * NETS, stakes=Stakes(2), output_j=1.0)
    one, all_of_it = [], []
    for _ in range(50 if quick else 1000):
        watch = Watch()
        volts(case, Growth.MEDIUM)
        one.append(watch.spent().cpu)
        watch = Watch()
        expected(case)
        all_of_it.append(watch.spent().cpu)
    note = f"of the processor, 95 of 100 times; all figures of a fence {quantile(all_of_it, 0.95):.1f} ms"
    return {"voltage": Measured(quantile(one, 0.95), note=note)}
