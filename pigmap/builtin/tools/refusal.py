"""Why an edit was not made, in words."""

from __future__ import annotations

from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.text import Text


def refusal(error: BaseException) -> Text:
    """Return what to say of an edit that was not made; a fault of the program is raised again."""
    if isinstance(error, PigmapError):
        return sentence(error)
    raise error
