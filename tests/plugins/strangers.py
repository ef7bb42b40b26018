"""Entry points as another distribution would declare them."""

from __future__ import annotations

from importlib.metadata import EntryPoint, PathDistribution
from pathlib import Path


class FakeDistribution(PathDistribution):
    """A distribution with nothing but a name."""

    def __init__(self, name: str) -> None:
        super().__init__(Path(__file__).parent)
        self._fake_name = name

    @property
    def name(self) -> str:
        """The name that its metadata would give."""
        return self._fake_name


def entry(kind: str, name: str, target: str, shipper: str = "stranger") -> EntryPoint:
    """Return an entry point that a distribution of that name ships."""
    made = EntryPoint(name, target, f"pigmap.{kind}")
    shipped: EntryPoint = made._for(FakeDistribution(shipper))  # type: ignore[attr-defined]
    return shipped


def stranger(kind: str, name: str, target: str) -> EntryPoint:
    """Return an entry point of somebody else's distribution."""
    return entry(kind, name, target)
