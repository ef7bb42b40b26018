"""Paddocks that stand as someone found them: recorded with the nets round them, crooked as they are."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import shapely

from pigmap.document.edits.find import row_of
from pigmap.document.edits.guessed_nets import guess_kept
from pigmap.document.edits.naming import field_under, free_names
from pigmap.document.edits.stays import record_stay
from pigmap.document.edits.taken_up import taken_up
from pigmap.records import Edit, Farm, Group, NetUse, Paddock, RowChange, Stay, add, new_uid
from pigmap.text import Text

Standing = tuple[str, shapely.LineString]
"""The kind of a net, by its uid, and where it stands [grid m]."""


def stands_there(
    group_uid: str,
    outline: shapely.Polygon,
    since: date,
    nets: Sequence[Standing] = (),
    *,
    name: str = "",
    uid: str = "",
    stay_uid: str = "",
    guessed: bool = False,
) -> Edit:
    """Return the edit that records where a group stands: the paddock, the stay that runs, the nets round it.

    A fact is never refused: ground in a keep-out, outside the fields or under another group goes in as it is. Where
    the group was before, it left on that day, and the nets that are written down there are taken up.

    Parameters
    ----------
    group_uid, since
        Who, and since when.
    outline
        As it stands [grid m].
    nets
        The nets round it.
    name
        If empty, the field's name and the next free number.
    uid, stay_uid
        Names of the new rows, where the caller needs to know them.
    guessed
        Whether the nets follow from the length of the sides, and nobody counted them.
    """
    paddock_uid, own_stay_uid = uid or new_uid(), stay_uid or new_uid()
    uses = [NetUse(net_kind_uid=kind_uid, paddock_uid=paddock_uid, run=line, set_on=since) for kind_uid, line in nets]

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        field = field_under(farm, outline)
        field_uid = field.uid if field is not None else None
        paddock = Paddock(
            uid=paddock_uid,
            name=name or free_names(farm, field_uid)[0],
            field_uid=field_uid,
            outline=outline,
            net_kind_uid=_most_of(nets),
        )
        first = [add(paddock)]
        stay = record_stay(group_uid, paddock_uid, since, uid=own_stay_uid).changes(farm.after(first))
        left = [row.before for row in stay if isinstance(row.before, Stay)]
        stood = [*taken_up(farm, left, since), *(add(use) for use in uses)]
        return [*first, *stay, *stood, *(guess_kept(farm, paddock_uid, guessed=True) if guessed else ())]

    return Edit(Text("{name} stands.", {"name": name or Text("Paddock")}), changes, names=paddock_uid)


def _most_of(nets: Sequence[Standing]) -> str | None:
    """Return the kind of nets that most of a fence is of."""
    along: dict[str, float] = {}
    for kind_uid, line in nets:
        along[kind_uid] = along.get(kind_uid, 0.0) + line.length
    return max(along, key=along.__getitem__, default=None)
