"""Photos: what they show, and when and where they were taken."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.records import Edit, Farm, Photo, RowChange, add
from pigmap.text import Text


def add_photos(photos: Sequence[Photo]) -> Edit:
    """Return the edit that adds photos; one that shows the same of the same check is there already."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        there = {(each.sha256, each.check_uid, each.paddock_uid) for each in farm.photos.values()}
        return [add(each) for each in photos if (each.sha256, each.check_uid, each.paddock_uid) not in there]

    return Edit(Text("{count} photo added.", plural="{count} photos added.", count=len(photos)), changes)
