"""Rows of a file as ways: lines on the ground, such as a path, a hedge, an overhead line or a standing fence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import Any

from pigmap.errors import RecordError
from pigmap.records import Way, WayKind
from pigmap.session.taking_in.rows import Row, Rows, pointed_at, same_shape
from pigmap.session.taking_in.shapes import lines_of
from pigmap.session.taking_in.values import E, known, number, one_of, truth, words
from pigmap.text import Text

WAYS: Mapping[str, WayKind] = {
    "footpath": WayKind.PATH,
    "bridleway": WayKind.PATH,
    "lane": WayKind.TRACK,
    "farm track": WayKind.TRACK,
    "street": WayKind.ROAD,
    "hedgerow": WayKind.HEDGE,
    "stream": WayKind.WATERCOURSE,
    "brook": WayKind.WATERCOURSE,
    "river": WayKind.WATERCOURSE,
    "power line": WayKind.OVERHEAD_LINE,
    "line": WayKind.OVERHEAD_LINE,
    "fence": WayKind.PERMANENT_FENCE,
    "drain": WayKind.DITCH,
}
"""Other words for kinds of ways. Own choice."""
ALL_NAMED = (".kml", ".gpx")
"""Files in which each shape has a name."""
OF_PHONES = ("tracks", "routes", "waypoints")
"""Names of the layers of every file of a phone, which tell nothing."""
_NUMBERS = {
    "voltage_kv": "the voltage in kV",
    "clearance_m": "the clearance in m",
    "height_m": "the height in m",
    "minutes_to_clear": "the minutes to clear",
}
_TRUTHS = {"electric": "whether it is electric", "communication": "whether it carries telephone or data only"}


class WayRows(Rows[Way]):
    """Lines, each a way; a line in parts is as many."""

    record = Way
    shape = "line"

    def called(self, row: Row) -> str:
        """Return its name, else its kind."""
        return row.words("name") or row.words("kind") or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the first line and what the columns tell."""
        called = self.called(row)
        kind = kind_told(self, row, WayKind, WAYS)
        self._lines = lines_of(row, called, edges=kind is WayKind.PERMANENT_FENCE)
        found: dict[str, Any] = {"kind": kind, "line": self._lines[0]}
        found |= {what: number(row.given[what], name) for what, name in _NUMBERS.items() if what in row.given}
        found |= {what: bool(truth(row.given[what], name)) for what, name in _TRUTHS.items() if what in row.given}
        found |= name_and_note(self, row, kind)
        found |= pointed_at(row, "energizer", self.named.energizer)
        return found

    def more(self, row: Row, told: dict[str, Any]) -> Sequence[dict[str, Any]]:
        """Return the further lines."""
        return [{**told, "line": line} for line in self._lines[1:]]

    def alike(self, one: Way, other: Way) -> bool:
        """Whether two ways have one kind, name and line."""
        return (one.kind, one.name) == (other.kind, other.name) and same_shape(one.line, other.line)


def name_and_note(rows: Rows[Any], row: Row, kind: str) -> dict[str, Any]:
    """Return the name and note of a row; files in which all have a name call by its kind what has none."""
    found: dict[str, Any] = {}
    name = row.words("name")
    if name and not (name == kind and rows.file.lower().endswith(ALL_NAMED)):
        found["name"] = name
    if "note" in row.given:
        found["note"] = row.words("note")
    return found


def kind_told(rows: Rows[Any], row: Row, kinds: type[E], usual: Mapping[str, E]) -> E:
    """Return what kind of thing a row is: its column tells it, else its own name, that of its layer or of the file.

    Raises
    ------
    RecordError
        If it is told and not known, or told nowhere.
    """
    if row.words("kind"):
        return one_of(row.given["kind"], kinds, "the kind", usual)
    layer = rows.placed.layer.name
    told = (row.incoming.name, row.words("name"), "" if layer in OF_PHONES else layer, PurePath(rows.file).stem)
    for said in told:
        found = _in_words(said, kinds, usual)
        if found is not None:
            row.said.append(Text("It is taken as: {kind}.", {"kind": Text(str(found))}))
            return found
    raise RecordError(
        "nothing tells what kind of thing it is.",
        remedy="Give a column 'kind', or put the word into its name or that of the file: {known}.",
        known=", ".join(kinds),
    )


def _in_words(said: str, kinds: type[E], usual: Mapping[str, E]) -> E | None:
    """Return the kind whose word stands last in a name: a barn tap is a tap. Of two that end there, the longer."""
    spaced = " ".join("".join(letter if letter.isalpha() else " " for letter in words(said)).split()).casefold()
    padded = f" {spaced} "
    found: tuple[int, int, str] | None = None
    for word in (*(str(kind) for kind in kinds), *usual):
        for ending in ("", "s", "es"):
            at = padded.rfind(f" {word}{ending} ")
            if at >= 0 and (found is None or (at + len(word) + len(ending), len(word)) > found[:2]):
                found = at + len(word) + len(ending), len(word), word
    return known(found[2], kinds, usual) if found is not None else None
