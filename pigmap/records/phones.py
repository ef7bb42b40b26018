"""Whom to ring when pigs are out, as the farm's settings hold it."""

from __future__ import annotations

from pigmap.records.farm import Farm

PHONES = "phone numbers"
"""The setting: a list of lines, each with a name and a number."""


def phones_of(farm: Farm) -> tuple[str, ...]:
    """Return the lines that were typed; empty ones are left out."""
    told = farm.setting(PHONES, ())
    return tuple(str(each) for each in told if str(each).strip()) if isinstance(told, list | tuple) else ()
