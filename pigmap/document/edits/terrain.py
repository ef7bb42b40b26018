"""Terrain images: linked, and no longer linked; their files stay where they are."""

from __future__ import annotations

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Terrain, add, new_uid, remove
from pigmap.text import Text


def link_terrain(name: str, link: str, *, note: str = "", uid: str = "") -> Edit:
    """Return the edit that has slopes read from a terrain image."""
    terrain = Terrain(uid=uid or new_uid(), name=name, link=link, note=note)
    return Edit(Text("Terrain image {name} linked.", {"name": name}), lambda farm: [add(terrain)])


def unlink_terrain(uid: str) -> Edit:
    """Return the edit that has slopes no longer read from a terrain image; its file is not touched."""
    return Edit(Text("Terrain image no longer used."), lambda farm: [remove(row_of(farm, Terrain, uid))])
