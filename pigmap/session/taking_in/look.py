"""A look at a file: what becomes of it, or why nothing does and what can be chosen from then."""

from __future__ import annotations

from pigmap.errors import PigmapError
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.session.brought import format_for
from pigmap.session.taking_in.reading import filled, layers_in, read_layer
from pigmap.session.taking_in.result import TakenIn
from pigmap.session.taking_in.take import TakeIn, take_in


@dataclass(frozen=True, slots=True, eq=False)
class Looked:
    """What a look at a file found."""

    layers: tuple[str, ...]
    head: tuple[str, ...]
    """The columns that say something, where nothing can be taken."""
    taken: TakenIn | None
    why: PigmapError | None = None
    """Why nothing can be taken."""


def look(asked: TakeIn, farm: Farm, registry: Registry) -> Looked:
    """Return what becomes of a file; a refusal is part of the answer."""
    try:
        taken = take_in(asked, farm, registry)
    except PigmapError as why:
        return Looked(_layers(asked, registry), _head(asked, registry), None, why)
    return Looked(_layers(asked, registry) if taken.kind != "weather" else (), (), taken)


def _layers(asked: TakeIn, registry: Registry) -> tuple[str, ...]:
    try:
        return tuple(layers_in(format_for(asked.file, registry), asked.file))
    except PigmapError:
        return ()


def _head(asked: TakeIn, registry: Registry) -> tuple[str, ...]:
    try:
        return tuple(filled(read_layer(asked.file, registry, asked.layer, asked.kind)[0]))
    except PigmapError:
        return ()
