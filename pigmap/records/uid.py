"""Names for rows that stay unique when copies of a farm meet again."""

from __future__ import annotations

import os
import time
import uuid


def new_uid() -> str:
    """Return a fresh UUID of version 7: ordered by the time it was made, random for the rest.

    References
    ----------
    RFC 9562 (IETF, 2024), section 5.7.
    """
    stamp = (time.time_ns() // 1_000_000) & ((1 << 48) - 1)
    value = stamp << 80 | int.from_bytes(os.urandom(10))
    value = value & ~(0xF << 76) | 7 << 76
    value = value & ~(0x3 << 62) | 2 << 62
    return str(uuid.UUID(int=value))
