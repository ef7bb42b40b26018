"""Rows of a file as energizers and net kinds, known by their names; and a list of nets."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from pigmap.document.edits import ListedNet, ListTaken, matched, take_in_nets
from pigmap.document.edits.nets import even_bays, usual_posts
from pigmap.errors import RecordError
from pigmap.records import Energizer, Farm, NetKind, PowerSource, Record, Soil
from pigmap.session.net_list import NetListFile, taken_words
from pigmap.session.net_list_reading import read_net_list
from pigmap.session.taking_in.result import Outcome, TakenIn, TakenRow
from pigmap.session.taking_in.rows import CalledRows, Row, days_of, pointed_at
from pigmap.session.taking_in.values import known, number, one_of, told, whole
from pigmap.text import Text

SOURCES: Mapping[str, PowerSource] = {"grid": PowerSource.MAINS, "solar panel": PowerSource.SOLAR}
"""Other words for what an energizer runs on. Own choice."""
_NUMBERS = {
    "output_j": "the output in J",
    "open_kv": "the open voltage in kV",
    "kv_500": "the voltage on 500 Ω in kV",
    "rod_m": "the length of an earth stake in m",
    "rod_mm": "the thickness of an earth stake in mm",
    "rods_apart_m": "the distance of the earth stakes in m",
}
_LEAD = {"lead_m": "the length of the lead-out in m", "lead_ohm_per_km": "the resistance of the lead-out in Ω/km"}
LONGEST_M = 500.0
"""No net is longer [m]. Own choice."""


class EnergizerRows(CalledRows[Energizer]):
    """Energizers, each at a place or with a group."""

    record = Energizer

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        self._days = days_of(self, ("swap_on",))
        return super().taken(kept)

    def read(self, row: Row) -> dict[str, Any]:
        """Return what the columns tell."""
        found: dict[str, Any] = {"name": self.name_of(row)}
        if row.words("source"):
            found["source"] = one_of(row.given["source"], PowerSource, "what it runs on", SOURCES)
        if "rods" in row.given:
            found["rods"] = whole(row.given["rods"], "the number of earth stakes")
        if "soil" in row.given:
            found["soil"] = self._soil(row)
        if "swap_on" in row.given:
            found["swap_on"] = self._days.day(row.given["swap_on"], "the day of a new battery")
        if "note" in row.given:
            found["note"] = row.words("note")
        found |= {what: number(row.given[what], name) for what, name in _NUMBERS.items() if what in row.given}
        found |= {what: number(row.given[what], name) or 0.0 for what, name in _LEAD.items() if row.words(what)}
        return found | pointed_at(row, "group", self.named.group) | pointed_at(row, "place", self.named.place)

    def _soil(self, row: Row) -> Soil | None:
        soil = known(row.given["soil"], Soil, {"sand": Soil.SAND, "gravel": Soil.GRAVEL})
        if soil is None and row.words("soil"):
            words = "The soil, '{told}', is not known here, and is left out."
            row.said.append(Text(words, {"told": told(row.given["soil"])}))
        return soil


class NetKindRows(CalledRows[NetKind]):
    """Kinds of nets, by their bays, or by their length and posts."""

    record = NetKind

    def read(self, row: Row) -> dict[str, Any]:
        """Return what the columns tell."""
        found: dict[str, Any] = {"name": self.name_of(row)}
        bays = self._bays(row)
        if bays:
            found["bays_mm"] = bays
        if "tape" in row.given:
            found["tape"] = row.words("tape")
        height = whole(row.given.get("height_mm"), "the height in mm")
        if height is not None:
            found["height_mm"] = height
        if "ohm_per_km" in row.given:
            found["ohm_per_km"] = number(row.given["ohm_per_km"], "the resistance in Ω/km")
        if "leak_kohm" in row.given:
            found["leak"] = number(row.given["leak_kohm"], "the leak in kΩ")
        if "price" in row.given:
            found["price"] = number(row.given["price"], "the price")
        return found

    def _bays(self, row: Row) -> tuple[int, ...]:
        """Return the bays, as they are told or as a net of that length and so many posts has them."""
        if row.words("bays_mm"):
            parts = re.split(r"[\s,;]+", row.words("bays_mm"))
            if not all(part.isdecimal() for part in parts):
                raise RecordError(
                    "the bays, '{told}', are no list of lengths.",
                    remedy="Give the length of each bay in mm, parted by spaces.",
                    told=told(row.given["bays_mm"]),
                )
            return tuple(int(part) for part in parts)
        length = number(row.given.get("length_m"), "the length in m")
        if length is None:
            return ()
        if not 0.0 < length <= LONGEST_M:
            raise RecordError(
                "a net cannot be {length} m long.",
                remedy="Give its length in metres, such as 50.",
                length=f"{length:g}",
            )
        posts = whole(row.given.get("posts"), "the number of posts")
        return even_bays(round(length * 1000), posts if posts is not None else usual_posts(length))

    def known(self, row: Row, told: Mapping[str, Any]) -> Record | None:
        """Return the kind that is there already; one of the same length keeps its own bays."""
        found = super().known(row, told)
        if isinstance(found, NetKind) and not row.words("bays_mm") and not row.words("posts"):
            bays = told.get("bays_mm", ())
            if sum(bays) == found.length_mm and isinstance(told, dict):
                told.pop("bays_mm", None)
        return found

    def make(self, row: Row, told: dict[str, Any]) -> NetKind:
        """Return a new kind."""
        if "bays_mm" not in told:
            raise RecordError("its length is not told.", remedy="Give its length in metres, such as 50.")
        return NetKind(**told)


def nets_out_of(path: Path, farm: Farm) -> TakenIn:
    """Return what becomes of a list of nets, one net in each row.

    Raises
    ------
    PigmapError
        If it is none.
    """
    read = read_net_list(path)
    taken = matched(farm, read.listed)
    refused = {int(str(each.values["line"])): each for each in (*read.left_out, *taken.left_out)}
    rows = [TakenRow(line - 1, "", "refused", (_without_line(words),)) for line, words in refused.items()]
    rows += [_row(each, taken) for each in read.listed if each.line not in refused]
    return TakenIn(
        kind="nets",
        file=path.name,
        layer="",
        rows=tuple(sorted(rows, key=lambda row: row.row)),
        notes=taken_words(NetListFile(read.name, (), (), read.notes), replace(taken, left_out=()))[1:],
        ready=take_in_nets(read.listed, path.name),
    )


def _row(each: ListedNet, taken: ListTaken) -> TakenRow:
    length = f"{each.length_m:g} m" if each.length_m is not None else ""
    result: Outcome = "changed" if each.line in taken.changed_lines else "there already"
    if each.line in taken.new_lines:
        result = "taken"
    return TakenRow(each.line - 1, " ".join(filter(None, (each.kind or length, each.number))), result)


def _without_line(words: Text) -> Text:
    """Return why a line is left out, without its number, which stands beside it."""
    told = {name: value for name, value in words.values.items() if name != "line"}
    return Text(words.id.removeprefix("Line {line}: "), told)
