"""How long the voltage at the far end of a paddock of twelve nets takes."""

from __future__ import annotations

from time import perf_counter

from pigmap.fence.electric.case import Case, LiveNet, volts
from pigmap.fence.electric.earth import Stakes
from pigmap.fence.electric.expected import expected
from pigmap.fence.electric.supply import from_output
from pigmap.fence.electric.tables import Growth
from tests.benchmarks.sticks import Measured, quantile

NETS = 12


def measure_voltage(*, quick: bool) -> dict[str, Measured]:
    """Measure one voltage of a ring of twelve nets with two earth stakes, and all figures that are told of it."""
    case = Case(from_output(1.0), (LiveNet(50.0),) * NETS, stakes=Stakes(2), output_j=1.0)
    repeats = 50 if quick else 1000
    one, all_of_it = [], []
    for _ in range(repeats):
        begin = perf_counter()
        volts(case, Growth.MEDIUM)
        between = perf_counter()
        expected(case)
        one.append((between - begin) * 1000)
        all_of_it.append((perf_counter() - between) * 1000)
    note = f"all figures of it {quantile(all_of_it, 0.5):.1f} ms"
    return {"voltage": Measured(quantile(one, 0.95), note=note)}
