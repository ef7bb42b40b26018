"""Regions: cells of one field with the same history, so that each history is computed once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass

_STEP = np.uint64(0x9E3779B97F4A7C15)
_FIRST_MIX = np.uint64(0xBF58476D1CE4E5B9)
_SECOND_MIX = np.uint64(0x94D049BB133111EB)


@dataclass(frozen=True, slots=True, eq=False)
class Regions:
    """Cells of equal history, and what happened to each."""

    region_of: NDArray[np.intp]
    """Region of each cell, (rows, columns); -1 outside the field. Of the kind that numpy looks up without a copy."""
    count: int
    pair_region: NDArray[np.int64]
    """Region of each pair of region and event, (n,)."""
    pair_event: NDArray[np.int64]
    """Event of each pair, (n,)."""
    marked: NDArray[np.bool_]
    """Whether each region lies in each of the pieces that are marked, (pieces, count)."""
    history: NDArray[np.uint64]
    """What the history of each cell is known by, (cells,)."""

    @staticmethod
    def of(
        within: NDArray[np.bool_],
        event_cells: Sequence[NDArray[np.int64]],
        marks: Sequence[NDArray[np.int64]],
        numbers: NDArray[np.uint64],
    ) -> Regions:
        """Return the regions of a field.

        Parameters
        ----------
        within
            Which cells are of the field, (rows, columns).
        event_cells
            Numbers of the cells of each event.
        marks
            Numbers of the cells of pieces that are told apart whatever happened on them, each once in a piece.
        numbers
            Scattered numbers, one for each event.

        Notes
        -----
        The history of a cell is known by the wrapping sum of the numbers of its events. Two histories of a hundred
        thousand sum up to the same with a chance of about 3e-10.
        """
        sizes = np.array([len(cells) for cells in event_cells], dtype=np.int64)
        cells = np.concatenate(event_cells) if len(event_cells) else np.empty(0, dtype=np.int64)
        history = np.zeros(within.size, dtype=np.uint64)
        np.add.at(history, cells, np.repeat(numbers, sizes))
        marked = np.zeros((len(marks), within.size), dtype=np.bool_)
        for at, its in enumerate(marks):
            marked[at, its] = True
            history[its] += scattered(np.array([at + 1], dtype=np.uint64))
        field_cells = np.flatnonzero(within)
        _, first, inverse = np.unique(history[field_cells], return_index=True, return_inverse=True)
        place = np.empty(len(first), dtype=np.intp)  # numbered in the order of their first cell: neighbours lie close
        place[np.argsort(first)] = np.arange(len(first))
        region_of = np.full(within.size, -1, dtype=np.intp)
        region_of[field_cells] = place[inverse]
        chosen = np.zeros(within.size, dtype=np.bool_)
        chosen[field_cells[first]] = True
        told = np.flatnonzero(chosen[cells])
        event_of = np.repeat(np.arange(len(event_cells)), sizes)[told]
        of_region = np.empty((len(marks), len(first)), dtype=np.bool_)
        of_region[:, place] = marked[:, field_cells[first]]
        return Regions(
            region_of.reshape(within.shape), len(first), region_of[cells[told]], event_of, of_region, history
        )


def regions_of(
    within: NDArray[np.bool_], event_cells: Sequence[NDArray[np.int64]], marks: Sequence[NDArray[np.int64]] = ()
) -> Regions:
    """Return the regions of a field whose events are told apart by their place in the row alone."""
    return Regions.of(
        within, event_cells, marks, scattered(np.arange(1, len(event_cells) + 1, dtype=np.uint64) * _STEP)
    )


def scattered(numbers: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """Return other numbers that look random, and are the same for the same ones.

    Each is stirred by shifts and odd factors, each of which can be undone, so that no two become alike. Loading the
    random numbers of numpy for it would take longer than the ground of a farm.
    """
    mixed = numbers * _STEP
    mixed = (mixed ^ (mixed >> np.uint64(30))) * _FIRST_MIX
    mixed = (mixed ^ (mixed >> np.uint64(27))) * _SECOND_MIX
    return mixed ^ (mixed >> np.uint64(31))
