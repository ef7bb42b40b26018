"""Whether the nets that are written down round a paddock reach round it as it stands."""

from __future__ import annotations

from collections import Counter
from datetime import date

import shapely

from pigmap.fence.fitted import CLICKED_M
from pigmap.fence.leaning import lines_beside
from pigmap.fence.standing import standing_on
from pigmap.fence.walked import nets_words
from pigmap.geometry.runs import open_runs
from pigmap.geometry.sides import stands_along
from pigmap.records import Farm, Paddock
from pigmap.text import Quantity, Text, Value


def short_of_nets(farm: Farm, paddock: Paddock, ground: shapely.Polygon, day: date, today: date) -> Text | None:
    """Return the words for nets that do not reach round some ground; None where they do, or none are written down.

    Parameters
    ----------
    farm, paddock
        Whose nets: those of the paddock as it was, and those that were left standing along it.
    ground
        As it stands [grid m].
    day, today
        When, and the day up to which only what is recorded counts.
    """
    others = [each for each in standing_on(farm, day, today=today) if each.paddock_uid != paddock.uid]
    uids = {each.paddock_uid for each in others}
    own = Counter(
        use.net_kind_uid
        for use in farm.net_uses.values()
        if use.stands(day)
        and use.net_kind_uid in farm.net_kinds
        and use.paddock_uid not in uids
        and (use.paddock_uid == paddock.uid or stands_along(use.run, paddock.outline))
    )
    here = next((each for each in standing_on(farm, day, today=today) if each.paddock_uid == paddock.uid), None)
    fences = lines_beside(farm, ground, paddock.uid, here.group_uid if here is not None else "")
    runs = open_runs(ground, [*(each.ground for each in others), *fences], farm.projection.ground_per_grid)
    nets = [(farm.net_kinds[uid], count) for uid, count in own.items()]
    round_m = sum(run.length_m for run in runs)
    reach_m = sum(kind.length_m * count for kind, count in nets)
    if not nets or round_m - reach_m <= CLICKED_M:
        return None
    values: dict[str, Value] = {
        "nets": nets_words(nets),
        "reach": Quantity(reach_m, "m", 0),
        "round": Quantity(round_m, "m", 0),
    }
    return Text(
        "Its nets ({nets}) reach {reach}; this goes round {round}. One more net, or look at the corners again.", values
    )
