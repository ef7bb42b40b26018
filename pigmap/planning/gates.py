"""Which gates a paddock covers: they lie in it, or its nets stand in them."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from pigmap.records import Farm, Place, PlaceKind
from pigmap.text import Text, Value

IN_A_GATE_M = 1.5
"""Nets so near to the middle of a gate stand in it [m of ground]. Own choice: half of a narrow field gate."""
REMEDY = Text("Leave the gate free, or keep it shut and tell whoever uses it.")


def gates_covered(farm: Farm, ground: BaseGeometry) -> tuple[Place, ...]:
    """Return the gates that a paddock on some ground covers, by name."""
    near = IN_A_GATE_M / farm.projection.ground_per_grid
    gates = (place for place in farm.places.values() if place.kind is PlaceKind.GATE)
    return tuple(sorted((gate for gate in gates if ground.distance(gate.point) <= near), key=lambda gate: gate.name))


def gate_called(gate: Place) -> Value:
    """Return the name of a gate, or what to call one without."""
    return gate.name or Text("a gate")
