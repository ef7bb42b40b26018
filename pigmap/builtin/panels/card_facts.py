"""What a card says: title, figures with what they rest on, cautions, and what can be done."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from pigmap.qt.why import Why


class Fact(NamedTuple):
    """One row: what, the figure, and what the figure rests on."""

    label: str
    figure: str
    rests_on: str = ""
    why: Why | None = None
    """Shown beneath the row when someone asks."""


class CardDeed(NamedTuple):
    """One button of a card."""

    name: str
    """``rename``, ``end use``, ``end group``, ``remove``, ``day less``, ``day more``, ``began``, ``left``,
    ``moved``, ``all well``, ``weigh``, ``nets``, ``purposes``, ``before``, ``here``."""
    words: str
    spoken: str = ""
    """What a screen reader says, where that is more."""


class CardFacts(NamedTuple):
    """A card, ready to be written."""

    title: str
    second: str = ""
    planned: bool = False
    """Whether the second line speaks of a plan, and is blue."""
    sign: tuple[int, str] | None = None
    """Colour index and letter of the group."""
    icon: str = ""
    facts: tuple[Fact, ...] = ()
    urgent: tuple[str, ...] = ()
    """Cautions that stand before the figures, since they cannot wait."""
    warnings: tuple[str, ...] = ()
    deeds: tuple[CardDeed, ...] = ()
    table: str = ""
    uid: str = ""
    """The row that the deeds are about."""
    ends_on: date | None = None
    """The first day on which it is out of use, where one is set."""
    stay_uid: str = ""
    """The stay that deeds on days are about."""
