"""The rule that the ground of a stay lies inside the fields and clear of keep-outs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.kept_out import in_force_during, kept_out
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, KeepOut, Stay, StayState
from pigmap.text import Quantity, Text

SOME_GROUND_M2 = 1.0
"""Less ground than this is the play of a net [m²]. Own choice."""


class GroundInside:
    """Looks for stays on ground outside every field, and for nets nearer to a keep-out than its distance.

    Ground that was used the same way several times is named once, for the first of them.
    """

    api = 1
    name = "ground-inside"
    title = Text("Paddocks lie inside their fields and clear of keep-outs")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        stays = _first_on_each_ground(farm.stays.values())
        found = [*_outside(farm, stays)]
        for keep_out in farm.keep_outs.values():
            meant = stays
            if keep_out.from_month_day and keep_out.to_month_day:  # the first stay there may have been in other months
                meant = _first_on_each_ground(stay for stay in farm.stays.values() if _in_its_months(keep_out, stay))
            found += _in_keep_out(farm, keep_out, meant)
        return sorted(found, key=lambda breach: breach.day or date.min)


def _in_its_months(keep_out: KeepOut, stay: Stay) -> bool:
    return in_force_during(keep_out, stay.in_on, stay.out_on)


def _grounds(stays: list[Stay]) -> NDArray[np.object_]:
    return np.array([stay.ground for stay in stays], dtype=np.object_)


def _first_on_each_ground(stays: Iterable[Stay]) -> list[Stay]:
    """Return the stays, of several on the same ground the first one that is a fact and the first planned one."""
    first: dict[tuple[str, bytes, bool], Stay] = {}
    for stay in sorted(stays, key=lambda stay: (stay.in_on, stay.uid)):
        first.setdefault((stay.paddock_uid, shapely.to_wkb(stay.ground), stay.state is StayState.PLANNED), stay)
    return list(first.values())


def _outside(farm: Farm, stays: list[Stay]) -> Iterator[Breach]:
    grounds = _grounds(stays)
    fields = shapely.union_all([field.outline for field in farm.fields.values()])
    shapely.prepare(fields)
    for index in np.flatnonzero(~shapely.contains(fields, grounds)):
        area_m2 = _ground_m2(farm, shapely.difference(grounds[index], fields))
        if area_m2 > SOME_GROUND_M2:
            stay = stays[index]
            words = Text(
                "{area} of {paddock} lie outside every field.",
                {"area": Quantity(round(area_m2), "m²"), "paddock": paddock_called(farm, stay.paddock_uid)},
            )
            yield _breach(stay, words, Text("Move the paddock, or draw the edge of the field where it really is."))


def _in_keep_out(farm: Farm, keep_out: KeepOut, stays: list[Stay]) -> Iterator[Breach]:
    kept = kept_out(keep_out, keep_out.net_m, farm.projection.ground_per_grid)
    shapely.prepare(kept)
    for index in np.flatnonzero(shapely.intersects(kept, _grounds(stays))):
        stay = stays[index]
        if _ground_m2(farm, shapely.intersection(kept, stay.ground)) > SOME_GROUND_M2:
            yield _too_near(farm, keep_out, stay)


def _too_near(farm: Farm, keep_out: KeepOut, stay: Stay) -> Breach:
    words = Text(
        "{paddock} reaches into the keep-out {keep_out}, from which nets stay {distance} away.",
        {
            "paddock": paddock_called(farm, stay.paddock_uid),
            "keep_out": keep_out.name or keep_out.reason.value,
            "distance": Quantity(keep_out.net_m, "m"),
        },
    )
    return _breach(stay, words, Text("Set the paddock farther off, or correct the keep-out if it is drawn too wide."))


def _breach(stay: Stay, words: Text, remedy: Text) -> Breach:
    planned = stay.state is StayState.PLANNED
    return Breach("stays", stay.uid, words, remedy, "plan" if planned else "fact", stay.in_on)


def _ground_m2(farm: Farm, shape: BaseGeometry) -> float:
    return float(shape.area) * farm.projection.ground_per_grid**2


rule = GroundInside()
