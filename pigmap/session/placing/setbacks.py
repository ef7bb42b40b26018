"""What is usually kept off water, wells and flow lines, and steep ground, where a paddock would stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely

from pigmap.fence.cautions.caution import LiveGround
from pigmap.fence.cautions.setbacks import Setback, near_water
from pigmap.fence.cautions.steep import steep_fence
from pigmap.geometry.steep import SlopeCells, Steep, steep_under
from pigmap.records import Farm, Field, PigClass
from pigmap.session.placing.judgement import PlacingWarning
from pigmap.text import Quantity, Text, Value

_IT = Text("It")


def setback_cares(farm: Farm, outline: shapely.Polygon, setbacks: tuple[Setback, ...]) -> Iterator[PlacingWarning]:
    """Yield that a place comes nearer to water, a well or a flow line than is usual."""
    for caution in near_water(farm, LiveGround(_IT, outline), setbacks):
        yield PlacingWarning(caution.words, caution.remedy, care=True)


def steep_cares(
    farm: Farm,
    group_uid: str | None,
    outline: shapely.Polygon,
    slopes: Mapping[str, SlopeCells],
    fields: Sequence[Field],
) -> Iterator[PlacingWarning]:
    """Yield that a place is steep, as far as a terrain image tells."""
    for field in fields:
        known = slopes.get(field.uid)
        steep = steep_under(known.frame, known.slopes_deg, outline) if known is not None else None
        said = steep_words(steep, farrows=_farrows(farm, group_uid)) if steep is not None else None
        if said is not None:
            yield PlacingWarning(*said, care=True)


def steep_fence_cares(
    outline: shapely.Polygon, slopes: Mapping[str, SlopeCells], fields: Sequence[Field]
) -> Iterator[PlacingWarning]:
    """Yield that the ground under the fence of a place is steep."""
    caution = steep_fence(LiveGround(_IT, outline), (slopes[each.uid] for each in fields if each.uid in slopes))
    if caution is not None:
        yield PlacingWarning(caution.words, caution.remedy, care=True)


def steep_words(steep: Steep, *, farrows: bool = False) -> tuple[Text, Text] | None:
    """Return that ground is steep, and what to do; None where it is not."""
    values: dict[str, Value] = {
        "most": Quantity(steep.most_deg, "°", 0),
        "share": Quantity(round(steep.above_strong, 2), "1"),
        "limit": Quantity(steep.strong_deg, "°", 0),
    }
    if farrows and steep.is_sloping:
        words = Text("It slopes up to {most}, and sows farrow there.", values)
        return words, Text("Choose level ground for huts with piglets.")
    if steep.is_steep:
        words = Text("{share} of it is steeper than {limit}, up to {most}: rain takes rooted ground down.", values)
        return words, Text("Move them on before it is bare, and leave green below it. Local rules come first.")
    if steep.is_sloping:
        words = Text("It slopes up to {most}: rain runs off, and takes rooted ground along.", values)
        return words, Text("Move them on sooner, and leave green below it.")
    return None


def _farrows(farm: Farm, group_uid: str | None) -> bool:
    group = farm.groups.get(group_uid or "")
    if group is None:
        return False
    open_litters = (each for each in farm.litters.values() if each.group_uid == group.uid and each.weaned_on is None)
    return group.pig_class is PigClass.LACTATING or any(each.due is not None for each in open_litters)
