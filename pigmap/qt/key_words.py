"""What each key does, in words: one table for the manual, held against the keys themselves by a test."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.text import Text


class KeyWords(NamedTuple):
    """Keys that do one thing."""

    keys: tuple[str, ...]
    """As they are printed on the keyboard, those held down first: ``Ctrl Z``."""
    does: Text


EVERYWHERE = (
    KeyWords(("F1",), Text("this manual, at the page that fits")),
    KeyWords(("F11",), Text("map and message alone, or all again")),
    KeyWords(("Esc",), Text("end what runs; then pick nothing")),
    KeyWords(("Left", "Right"), Text("the day before, the day after")),
    KeyWords(("Shift Left", "Shift Right"), Text("a week back, a week on")),
    KeyWords(("Home",), Text("back to today")),
    KeyWords(("Y",), Text("play the past two years, or stop")),
    KeyWords(("Up", "Down"), Text("the group before, the group after")),
    KeyWords(("Ctrl Z",), Text("undo")),
    KeyWords(("Ctrl Y", "Ctrl Shift Z"), Text("redo")),
    KeyWords(("Ctrl P", "S"), Text("print the field map; S is pressed twice")),
    KeyWords(("/",), Text("find a field, a paddock, a group, a place, a day")),
    KeyWords(("N",), Text("nets: how many, who has them, which are damaged")),
    KeyWords(("K",), Text("the books that are kept: medicine, register, litters, slaughter, escapes")),
    KeyWords(("R",), Text("rain in the gauge, and hot days")),
    KeyWords(("F6", "Shift F6"), Text("to the next part of the window, to the part before")),
    KeyWords(("G",), Text("to the groups")),
    KeyWords(("B",), Text("to the bars of the season")),
)
"""Keys of the window."""

VERBS = (
    KeyWords(("D",), Text("draw a field, a keep-out, a line, a place or gear")),
    KeyWords(("P",), Text("place the next paddock")),
    KeyWords(("C",), Text("the daily check")),
    KeyWords(("M",), Text("measure")),
    KeyWords(("V",), Text("the moves of the day")),
    KeyWords(("W",), Text("show where a group stands")),
    KeyWords(("X",), Text("put a paddock where it really stands")),
    KeyWords(("H",), Text("tell what was before")),
    KeyWords(("I",), Text("pin a picture to trace over")),
)
"""Keys that take up a verb."""

GROUND = (
    KeyWords(("1", "2", "3", "4"), Text("rest, rooting, both, ready")),
    KeyWords(("5", "6", "7"), Text("stocking, nitrogen, since when no pigs were there")),
    KeyWords(("8", "9"), Text("wet, slope")),
    KeyWords(("0",), Text("the photo alone")),
)
"""Keys that colour the ground."""

PLACING = (
    KeyWords(("Q", "E"), Text("turn by 5 degrees, with Shift by 1")),
    KeyWords(("+", "-"), Text("a net longer or shorter, with Shift wider or narrower")),
    KeyWords(("Left", "Right", "Up", "Down"), Text("step it by a post, with Shift by a net")),
    KeyWords(("F",), Text("beside where the group stands, each time at its next side")),
    KeyWords(("R",), Text("as many in a row as fit from there, each time another way; with Shift strip after strip")),
    KeyWords(("A",), Text("on the outline of the old paddock under it, or of the one that is picked, again")),
    KeyWords(("K",), Text("corners set one by one from now on, or rectangles again")),
    KeyWords(("G",), Text("round a tree, a pond or what else is kept out, with free corners")),
    KeyWords(("N",), Text("the next kind of net")),
    KeyWords(("L",), Text("nets of more than one length on a side, + and - step the chosen kind; or of one again")),
    KeyWords(("O",), Text("place it all the same, with a reason")),
    KeyWords(("Y",), Text("what its figures rest on; again, or Esc, puts that away")),
    KeyWords(("T",), Text("type where it goes")),
    KeyWords(("Enter",), Text("set it")),
)
"""Keys while a paddock is placed."""

CORNERS = (
    KeyWords(("Enter",), Text("close the outline; the first corner in the middle of the map")),
    KeyWords(("Backspace",), Text("take the last corner back")),
    KeyWords(("T",), Text("type a corner; so does a figure")),
    KeyWords(("Esc",), Text("drop the corners")),
)
"""Keys while corners are set."""

DRAWN = (
    KeyWords(("E", "Q"), Text("the next corner of what is picked, the one before")),
    KeyWords(("Left", "Right", "Up", "Down"), Text("step that corner by a metre, with Shift by a tenth")),
    KeyWords(("T",), Text("type how far it goes; so does a figure")),
    KeyWords(("Enter",), Text("set it at once; else it is set when the keys rest")),
    KeyWords(("Esc",), Text("put it back; the arrows move the map again")),
)
"""Keys while something drawn is picked and Draw is taken up."""

TABLES = (
    (Text("Everywhere"), EVERYWHERE),
    (Text("Verbs"), VERBS),
    (Text("Colours of the ground"), GROUND),
    (Text("While a paddock is placed"), PLACING),
    (Text("While corners are set"), CORNERS),
    (Text("Corners of what was drawn"), DRAWN),
)
"""All of them, each table under its title."""
