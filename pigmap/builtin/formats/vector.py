"""The format ``vector``: outlines from GeoPackage, Shapefile, GeoJSON, KML, GPX and the like, also zipped."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.formats.gpx_columns import GUESSED, columns_in
from pigmap.builtin.formats.vector_files import SUFFIXES, inside, need_outline_file
from pigmap.builtin.formats.vector_names import names_of
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError
from pigmap.geometry.native import own_data

_GPX_POINTS = ("track_points", "route_points", "waypoints")
"""Layers of a GPX file that repeat the points of its lines, or hold single points."""


_AS_WORDS = {"datetime_as_string": True}
"""Times are read as they are written: one that is none, such as month 13, would else keep out all rows."""


class _Layer(NamedTuple):
    """One layer of one data set inside a file."""

    data_set: str
    layer: str
    shaped: bool = True
    """Whether its rows may have shapes."""


def _shaped(layers: list[_Layer]) -> list[_Layer]:
    return [layer for layer in layers if layer.shaped]


class VectorFormat:
    """Reads outlines of the usual vector formats through the vector library."""

    api = 1
    name = "vector"
    suffixes = SUFFIXES

    def layers(self, path: Path) -> tuple[str, ...]:
        """Return the names of the layers with shapes, in the order of the file; of one without, those of its tables."""
        found = _layers(path)
        return tuple(layer.layer for layer in _shaped(found) or found)

    def read(self, path: Path, layer: str = "") -> IncomingLayer:
        """Read one layer; the only one, or the first with areas in it, if none is named.

        Raises
        ------
        OutlineError
            If the file is missing, unreadable, or has no such layer; if nothing in it has a shape.
        """
        found = _layers(path)
        if layer and found:
            return _read(path, _named(path, found, layer))
        found = _shaped(found)
        if not found:
            raise OutlineError(
                "{file} has a table but no shapes in it.",
                remedy="Give the file that holds the outlines.",
                file=path.name,
            )
        return _first_with_ground(path, found)


def _layers(path: Path) -> list[_Layer]:
    need_outline_file(path)
    own_data()
    import pyogrio
    from pyogrio.errors import DataSourceError

    found: list[_Layer] = []
    for data_set in inside(path):
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # of things that need no word here, such as measures along lines
                listed = pyogrio.list_layers(data_set)
        except (DataSourceError, UnicodeDecodeError) as why:
            raise OutlineError(
                "{file} is not a file of outlines that can be read here.",
                remedy="Export it as GeoPackage, GeoJSON or Shapefile, or fetch it again if it was one.",
                file=path.name,
            ) from why
        found += [_Layer(data_set, str(name), shapes is not None) for name, shapes in listed]
    return sorted(found, key=lambda layer: layer.layer in _GPX_POINTS) if path.suffix.lower() == ".gpx" else found


def _named(path: Path, found: list[_Layer], name: str) -> _Layer:
    for same in (str.__eq__, lambda one, other: one.casefold() == other.casefold()):
        for layer in found:
            if same(layer.layer, name):
                return layer
    raise OutlineError(
        "{file} has no layer {layer}.",
        remedy="Its layers are: {layers}.",
        file=path.name,
        layer=name,
        layers=", ".join(layer.layer for layer in _shaped(found) or found),
    )


def _first_with_ground(path: Path, found: list[_Layer]) -> IncomingLayer:
    """Return the first layer with areas; else with lines, which may close; else with anything."""
    best: IncomingLayer | None = None
    best_dimension = -2
    for layer in found:
        read = _read(path, layer)
        dimension = max(
            (int(shapely.get_dimensions(row.shape)) for row in read.rows if row.shape is not None), default=-2
        )
        if dimension > best_dimension:
            best, best_dimension = read, dimension
        if dimension == 2:
            break
    if best is None:
        raise OutlineError(
            "{file} has no row with a shape; its layers are: {layers}.",
            remedy="Draw the outlines and save them, or give the file that holds them.",
            file=path.name,
            layers=", ".join(layer.layer for layer in found),
        )
    return best


def _read(path: Path, layer: _Layer) -> IncomingLayer:
    from pyogrio.errors import DataLayerError, DataSourceError

    try:
        told, shapes, columns = _raw(layer)
    except (DataSourceError, DataLayerError) as why:
        raise OutlineError(
            "The layer {layer} of {file} cannot be read to its end.",
            remedy="Fetch or export the file again.",
            layer=layer.layer,
            file=path.name,
        ) from why
    except ValueError as why:  # of Python's own days
        raise OutlineError(
            "The layer {layer} of {file} holds a day that is none: {why}.",
            remedy="Put it right in the program that the file comes from.",
            layer=layer.layer,
            file=path.name,
            why=str(why),
        ) from why
    names = names_of(list(columns), [list(values) for values in columns.values()], len(shapes))
    told_rows = [{column: _plain(values[row]) for column, values in columns.items()} for row in range(len(shapes))]
    _put_right(told_rows, columns_in(path, layer.layer))
    rows = tuple(map(Incoming, names, shapes, told_rows))
    return IncomingLayer(layer.layer, str(told.get("crs") or ""), rows)


def _put_right(rows: list[dict[str, Any]], word_for_word: list[dict[str, str]] | None) -> None:
    """Put columns as they were written in the place of what the library guessed of them."""
    if word_for_word is None or len(word_for_word) != len(rows):
        return
    names = dict.fromkeys(name for each in word_for_word for name in each)
    for row, told in zip(rows, word_for_word, strict=True):
        for guessed in [name for name in row if name.startswith(GUESSED)]:
            del row[guessed]
        row.update({name: told.get(name) for name in names})


def _raw(layer: _Layer) -> tuple[dict[str, Any], list[BaseGeometry | None], dict[str, NDArray[Any]]]:
    """Return what the layer says of itself, its shapes and its columns."""
    import pyogrio.raw

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            told, _, packed, values = pyogrio.raw.read(layer.data_set, layer=layer.layer, **_AS_WORDS)
        except UnicodeDecodeError:  # a table that does not say in which letters it is written
            told, _, packed, values = pyogrio.raw.read(
                layer.data_set, layer=layer.layer, encoding="ISO-8859-1", **_AS_WORDS
            )
        count = len(values[0]) if len(values) else 0
        shapes = [None] * count if packed is None else list(shapely.from_wkb(packed, on_invalid="fix"))
    columns = dict(zip(map(str, told["fields"]), values, strict=True))
    return told, shapes, columns


def _plain(value: Any) -> Any:
    """Return a value as Python's own kind; None for one that is not there."""
    if isinstance(value, np.datetime64):
        return None if np.isnat(value) else str(value)
    if isinstance(value, np.generic):
        value = value.item()
    return None if isinstance(value, float) and value != value else value  # only not-a-number differs from itself


format = VectorFormat()  # the name that the entry point is declared with
