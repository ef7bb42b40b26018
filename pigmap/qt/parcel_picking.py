"""The outlines of a county that are offered, and which of them were taken so far."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import shapely
from PySide6.QtCore import QObject, Signal

from pigmap.errors import PigmapError
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.records import Edit
from pigmap.session.county import Parcels, parcels_near
from pigmap.session.intake import fields_added


class ParcelPicking(QObject):
    """What is offered and what is taken; read by a tool and its plate, kept while other verbs run."""

    offered_changed = Signal()
    taken_changed = Signal()

    def __init__(self, stage: Stage) -> None:
        super().__init__(stage)
        self._stage = stage
        self._jobs = Jobs(self)
        self.parcels: Parcels | None = None
        self.taken: set[int] = set()
        """Numbers of those that are taken, from 0."""
        self.refused: PigmapError | None = None
        self.reading = False
        self.outlines: list[shapely.MultiPolygon] = []
        self._tree = shapely.STRtree([])

    def offer(self, parcels: Parcels | None) -> None:
        """Offer the outlines of a file, none of them taken yet; or nothing."""
        self.parcels, self.taken, self.refused = parcels, set(), None
        offered = parcels.offered if parcels is not None else ()
        self.outlines = [each.vetted.outline for each in offered if each.vetted is not None]
        self._tree = shapely.STRtree(self.outlines)
        self.offered_changed.emit()

    def open(self, file: Path, yard: shapely.Point) -> None:
        """Read a file off the window's thread."""
        farm, registry = self._stage.session.farm, self._stage.session.registry
        self.offer(None)
        self.reading = True
        job = self._jobs.run(lambda progress, stop: parcels_near(file, farm, registry, yard))
        job.done.connect(self._take)
        job.failed.connect(self._refuse)
        self.offered_changed.emit()

    def _take(self, parcels: object) -> None:
        self.reading = False
        if isinstance(parcels, Parcels):
            self.offer(parcels)

    def _refuse(self, why: object) -> None:
        self.reading = False
        if isinstance(why, PigmapError):
            self.refused = why
        self.offered_changed.emit()

    def at(self, east_m: float, north_m: float) -> int | None:
        """Return the outline at a place, the smallest where several lie on each other; None for none."""
        hit = self._tree.query(shapely.Point(east_m, north_m), predicate="intersects")
        numbers = [int(number) for number in hit]
        return min(numbers, key=lambda number: self.outlines[number].area, default=None)

    def turn(self, number: int) -> None:
        """Take one, or leave one that was taken."""
        self.taken ^= {number}
        self.taken_changed.emit()

    def take_all(self) -> None:
        """Take all that are offered."""
        self.taken = set(range(len(self.outlines)))
        self.taken_changed.emit()

    def take_none(self) -> None:
        """Leave all."""
        self.taken = set()
        self.taken_changed.emit()

    def bounds(self, most: int) -> tuple[float, float, float, float] | None:
        """Return the ground of the nearest: west, south, east, north [grid m]."""
        if not self.outlines:
            return None
        west, south, east, north = shapely.total_bounds(np.array(self.outlines[:most])).tolist()
        return west, south, east, north

    def edit(self) -> Edit:
        """Return the edit that makes fields of those that are taken."""
        assert self.parcels is not None
        return fields_added([self.parcels.offered[number] for number in sorted(self.taken)], self.parcels.file.name)

    def close(self) -> None:
        """Wait for a file that is being read."""
        self._jobs.close()


def picking_of(stage: Stage) -> ParcelPicking:
    """Return the picking of a stage: a panel begins it, a tool goes on with it."""
    return stage.beside(ParcelPicking)
