"""Names of the sample's rows that come out the same each time it is made."""

from __future__ import annotations

import uuid

_SAMPLE = uuid.UUID("6f0a6d0e-5d3b-4a57-8a52-3c1f0f6f2a11")


def uid(*parts: object) -> str:
    """Return the uid of a row, always the same for the same words.

    References
    ----------
    RFC 9562 (IETF, 2024), section 5.5 (version 5, from a name).
    """
    return str(uuid.uuid5(_SAMPLE, "/".join(str(part) for part in parts)))
