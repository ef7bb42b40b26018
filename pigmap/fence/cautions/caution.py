"""One thing about a fence that wants care, and the fence it is about."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal, NamedTuple

import shapely

from pigmap.records import Energizer
from pigmap.records.frozen import dataclass
from pigmap.text import Text, Value


class Level(StrEnum):
    """How much it matters."""

    STOP = "stop"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing that wants care. It is advice: that nothing is said does not mean that a rule is kept."""

    id: str
    """Which of the cautions it is: ``W1`` to ``W15``; shown to nobody but those who verify a file."""
    level: Level
    words: Text
    remedy: Text
    source: Text
    held: Literal["never", "reason", "care"] = "care"
    """Whether a plan is held by it whatever is said, held unless there is a reason, or not held."""


class LiveGround(NamedTuple):
    """Ground that a live fence stands round, or will stand round."""

    called: Value
    """What its paddock is called."""
    ground: shapely.Polygon
    """As it stands [grid m]."""
    energizer: Energizer | None = None
    """What feeds it; None where nothing tells."""
