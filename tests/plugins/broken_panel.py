"""A stranger's panel that cannot be made."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, NoReturn


def _make(*_: Any) -> NoReturn:
    raise ZeroDivisionError("no ground")


panel = SimpleNamespace(name="broken", place="aside", verb="", api=1, make=_make)
