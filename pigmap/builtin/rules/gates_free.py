"""The rule that planned paddocks leave gates free; that one does not is worth knowing, and no more."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.planning.gates import REMEDY, gate_called, gates_covered
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, StayState
from pigmap.text import Text


class GatesFree:
    """Looks for planned stays on ground with a gate in it or in its side."""

    api = 1
    name = "gates-free"
    title = Text("Planned paddocks leave gates free")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        planned = (stay for stay in farm.stays.values() if stay.state is StayState.PLANNED)
        for stay in sorted(planned, key=lambda stay: (stay.in_on, stay.uid)):
            for gate in gates_covered(farm, stay.ground):
                words = Text(
                    "{paddock} covers {gate}: nobody gets through while pigs are there.",
                    {"paddock": paddock_called(farm, stay.paddock_uid), "gate": gate_called(gate)},
                )
                yield Breach("stays", stay.uid, words, REMEDY, "care", stay.in_on)


rule = GatesFree()
