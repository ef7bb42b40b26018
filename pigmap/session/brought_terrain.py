"""A terrain image that is brought: looked over, linked, and what is to be said of it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TypeAlias

import shapely

from pigmap.document.edits import link_terrain
from pigmap.errors import PigmapError
from pigmap.geometry.projection import moved
from pigmap.imagery.terrain import MOST_STEP_M, TERRAIN_SUFFIXES, TerrainFacts, vet_terrain
from pigmap.records import Edit, Farm
from pigmap.session.images import image_link
from pigmap.text import Quantity, Text

ENDS = TERRAIN_SUFFIXES
"""Ends of the names of usual terrain images."""
BroughtTerrain: TypeAlias = TerrainFacts
"""A terrain image that can be linked."""


def look_over(path: Path) -> BroughtTerrain:
    """Return what is known of a terrain image; for workers.

    Raises
    ------
    RasterError
        If slopes cannot be worked out from it.
    """
    return vet_terrain(path)


def terrain_linked(facts: TerrainFacts, farm_file: Path) -> Edit:
    """Return the edit that links a terrain image."""
    return link_terrain(facts.path.stem, image_link(farm_file, facts.path))


def said_of_terrain(facts: TerrainFacts, farm: Farm) -> Iterator[Text]:
    """Yield what a terrain image is like, and what is wrong with it for this farm."""
    yield Text("Its heights lie about {step} apart.", {"step": Quantity(facts.step_m, "m", 0)})
    if facts.step_m > MOST_STEP_M:
        yield Text("It shows hillsides, and no bank in a field.")
    if _shows_none(facts, farm):
        yield Text("It shows none of the fields. Look whether it is the right one.")


def _shows_none(facts: TerrainFacts, farm: Farm) -> bool:
    """Whether it lies off all fields; not where nobody can say, since the farm lies nowhere on earth yet."""
    try:
        (box,) = moved([shapely.box(*facts.bounds)], facts.crs, farm.projection.definition, facts.path.name)
    except PigmapError:
        return False
    fields = [field.outline for field in farm.fields.values()]
    return bool(fields) and not any(box.intersects(outline) for outline in fields)
