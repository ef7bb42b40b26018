"""The ground of a field as it is printed: in cells so small that no step is seen at a paddock's edge on paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any, Protocol

from pigmap.geometry.cells import frame_over
from pigmap.records import Farm, Field
from pigmap.session.opened import Opened

if TYPE_CHECKING:
    from pigmap.session.seen_ground import SeenGround

LEAST_M = 0.25
"""Side of the smallest cell that ground has [m]."""
ACROSS = 1_200
"""So many cells lie along the longer side of a field, so that one is about 0.2 mm on paper. Own choice."""
MOST = 2_000_000
"""More cells than this take too long. Own choice."""


class _Session(Opened, Protocol):
    @property
    def seen(self) -> SeenGround:
        """The ground as it is coloured."""
        ...


def printed_states(
    session: _Session, field_uids: Iterable[str], day: date, today: date, asks: str = ""
) -> dict[str, Any]:
    """Return the ground of fields at the start of a day, in cells for paper.

    Parameters
    ----------
    session
        Whose farm it is.
    field_uids
        Which fields; those that are not computed yet are left out.
    day, today
        As `SeenGround.state` has them.
    asks
        What a way to colour the ground asks for; such ground has the cells that it has on the screen.
    """
    from pigmap.ground import prepare  # ground is loaded once something is printed

    farm, made = session.farm, {}
    for uid in field_uids:
        fine = None if asks else finer(farm.fields[uid])
        if fine is None:
            state: Any = session.seen.state(uid, day, today, asks)
        else:
            state = prepare(_with(farm, fine), uid, today=today).on(day)
        if state is not None:
            made[uid] = state
    return made


def finer(field: Field) -> Field | None:
    """Return a field with smaller cells, a whole number of them in each that it has; None where they are as small."""
    frame = frame_over(field)
    times = min(int(field.cell_m / LEAST_M), -(-ACROSS // max(frame.rows, frame.columns, 1)))
    while times > 1 and frame.rows * frame.columns * times**2 > MOST:
        times -= 1
    return replace(field, cell_m=field.cell_m / times) if times > 1 else None


def _with(farm: Farm, field: Field) -> Farm:
    return replace(farm, fields={**farm.fields, field.uid: field})
