"""The rule that the ground of a stay lies inside the fields and clear of keep-outs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.kept_out import in_force_during, kept_out, round_trees
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.planning.uses import Use, first_on_each_ground
from pigmap.records import Farm, KeepOut, Lasting, Reason, Stay, StayState, lasting_on
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
        really = lasting_on(farm, today)
        for keep_out in (*farm.keep_outs.values(), *round_trees(farm.places.values())):
            meant = stays
            if keep_out.from_month_day and keep_out.to_month_day:  # the first stay there may have been in other months
                meant = _first_on_each_ground(
                    stay for uid, stay in farm.stays.items() if _in_its_months(keep_out, stay, really.get(uid), today)
                )
            found += _in_keep_out(farm, keep_out, meant)
        return sorted(found, key=lambda breach: breach.day or date.min)


def _in_its_months(keep_out: KeepOut, stay: Stay, each: Lasting | None, today: date) -> bool:
    if each is None:
        return in_force_during(keep_out, stay.in_on, stay.out_on)
    return in_force_during(keep_out, each.first, each.end or max(each.first, today) + timedelta(days=1))


def _grounds(uses: list[Use]) -> NDArray[np.object_]:
    """Return the grounds; those of a damaged file whose edges cross are mended, so that they can be compared."""
    grounds = np.array([use.stay.ground for use in uses], dtype=np.object_)
    crossed = ~shapely.is_valid(grounds)
    grounds[crossed] = shapely.make_valid(grounds[crossed])
    return grounds


def _first_on_each_ground(stays: Iterable[Stay]) -> list[Use]:
    """Return the stays, of several on the same ground the first one that is a fact and the first planned one."""
    return first_on_each_ground(stays, lambda stay: stay.state is StayState.PLANNED)


def _outside(farm: Farm, uses: list[Use]) -> Iterator[Breach]:
    grounds = _grounds(uses)
    fields = shapely.union_all([field.outline for field in farm.fields.values()])
    shapely.prepare(fields)
    for index in np.flatnonzero(~shapely.contains(fields, grounds)):
        area_m2 = _ground_m2(farm, shapely.difference(grounds[index], fields))
        if area_m2 > SOME_GROUND_M2:
            use = uses[index]
            words = Text(
                "{area} of {paddock} lie outside every field.",
                {"area": Quantity(round(area_m2), "m²"), "paddock": paddock_called(farm, use.stay.paddock_uid)},
            )
            yield _breach(use, words, Text("Move the paddock, or draw the edge of the field where it really is."))


def _in_keep_out(farm: Farm, keep_out: KeepOut, uses: list[Use]) -> Iterator[Breach]:
    kept = kept_out(keep_out, keep_out.net_m, farm.projection.ground_per_grid)
    some_m2 = min(SOME_GROUND_M2, _ground_m2(farm, kept) / 2)  # a narrow well is less than the play of a net
    shapely.prepare(kept)
    grounds = _grounds(uses)
    for index in np.flatnonzero(shapely.intersects(kept, grounds)):
        use = uses[index]
        if _ground_m2(farm, shapely.intersection(kept, grounds[index])) > some_m2:
            yield _too_near(farm, keep_out, use)


def _too_near(farm: Farm, keep_out: KeepOut, use: Use) -> Breach:
    words = Text(
        "{paddock} reaches into the keep-out {keep_out}, from which nets stay {distance} away.",
        {
            "paddock": paddock_called(farm, use.stay.paddock_uid),
            "keep_out": keep_out.name or keep_out.reason.value,
            "distance": Quantity(keep_out.net_m, "m"),
        },
    )
    remedy = Text("Set the paddock farther off, or correct the keep-out if it is drawn too wide.")
    return _breach(use, words, remedy, hard=keep_out.reason is Reason.OVERHEAD_LINE)


def _breach(use: Use, words: Text, remedy: Text, *, hard: bool = False) -> Breach:
    stay, planned = use.stay, use.stay.state is StayState.PLANNED
    helps: Literal["ground", "never"] = "never" if hard else "ground"
    return Breach("stays", stay.uid, words, remedy, "plan" if planned else "fact", stay.in_on, use.later, helps)


def _ground_m2(farm: Farm, shape: BaseGeometry) -> float:
    return float(shape.area) * farm.projection.ground_per_grid**2


rule = GroundInside()
