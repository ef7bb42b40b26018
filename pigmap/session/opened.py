"""What those who work for an open farm need to know of its session."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from pigmap.records import Farm


class Opened(Protocol):
    """An open farm."""

    @property
    def farm(self) -> Farm:
        """The farm as it is now."""
        ...

    @property
    def path(self) -> Path:
        """Where its file is."""
        ...

    @property
    def post(self) -> Callable[[Callable[[], None]], None] | None:
        """Brings a function to the thread on which the farm is shown; None where everything works in line."""
        ...
