"""One layer of a file, chosen where there are several."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import shapely

from pigmap.document.incoming import Format, Incoming, IncomingLayer
from pigmap.errors import UsageError
from pigmap.plugins import Registry
from pigmap.session.brought import format_for
from pigmap.session.taking_in.values import words
from pigmap.text import Text

NAMES: Mapping[str, tuple[str, ...]] = {
    "fields": ("fields",),
    "keepouts": ("keepouts", "keep_outs"),
    "ways": ("ways",),
    "places": ("places",),
    "paddocks": ("paddocks",),
    "purposes": ("purposes",),
    "groups": ("groups",),
    "events": ("events", "group_events"),
    "energizers": ("energizers",),
    "netkinds": ("netkinds", "net_kinds"),
    "stays": ("stays",),
    "checks": ("checks",),
}
"""What layers are called that hold each kind, as this program writes them."""
_REPEATED = ("track_points", "route_points")
MOST_LISTED = 30


def read_layer(path: Path, registry: Registry, name: str, kind: str) -> tuple[IncomingLayer, tuple[Text, ...]]:
    """Return the layer that was named, the only one with rows, or the one that is called as what is taken.

    Raises
    ------
    OutlineError
        If it cannot be read.
    UsageError
        If several have rows, and nobody says which.
    """
    form = format_for(path, registry)
    if name:
        return _right_letters(form.read(path, name), path)
    names = layers_in(form, path)
    if len(names) <= 1:
        return _right_letters(form.read(path, names[0] if names else ""), path)
    called = [each for each in names if each.casefold() in NAMES.get(kind, ())]
    if len(called) == 1:
        layer, notes = _right_letters(form.read(path, called[0]), path)
        return layer, (Text("Out of {file} the layer {layer} is taken.", _named(path, called[0])), *notes)
    return _out_of_several(form, path, names, kind)


def layers_in(form: Format, path: Path) -> list[str]:
    """Return the layers of a file, without those that repeat the points of others."""
    return [each for each in form.layers(path) if each not in _REPEATED]


def _out_of_several(
    form: Format, path: Path, names: Sequence[str], kind: str
) -> tuple[IncomingLayer, tuple[Text, ...]]:
    """Return the one layer that has rows with shapes, or several as one where they are of one make."""
    layers = [layer for each in names if (layer := form.read(path, each)).rows]
    full = [layer for layer in layers if _has_shapes(layer)] or layers
    if len(full) > 1 and path.suffix.lower() == ".gpx" and kind != "keepouts" and not _alike(full):
        return _walk(path, full)
    if len(full) > 1 and (path.suffix.lower() == ".gpx" or _alike(full)):
        layer, notes = _right_letters(_joined(full), path)
        said = Text("The layers {layers} of {file} are taken together.", _named(path, layer.name, layers=layer.name))
        return layer, (said, *notes)
    if len(full) > 1:
        raise UsageError(
            "{file} has {count} layers with rows: {layers}.",
            remedy="Name the one that is meant.",
            file=path.name,
            count=len(full),
            layers=", ".join(f"{layer.name} ({len(layer.rows)})" for layer in full[:MOST_LISTED]),
        )
    if not full:
        return _right_letters(form.read(path), path)
    layer, notes = _right_letters(full[0], path)
    return layer, (Text("Out of {file} the layer {layer} is taken.", _named(path, layer.name)),
                   *notes)  # fmt: skip


def _walk(path: Path, layers: Sequence[IncomingLayer]) -> tuple[IncomingLayer, tuple[Text, ...]]:
    """Return the tracks of a phone: gates and the like were marked on the way round."""
    walk = max(layers, key=_dimension)
    others = ", ".join(f"{each.name} ({len(each.rows)})" for each in layers if each is not walk)
    words = "Out of {file} the layer {layer} is taken; left aside: {others}."
    return walk, (Text(words, _named(path, walk.name, others=others)),)


def _alike(layers: Sequence[IncomingLayer]) -> bool:
    """Whether layers tell of the same: the parts of one table by kinds of shapes."""
    first = layers[0]
    reasons = all("reason" in filled(each) for each in layers)
    return all(each.crs == first.crs and (reasons or filled(each) == filled(first)) for each in layers)


def _joined(layers: Sequence[IncomingLayer]) -> IncomingLayer:
    rows = tuple(row for layer in layers for row in layer.rows)
    return IncomingLayer(", ".join(layer.name for layer in layers), layers[0].crs, rows)


def _dimension(layer: IncomingLayer) -> int:
    return max(int(shapely.get_dimensions(row.shape)) for row in layer.rows if row.shape is not None)


def filled(layer: IncomingLayer) -> list[str]:
    """Return the columns in which some row says something, in their order."""
    found = {name for row in layer.rows for name, value in row.columns.items() if words(value)}
    order = dict.fromkeys(name for row in layer.rows for name in row.columns)  # of joined layers the columns differ
    return [name for name in order if name in found]


def _named(path: Path, layer: str, **more: str) -> dict[str, str]:
    return {"file": path.name, "layer": layer, **more}


def _has_shapes(layer: IncomingLayer) -> bool:
    return any(row.shape is not None and not row.shape.is_empty for row in layer.rows)


def _right_letters(layer: IncomingLayer, path: Path) -> tuple[IncomingLayer, tuple[Text, ...]]:
    """Return a layer with letters put right that are UTF-8 and were read as Latin: a Shapefile may not say it."""
    if path.suffix.lower() not in (".shp", ".zip", ".dbf"):
        return layer, ()
    told = [value for row in layer.rows for value in (row.name, *row.columns.values()) if isinstance(value, str)]
    strange = [value for value in told if not value.isascii()]
    if not strange or any(_put_right(value) is None for value in strange):
        return layer, ()
    rows = tuple(
        Incoming(_mended(row.name), row.shape, {name: _mended(value) for name, value in row.columns.items()})
        for row in layer.rows
    )
    return replace(layer, rows=rows), (Text("Letters of {file} were put right: it is written as UTF-8.",
                                            {"file": path.name}),)  # fmt: skip


def _put_right(value: str) -> str | None:
    for letters in ("latin-1", "cp1252"):
        try:
            return value.encode(letters).decode("utf-8")
        except UnicodeError:
            continue
    return None


def _mended(value: Any) -> Any:
    return _put_right(value) or value if isinstance(value, str) and not value.isascii() else value
