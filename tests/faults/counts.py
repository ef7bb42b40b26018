"""What came of a fault that was tried many times."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field


@dataclass
class Counts:
    """How often a fault was tried, what went wrong, and what else was counted."""

    name: str
    wanted: int
    """So many of `unit` were asked for."""
    unit: str
    tried: int = 0
    bad: Counter[str] = field(default_factory=Counter)
    """Losses, by kind; the keys that are named at the start are shown even at 0."""
    told: dict[str, int] = field(default_factory=dict)
    """What else is worth telling."""
    seen: list[str] = field(default_factory=list)
    """The first losses, in words."""

    def lose(self, kind: str, words: str = "") -> None:
        """Count a loss."""
        self.bad[kind] += 1
        if words and len(self.seen) < 5:
            self.seen.append(f"{kind}: {words}")

    def count(self, kind: str, by: int = 1) -> None:
        """Count something else."""
        self.told[kind] = self.told.get(kind, 0) + by

    @property
    def holds(self) -> bool:
        """Whether as many were tried as were asked for, and nothing was lost."""
        return self.tried >= self.wanted and not any(self.bad.values())

    def line(self) -> str:
        """Return the row of the table."""
        bad = ", ".join(f"{kind} {count}" for kind, count in self.bad.items())
        told = ", ".join(f"{kind} {count}" for kind, count in self.told.items())
        return f"{self.name:10} {self.tried:>6} {self.unit:8} {bad:44} {'holds' if self.holds else 'SHORT':6} {told}"
