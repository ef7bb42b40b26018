"""What was typed of a group, read line by line: days, counts, weights; what cannot be is said in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

import shapely

from pigmap.builtin.panels.card_field import typed_day
from pigmap.builtin.panels.group_typed import MOST_PIGS, kilograms_typed
from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.errors import EditError
from pigmap.text import Text
from pigmap.units import System


class Typed:
    """The lines of one form by their keys; raises an `EditError` where a line cannot be read."""

    def __init__(self, lines: Mapping[str, Any], units: System, today: date) -> None:
        self._lines = lines
        self.units = units
        self.today = today

    def words(self, key: str) -> str:
        """Return words as they were typed, without spaces around."""
        return str(self._lines.get(key) or "").strip()

    def chosen(self, key: str) -> str:
        """Return what is chosen from a list; empty where nothing is."""
        return str(self._lines.get(key) or "")

    def day(self, key: str) -> date | None:
        """Return a day; None where the line is empty."""
        return typed_day(self.words(key))

    def on(self) -> date:
        """Return the day it happened; today where the line is empty."""
        return self.day("day") or self.today

    def count(self, key: str, what: str, least: int = 0) -> int | None:
        """Return a count; None where the line is empty."""
        return whole_number(Text(what), self.words(key), least, MOST_PIGS, 12) if self.words(key) else None

    def pigs(self) -> int:
        """Return how many pigs, which has to be told."""
        return whole_number(Text("The number of pigs"), self.words("pigs"), 1, MOST_PIGS, 12)

    def kg(self, key: str = "kg") -> float | None:
        """Return what a pig weighs [kg]; None where the line is empty."""
        return kilograms_typed(self.words(key), self.units) if self.words(key) else None

    def point(self) -> shapely.Point | None:
        """Return the place on the ground; None where none was shown."""
        point = self._lines.get("point")
        return point if isinstance(point, shapely.Point) else None

    def kv(self, key: str) -> float | None:
        """Return a voltage [kV]; None where the line is empty."""
        typed = self.words(key).lower().removesuffix("kv")
        return number(Text("The voltage"), typed, "5.5") if typed.strip() else None

    def days(self, key: str) -> int | None:
        """Return the days of withdrawal from a label; None where the line is empty."""
        return whole_number(Text("The withdrawal in days"), self.words(key), 0, 3650, 28) if self.words(key) else None

    def named(self, key: str, what: Text, remedy: Text) -> str:
        """Return words that have to be told."""
        if not self.words(key):
            raise EditError(Text("{what} is not told.", {"what": what}), remedy=remedy)
        return self.words(key)
