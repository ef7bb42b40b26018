"""How rows, tables and columns of a farm file are called in a message."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from pigmap.records import Record
from pigmap.text import Quantity, Text, Value

_NAMED = {
    "fields": "field {name}",
    "keep_outs": "keep-out {name}",
    "ways": "way {name}",
    "places": "place {name}",
    "paddocks": "paddock {name}",
    "groups": "group {name}",
    "net_kinds": "net kind {name}",
    "energizers": "energizer {name}",
    "images": "image {name}",
    "settings": "setting {name}",
    "terrains": "terrain image {name}",
    "flow_lines": "flow line {name}",
}
_NAMELESS = {
    "fields": "a field",
    "purposes": "the purpose of a field",
    "keep_outs": "a keep-out",
    "ways": "a way",
    "places": "a place",
    "paddocks": "a paddock",
    "groups": "a group",
    "group_events": "an event of a group",
    "stays": "a stay",
    "net_kinds": "a net kind",
    "nets": "a net",
    "net_uses": "the standing of a net",
    "checks": "a daily check",
    "images": "an image",
    "weather_days": "a day of weather",
    "settings": "a setting",
    "ground_jobs": "what was done to ground",
    "energizers": "an energizer",
    "energizer_readings": "a reading of an energizer",
    "net_repairs": "a repair of a net",
    "treatments": "a line of the medicine book",
    "escapes": "an escape",
    "litters": "a litter",
    "slaughter_bookings": "a slaughter booking",
    "register_entries": "a line of the register",
    "own_days": "how long a paddock lasts",
    "terrains": "a terrain image",
    "moves": "what was told of a move",
    "photos": "a photo",
    "gear_places": "where gear stood",
    "flow_lines": "a flow line",
}
_TABLES = {"keep_outs": "keep-outs", "checks": "daily checks", "net_uses": "standing nets"}


def called(row: Record) -> Text:
    """Return how a row is called: by its kind, and by its name if it has one.

    Examples
    --------
    >>> from pigmap.records import Group, WeatherDay
    >>> str(called(Group(name="Sows")))
    'group Sows'
    """
    name = getattr(row, "name", "") or getattr(row, "key", "")
    return Text(_NAMED[row.TABLE], {"name": name}) if name else Text(_NAMELESS[row.TABLE])


def table_word(table: str) -> str:
    """Return how a table is called.

    Examples
    --------
    >>> table_word("weather_days"), table_word("keep_outs")
    ('weather days', 'keep-outs')
    """
    return _TABLES.get(table, table.replace("_", " "))


def column_word(column: str) -> str:
    """Return how a column is called.

    Examples
    --------
    >>> column_word("geom"), column_word("mean_kg"), column_word("field_uid")
    ('shape', 'mean kg', 'field')
    """
    return "shape" if column == "geom" else column.removesuffix("_uid").replace("_", " ")


def value_words(value: object) -> Value:
    """Return a value of a record as a message shows it; shapes by their size and place."""
    match value:
        case BaseGeometry():
            return _shape_words(value)
        case None | "" | ():
            return Text("empty")
        case True | False:
            return Text("yes") if value else Text("no")
        case float():
            return f"{value:g}"
        case tuple():
            return ", ".join(map(str, value))
    return str(value)


def _shape_words(shape: BaseGeometry) -> Text:
    place = shape.representative_point()
    spot: dict[str, Value] = {"x": f"{place.x:.1f}", "y": f"{place.y:.1f}"}
    if shape.area > 0:
        return Text("an outline of {area} at {x}, {y}", {"area": Quantity(shape.area, "m²", 1), **spot})
    if shape.length > 0:
        return Text("a line of {length} at {x}, {y}", {"length": Quantity(shape.length, "m", 1), **spot})
    return Text("a point at {x}, {y}", spot)
