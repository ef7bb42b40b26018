"""What is kept as text in the change log, read so that garbled text is known for a damaged file."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

from pigmap.text import Text, text_from_json


def label_of(saved: Any) -> Text:
    """Return the label of an edit.

    Raises
    ------
    json.JSONDecodeError
        If it is garbled; so do the others.
    """
    try:
        return text_from_json(saved)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise _garbled(saved) from error


def row_of(side: Any) -> dict[str, Any] | None:
    """Return one side of an entry of the log; None where there was no row."""
    if side is None:
        return None
    if not isinstance(side, str) or not isinstance(found := json.loads(side), dict):
        raise _garbled(side)
    return found


def moment_of(told: Any) -> datetime:
    """Return when an edit was made, with its time zone."""
    try:
        at = datetime.fromisoformat(told)
        at.astimezone()
    except (ValueError, TypeError, OverflowError, OSError) as error:
        raise _garbled(told) from error
    return at


def _garbled(told: Any) -> json.JSONDecodeError:
    return json.JSONDecodeError("garbled", str(told)[:40], 0)
