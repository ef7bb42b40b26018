"""What was told of ground, in the words it was told in."""

from __future__ import annotations

from datetime import date
from typing import Protocol

from pigmap.records.ground_job import GroundJobKind
from pigmap.records.season import told_as
from pigmap.text import Quantity, Text, Value

HOW_HARD = (Text("hardly rooted"), Text("lightly"), Text("half rooted"), Text("hard"), Text("all of it rooted"))
"""How ground was left, by the rooting score of a daily check (0 to 4): lightly is a quarter, hard most of it."""


def when_words(day: date, within_days: int | None, *, south: bool) -> Text:
    """Return when something was, as people say it: 'about autumn 2024', 'about 2024', or the day.

    Examples
    --------
    >>> str(when_words(date(2024, 10, 16), 45, south=False))
    'about autumn 2024'
    >>> str(when_words(date(2024, 10, 16), None, south=False))
    'on 2024-10-16'
    """
    told = told_as(day, within_days, south=south)
    if told is None:
        return Text("about {day}" if within_days else "on {day}", {"day": day})
    if told.season is None:
        return Text("about {year}", {"year": str(told.year)})
    return Text("about {season} {year}", {"season": Text(told.season.value), "year": str(told.year)})


class Tells(Protocol):
    """What tells of what was on ground before the records begin: a ground job, or what becomes one."""

    @property
    def kind(self) -> GroundJobKind:
        """Used before, never used or unknown."""

    @property
    def happened_on(self) -> date | None:
        """When pigs were there."""

    @property
    def within_days(self) -> int | None:
        """How far off that may be [d]."""

    @property
    def rooting_score(self) -> int | None:
        """How the ground was left, 0 to 4."""


def told_words(job: Tells, *, south: bool) -> Text:
    """Return what was told: 'pigs about autumn 2024, hard', 'never used', 'not known'."""
    if job.kind is GroundJobKind.NEVER_USED:
        return Text("never used")
    if job.kind is not GroundJobKind.USED_BEFORE or job.happened_on is None:
        return Text("not known")
    when = when_words(job.happened_on, job.within_days, south=south)
    if job.rooting_score is None:
        return Text("pigs {when}", {"when": when})
    return Text("pigs {when}, {hard}", {"when": when, "hard": HOW_HARD[job.rooting_score]})


class Work(Protocol):
    """Work on the ground: a ground job, or what becomes one."""

    @property
    def kind(self) -> GroundJobKind:
        """Seeded, harrowed, hay, other stock or manure."""

    @property
    def happened_on(self) -> date | None:
        """The day, or the first of several."""

    @property
    def until_on(self) -> date | None:
        """Last day of several; after sowing, the last one without pigs."""

    @property
    def n_kg_ha(self) -> float | None:
        """Nitrogen that manure brought [kg/ha]."""


WORK = {
    GroundJobKind.SEEDED: Text("sown"),
    GroundJobKind.HARROWED: Text("harrowed"),
    GroundJobKind.HAY: Text("hay cut"),
    GroundJobKind.OTHER_STOCK: Text("other stock"),
    GroundJobKind.MANURE: Text("manure"),
}
"""What work is called."""


def work_words(job: Work) -> Text:
    """Return what was done: 'sown on 3 Sep, no pigs up to 26 Nov', 'manure on 2 Mar, 80 kg/ha of nitrogen'."""
    what = WORK.get(job.kind, Text(job.kind.value))
    if job.happened_on is None:
        return what
    done = Text("{what} on {day}", {"what": what, "day": job.happened_on})
    if job.until_on is not None:
        values: dict[str, Value] = {"done": done, "until": job.until_on}
        sown = job.kind is GroundJobKind.SEEDED
        done = Text("{done}, no pigs up to {until}", values) if sown else Text("{done}, up to {until}", values)
    if job.n_kg_ha is None or job.kind is not GroundJobKind.MANURE:
        return done
    return Text("{done}, {laid} of nitrogen", {"done": done, "laid": Quantity(job.n_kg_ha, "kg/ha")})
