"""The contract of a rule: what records and plans must keep."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Literal, Protocol, runtime_checkable

from pigmap.geometry.steep import SlopeCells
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.text import Text


@dataclass(frozen=True, slots=True)
class Breach:
    """One thing that does not keep a rule."""

    table: str
    uid: str
    words: Text
    remedy: Text
    weight: Literal["fact", "plan", "care"] = "plan"
    """A fact stands and is flagged; a plan can be changed; what only wants care is told and breaks nothing."""
    day: date | None = None
    also: tuple[str, ...] = ()
    """Uids of other rows of the table of which it is as true, though it is said once."""
    reason_helps: Literal["ground", "others", "never"] = "others"
    """Whether a stay may be planned all the same, with a reason: for the ground it lies on, or for what stands or is
    owned besides; never near an overhead line."""
    accepted: str = ""
    """The reason with which it was planned all the same; empty where none was given."""
    caution: str = ""
    """Which of the cautions about fences it is, ``W1`` to ``W15``; empty where it is none of them."""
    source: Text = Text("")
    """Where what it rests on stands in print; empty where it follows from the farm's own records."""

    def is_about(self, uid: str) -> bool:
        """Whether it is about a row."""
        return uid in (self.uid, *self.also)


class Rule(Protocol):
    """Looks at a farm and names every breach. ``api = 1``; pure, and without a display."""

    api: int
    name: str
    title: Text

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield every breach, earliest first."""
        ...


@runtime_checkable
class SlopeRule(Protocol):
    """A rule that looks at how steep ground is, too, where terrain images tell it."""

    def breaches_on_slopes(self, farm: Farm, today: date, slopes: Mapping[str, SlopeCells]) -> Iterable[Breach]:
        """Yield every breach, earliest first; asked in place of ``breaches`` where slopes are known."""
        ...


def asked(rule: Rule, farm: Farm, today: date, slopes: Mapping[str, SlopeCells]) -> Iterable[Breach]:
    """Return what a rule finds, with the slopes of fields by their uids where it asks for them."""
    if slopes and isinstance(rule, SlopeRule):
        return rule.breaches_on_slopes(farm, today, slopes)
    return rule.breaches(farm, today)
