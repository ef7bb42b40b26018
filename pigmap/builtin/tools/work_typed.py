"""Work on the ground as it is chosen and typed: days and nitrogen, and what cannot be, in words."""

from __future__ import annotations

import re
from datetime import date

from pigmap.builtin.tools.before_typed import no_day
from pigmap.document.edits import GroundWork
from pigmap.errors import EditError
from pigmap.records import GroundJobKind
from pigmap.records.frozen import dataclass
from pigmap.text import Text
from pigmap.units import KG_PER_POUND, M2_PER_ACRE, M2_PER_HECTARE, System

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
MOST_N_KG_HA = 1000.0
"""No manure brings more nitrogen at once [kg/ha]. Own choice."""


@dataclass(frozen=True, slots=True)
class WorkTyped:
    """What is chosen and typed."""

    kind: GroundJobKind
    day: str
    until: str = ""
    nitrogen: str = ""


def work_of(given: WorkTyped, system: System = "metric") -> GroundWork:
    """Return what was meant; nitrogen is typed in kg/ha, or in lb/ac by the farm's units.

    Raises
    ------
    EditError
        If a day is none, or the nitrogen cannot be.

    Examples
    --------
    >>> work_of(WorkTyped(GroundJobKind.MANURE, "2026-03-02", nitrogen="80")).n_kg_ha
    80.0
    """
    until = _day(given.until) if given.until.strip() else None
    laid = _nitrogen(given.nitrogen, system) if given.kind is GroundJobKind.MANURE else None
    return GroundWork(kind=given.kind, happened_on=_day(given.day), until_on=until, n_kg_ha=laid)


def _day(typed: str) -> date:
    words = typed.strip()
    try:
        if _DAY.fullmatch(words):
            return date.fromisoformat(words)
    except ValueError:
        pass
    raise no_day(words, "Give year, month and day, such as 2026-03-02.")


def _nitrogen(typed: str, system: System) -> float | None:
    words = typed.strip()
    if not words:
        return None
    laid = float(words.replace(",", ".")) if _NUMBER.fullmatch(words) else -1.0
    if system == "us":
        laid *= KG_PER_POUND / M2_PER_ACRE * M2_PER_HECTARE
    if not 0 <= laid <= MOST_N_KG_HA:
        raise EditError(
            "{typed} is no amount of nitrogen that manure can bring.",
            remedy="Give what it brought to a hectare or an acre, such as 80; or leave the line empty.",
            typed=Text("'{words}'", {"words": words}),
        )
    return laid
