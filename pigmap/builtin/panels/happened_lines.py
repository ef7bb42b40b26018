"""What can be told of a group, and what is asked for each: days, numbers, words, and lists to choose from."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Literal, NamedTuple

from pigmap.text import Text


class What(StrEnum):
    """What happened, or is to come."""

    TREATED = "treated"
    ESCAPED = "escaped"
    BOOKED = "booked"
    WENT = "went"
    SERVED = "served"
    FARROWED = "farrowed"
    WEANED = "weaned"
    BOUGHT = "bought"
    SOLD = "sold"
    DIED = "died"
    BORN = "born"
    LEFT = "left"
    LITTER = "litter"


class Line(NamedTuple):
    """One thing that is asked."""

    key: str
    label: Text
    sort: Literal["words", "day", "count", "kg", "kv", "choice"] = "words"
    example: Text = Text("")
    quiet: bool = False
    """Whether it is asked only under More."""


SAID: Mapping[What, Text] = MappingProxyType(
    {
        What.TREATED: Text("Treated"),
        What.ESCAPED: Text("Got out"),
        What.BOOKED: Text("Booked for slaughter"),
        What.WENT: Text("Went to slaughter"),
        What.BOUGHT: Text("Bought"),
        What.SOLD: Text("Sold"),
        What.DIED: Text("Died"),
        What.BORN: Text("Born"),
        What.LEFT: Text("Went to another group"),
        What.SERVED: Text("Served, or due"),
        What.FARROWED: Text("Farrowed"),
        What.WEANED: Text("Weaned"),
    }
)
"""What is offered, in order. Booked litters are put right as a whole, so that is not among them."""

_DAY = Line("day", Text("Day"), "day")
_HOW_MANY = Line("pigs", Text("How many pigs"), "count")
_EACH = Line("kg", Text("About how heavy, each"), "kg", Text("not weighed"))
_MARK = Line("mark", Text("Mark or tag"))
_NOTE = Line("note", Text("Note"), quiet=True)
_REGISTER = Line("register", Text("In the register"), "choice")
_SOW = Line("sow", Text("Sow: name, tag or mark"))

LINES: Mapping[What, tuple[Line, ...]] = MappingProxyType(
    {
        What.TREATED: (
            Line("product", Text("Medicine")),
            _DAY,
            Line("withdrawal", Text("Withdrawal, days, from the label"), "count", Text("as the label says")),
            Line("which", Text("Which pigs"), example=Text("all of them")),
            Line("last", Text("Last day it was given"), "day", Text("the same day"), quiet=True),
            Line("pigs", Text("How many pigs"), "count", Text("all of them"), quiet=True),
            Line("dose", Text("Dose"), quiet=True),
            Line("batch", Text("Batch number"), quiet=True),
            Line("by", Text("Given by"), quiet=True),
            _NOTE,
        ),
        What.ESCAPED: (
            _DAY,
            Line("out", Text("How many got out"), "count", Text("not counted")),
            Line("back", Text("How many are back"), "count", Text("not counted")),
            Line("why", Text("Why")),
            Line("spot", Text("Where they got out"), "choice"),
            Line("kv", Text("Voltage read then, kV"), "kv", Text("not read")),
            _NOTE,
        ),
        What.BOOKED: (
            _DAY,
            Line("pigs", Text("How many pigs"), "count", Text("not said yet")),
            Line("kg", Text("Heavy enough from, live"), "kg", Text("not said yet")),
            Line("place", Text("Where they are loaded"), "choice"),
            _NOTE,
        ),
        What.WENT: (
            Line("booking", Text("Booking"), "choice"),
            _DAY,
            Line("pigs", Text("How many went"), "count"),
            Line("kg", Text("Live weight, each"), "kg", Text("not weighed")),
            Line("dead_kg", Text("Dead weight, each"), "kg", Text("not known yet")),
            Line("where", Text("Where to"), quiet=True),
            Line("mark", Text("Mark or tag"), quiet=True),
        ),
        What.BOUGHT: (_DAY, _HOW_MANY, _EACH, Line("where", Text("From where")), _MARK, _REGISTER),
        What.SOLD: (_DAY, _HOW_MANY, _EACH, Line("where", Text("Where to")), _MARK, _REGISTER),
        What.DIED: (
            _DAY,
            _HOW_MANY,
            Line("note", Text("Of what")),
            Line("where", Text("Taken to"), quiet=True),
            _REGISTER._replace(quiet=True),
        ),
        What.BORN: (_DAY, _HOW_MANY),
        What.LEFT: (
            _DAY,
            _HOW_MANY,
            Line("to", Text("To which group"), "choice"),
            Line("name", Text("Name of a new group"), example=Text("where they begin one")),
        ),
        What.SERVED: (
            _SOW,
            Line("served", Text("Served on"), "day", Text("not known")),
            Line("due", Text("Due on"), "day", Text("114 days after")),
            _NOTE,
        ),
        What.FARROWED: (
            _SOW,
            _DAY,
            Line("born", Text("Piglets born alive"), "count", Text("not counted")),
            Line("counted", Text("The piglets count"), "choice"),
        ),
        What.WEANED: (
            _SOW,
            _DAY,
            Line("weaned", Text("Piglets weaned"), "count", Text("not counted")),
            Line("to", Text("They go to"), "choice"),
            Line("name", Text("Name of a new group"), example=Text("where they begin one")),
            Line("kg", Text("About how heavy, each"), "kg", Text("not weighed")),
        ),
        What.LITTER: (
            _SOW,
            Line("served", Text("Served on"), "day", Text("not known")),
            Line("due", Text("Due on"), "day", Text("114 days after")),
            Line("farrowed", Text("Farrowed on"), "day", Text("not yet")),
            Line("born", Text("Piglets born alive"), "count", Text("not counted")),
            Line("weaned_on", Text("Weaned on"), "day", Text("not yet")),
            Line("weaned", Text("Piglets weaned"), "count", Text("not counted")),
            _NOTE,
        ),
    }
)
