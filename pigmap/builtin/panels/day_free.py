"""From which day on a group has no paddock yet."""

from __future__ import annotations

from datetime import date, timedelta

from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import book_of


def day_free(stage: Stage, group_uid: str) -> date:
    """Return the day on which a group's last stay ends, but today at the earliest.

    A last stay without a day out leaves the group free from the day that is shown, but from tomorrow at the earliest:
    tonight its pigs are where they are.
    """
    stays = book_of(stage.session.farm, stage.today).stays(group_uid)
    if not stays:
        return max(stage.day, stage.today)
    ends = [stay.out_on for stay in stays]
    if ends[-1] is None:
        return max(stage.day, stage.today + timedelta(days=1))
    return max(max(end for end in ends if end is not None), stage.today)
