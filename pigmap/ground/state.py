"""The state of one field's ground on one day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside
from pigmap.ground.carried import Carried
from pigmap.ground.cover import step
from pigmap.ground.cursor import Now
from pigmap.ground.pointer import stretches_on
from pigmap.ground.ready import ready_in_days
from pigmap.ground.tables import TRAILING_DAYS
from pigmap.ground.timeline import NEVER
from pigmap.ground.under import Under, over_field, under
from pigmap.records import Paddock
from pigmap.records.frozen import dataclass

if TYPE_CHECKING:
    from pigmap.ground.field_ground import FieldGround

Array = NDArray[Any]

OUTSIDE: Mapping[str, float] = {"rest_days": -1, "ready_in_days": -1, "seen_on": NEVER}
"""What a cell outside the field holds; not a number or False where nothing is said here."""


class StateLayers(Mapping[str, Array]):
    """Arrays by name, each made when it is first asked for."""

    def __init__(self, made: Mapping[str, Array], makers: Mapping[str, Callable[[], Array]]) -> None:
        self._made = dict(made)
        self._makers = makers
        for array in self._made.values():
            array.flags.writeable = False

    def __getitem__(self, name: str) -> Array:
        if name not in self._made:
            array = self._makers[name]()
            array.flags.writeable = False
            self._made[name] = array
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        yield from dict.fromkeys((*self._made, *self._makers))

    def __len__(self) -> int:
        return len(set(self._made) | set(self._makers))


@dataclass(frozen=True, slots=True, eq=False)
class GroundState:
    """The ground of one field at the start of one day."""

    ground: FieldGround
    day: date
    layers: StateLayers
    """Arrays (regions,): ``occupied``, ``used``, ``unknown`` (no use is recorded or told of, and nobody said that there
    was none) and ``seen`` (bool), ``rest_days`` (-1 where no use is known), ``cover`` and ``rooting`` (0 to 1),
    ``load_kg_d_m2``, ``n_kg_ha`` and ``p_kg_ha`` (twelve months up to the day),
    ``ready_in_days`` (-1 not within sight), ``seen_on`` (ordinal of the day of the last check, -1 none)."""

    def cells(self, name: str) -> Array:
        """Return a layer cell by cell, (rows, columns)."""
        layer = self.layers[name]
        outside = OUTSIDE.get(name, False if layer.dtype == np.bool_ else np.nan)
        longer = np.append(layer, np.array([outside], dtype=layer.dtype))
        cells: Array = longer[self.ground.region_of]  # -1 takes the last one
        return cells

    def cells_under(self, outline: BaseGeometry | None) -> NDArray[np.intp]:
        """Return the region of each cell under an outline, or of the whole field."""
        cells = self.ground.region_of.ravel()
        if outline is not None:
            cells = cells[cells_inside(self.ground.frame, [outline])[0]]
        return cells[cells >= 0]

    def under(self, outline: BaseGeometry) -> Under | None:
        """Return the means over an outline; None where it holds no cell of the field."""
        return under(self, {"": outline}).get("")

    def by_paddock(self, paddocks: Iterable[Paddock]) -> dict[str, Under]:
        """Return the means over each paddock by its uid; one that holds no cell of the field is left out."""
        return under(self, {paddock.uid: paddock.outline for paddock in paddocks})

    @property
    def by_field(self) -> Under | None:
        """The means over the whole field; None where it is smaller than a cell."""
        return over_field(self)


def state_of(
    ground: FieldGround, day: date, at: NDArray[np.int32], now: Now, carried: Carried | None = None
) -> GroundState:
    """Return the state of a day from the stretch of each region, and what the cursor on that day carries along."""
    on = day.toordinal()
    here = np.flatnonzero(now.here)
    cover = _cover(ground, on, now, here)
    rest_days = _rest_days(on, now, here)
    made: dict[str, Array] = {
        "occupied": now.here,
        "used": rest_days >= 0,
        "seen": np.int32(on) - now.seen < ground.model.seen_days,  # never lies further back than any setting
        "rest_days": rest_days,
        "cover": cover,
        "rooting": 1 - cover,
    }
    return GroundState(ground, day, StateLayers(made, _makers(ground, on, at, made["used"], carried)))


def _cover(ground: FieldGround, on: int, now: Now, here: NDArray[np.int64]) -> NDArray[np.float32]:
    model, warm = ground.model, ground.warmth
    # What is left of a difference depends on nothing but the day on which the stretch began.
    until = warm.since[: max(on - warm.first, 0) + 1]
    grown = model.regrowth * (until[-1] - until)
    y: NDArray[np.float32] = np.exp(-grown).astype(np.float32).take(now.day, mode="clip")
    y *= now.above
    y += np.float32(1.0 / model.most)
    if len(here):
        day = now.day[here]
        worn = ground.worn[: len(grown)]
        days = (worn[-1] - worn).astype(np.float32).take(day, mode="clip")
        y[here] = step(
            now.above[here] + np.float32(1.0 / model.most),
            grown.astype(np.float32).take(day, mode="clip"),
            now.loss[here] * days,
            most=model.most,
            least=model.least,
        )
    return np.reciprocal(y, out=y)


def _rest_days(on: int, now: Now, here: NDArray[np.int64]) -> NDArray[np.int32]:
    rest: NDArray[np.int32] = np.int32(on) - now.left
    np.maximum(rest, np.int32(-1), out=rest)
    rest[here] = 0
    return rest


def _makers(
    ground: FieldGround, on: int, at: NDArray[np.int32], used: NDArray[np.bool_], carried: Carried | None
) -> Mapping[str, Callable[[], Array]]:
    trailing: list[Array] = []

    def near() -> Carried | None:
        """Return what the cursor carries, while it is still on this day."""
        return carried if carried is not None and carried.day == on else None

    def brought(which: int, times: float) -> Callable[[], Array]:
        def made() -> Array:
            if not trailing:
                its = near()
                trailing.append(_trailing(ground, on, at) if its is None else its.trailing())
            loads: NDArray[np.float32] = trailing[0][which] * np.float32(times)
            return loads

        return made

    def ready() -> Array:
        its = near()
        return ready_in_days(ground, on, at, ground.timeline.y, ground.model) if its is None else its.ready_in_days()

    return {
        "load_kg_d_m2": brought(0, 1.0),
        "n_kg_ha": brought(1, 10.0),  # g/m² are 10 kg/ha
        "p_kg_ha": brought(2, 10.0),
        "unknown": lambda: ~(used | ground.never),
        "seen_on": lambda: ground.timeline.seen[at],
        "ready_in_days": ready,
    }


def _trailing(ground: FieldGround, on: int, at: NDArray[np.int32]) -> NDArray[np.float32]:
    """Return what was brought in the twelve months up to a day, (3, regions)."""
    before = on - TRAILING_DAYS
    brought = _brought(ground, on, at) - _brought(ground, before, stretches_on(ground.timeline, before))
    return np.maximum(brought, 0.0).astype(np.float32)


def _brought(ground: FieldGround, on: int, at: NDArray[np.int32]) -> NDArray[np.float64]:
    line = ground.timeline
    days = np.maximum(on - line.day[at], 0)
    return line.total[:, at].astype(np.float64) + line.daily[:3, at] * days
