"""The nets that stand round a paddock as someone counted them, and which were only guessed until then."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import shapely

from pigmap.document.edits.choices import change_setting
from pigmap.document.edits.find import row_of, rows_with
from pigmap.records import Edit, Farm, NetKind, NetUse, Paddock, RowChange, add, new_uid, remove
from pigmap.text import Text

GUESSED_NETS = "guessed nets"
"""Key of the setting that lists the paddocks whose nets were guessed, by their uids."""


def nets_are_guessed(farm: Farm, paddock_uid: str) -> bool:
    """Whether the nets of a paddock follow from the length of its sides, and nobody counted them."""
    return paddock_uid in _guessed(farm)


def guess_kept(farm: Farm, paddock_uid: str, *, guessed: bool) -> Sequence[RowChange]:
    """Return the changes that say whether the nets of a paddock are guessed."""
    before = _guessed(farm)
    if guessed == (paddock_uid in before):
        return ()
    after = [*before, paddock_uid] if guessed else [uid for uid in before if uid != paddock_uid]
    return change_setting(GUESSED_NETS, after or None).changes(farm)


def _guessed(farm: Farm) -> list[str]:
    row = next((row for row in farm.settings.values() if row.key == GUESSED_NETS), None)
    return list(row.value) if row is not None and isinstance(row.value, list) else []


def nets_stand(paddock_uid: str, nets: Sequence[tuple[str, shapely.LineString]], on: date) -> Edit:
    """Return the edit that says which nets stand round a paddock: those that were written down for it there go.

    Nets that other paddocks have along its sides are theirs, and stay.

    Parameters
    ----------
    paddock_uid
        The paddock.
    nets
        The kind of each net, by its uid, and where it stands [grid m].
    on
        A day on which they stand. They stood from the day that those before them did, else from this day.
    """
    uids = [new_uid() for _ in nets]

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Paddock, paddock_uid)
        for kind_uid, _ in nets:
            row_of(farm, NetKind, kind_uid)
        before = [use for use in rows_with(farm, NetUse, "paddock_uid", paddock_uid) if use.stands(on)]
        since = min((use.set_on for use in before), default=on)
        until = before[0].taken_on if before else None
        after = [
            NetUse(uid=uid, net_kind_uid=kind, paddock_uid=paddock_uid, run=line, set_on=since, taken_on=until)
            for uid, (kind, line) in zip(uids, nets, strict=True)
        ]
        rows = [*(remove(use) for use in before), *(add(use) for use in after)]
        return [*rows, *guess_kept(farm, paddock_uid, guessed=False)]

    return Edit(Text("Nets that stand counted."), changes)
