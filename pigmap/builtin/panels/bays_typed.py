"""Bays of a net as they are typed and shown: 14 x 3.57, or 13 x 3.57 + 3.5."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from pigmap.document.edits import even_bays, usual_posts
from pigmap.errors import EditError
from pigmap.text import Quantity, Text
from pigmap.units import METRES_PER_FOOT, System

MM_PER = {"metric": 1000.0, "us": METRES_PER_FOOT * 1000.0}
UNIT = {"metric": "m", "us": "ft"}
MOST_BAYS = 200
"""More posts than any net has. Own choice."""
_PART = re.compile(r"(?:(\d{1,4})\s*[x\u00d7*]\s*)?(\d{1,6}(?:[.,]\d{0,4})?)\s*(?:m|ft)?", re.IGNORECASE)


class _Part(NamedTuple):
    """Some bays of one length, and how much of it may be the rounding of what was typed."""

    bays: int
    length: float
    digits: int


def bays_words(bays_mm: Sequence[int], system: System = "metric") -> str:
    """Return bays as they are typed, to the millimetre.

    Examples
    --------
    >>> bays_words((3571,) * 13 + (3577,))
    '13 x 3.571 + 3.577'
    """
    parts = [(len([*same]), bay) for bay, same in groupby(bays_mm)]
    said = [(count, _number(bay / MM_PER[system])) for count, bay in parts]
    return " + ".join(f"{count} x {length}" if count > 1 else length for count, length in said)


def bays_typed(typed: str, length_m: float, system: System = "metric") -> tuple[int, ...]:
    """Return the bays that were typed [mm], from the first post to the last; they add up to the length of the net.

    Bays are mostly told to the centimetre. What is missing then, or too much, is shared out over them, as far as it
    is no more than the rounding of what was typed.

    Parameters
    ----------
    typed
        Such as 14 x 3.57, or 13 x 3.57 + 3.5; with nothing typed the bays are those of `usual_posts`.
    length_m
        Length of the net from the first post to the last [m].
    system
        In what the bays are typed: metres or feet.

    Raises
    ------
    EditError
        If the net has no length, if that are no bays, or if they add up to something else.
    """
    per, total = MM_PER[system], round(length_m * 1000)
    if total < 1:
        raise EditError(
            "The net is {length} long.",
            remedy="Give its length from the first post to the last, such as {example}.",
            length=Quantity(length_m, "m"),
            example=Quantity(50, "m"),
        )
    if not typed.strip():
        return even_bays(total, usual_posts(length_m))
    parts = _parts(typed, system)
    exact = [each for each in parts for _ in range(each.bays)]
    found = sum(each.length for each in exact) * per
    off = total - found
    play = [0.5 * 10.0**-each.digits * per for each in exact]
    if abs(off) > sum(play) + 0.5:
        raise _other_length(parts, found, total, system)
    share = off / sum(play)
    bays = [round(each.length * per + room * share) for each, room in zip(exact, play, strict=True)]
    bays[-1] += total - sum(bays)
    if min(bays) < 1:
        raise _no_bays(typed, system)
    return tuple(bays)


def _parts(typed: str, system: System) -> list[_Part]:
    parts = []
    for each in typed.split("+"):
        found = _PART.fullmatch(each.strip())
        if found is None:
            raise _no_bays(typed, system)
        length = found[2].replace(",", ".")
        digits = len(length.partition(".")[2])
        parts.append(_Part(int(found[1] or 1), float(length), digits))
    if not all(each.bays and each.length for each in parts) or sum(each.bays for each in parts) > MOST_BAYS:
        raise _no_bays(typed, system)
    return parts


def _no_bays(typed: str, system: System) -> EditError:
    return EditError(
        "'{typed}' does not say how far it is from post to post.",
        remedy="Give how many bays and how long each is, such as {one}, or {other} where the last is shorter.",
        typed=typed.strip(),
        one="14 x 3.57" if system == "metric" else "16 x 10.25",
        other="13 x 3.57 + 3.5" if system == "metric" else "15 x 10.25 + 9",
    )


def _other_length(parts: Sequence[_Part], found: float, total: int, system: System) -> EditError:
    per, unit = MM_PER[system], UNIT[system]
    values = {
        "sum": f"{_number(found / per)} {unit}",
        "off": f"{_number(abs(total - found) / per)} {unit}",
        "length": f"{_number(total / per)} {unit}",
        "nearest": _nearest(parts, total / per),
    }
    words = "The bays add up to {sum}: {off} less than the {length} of the net."
    if found > total:
        words = "The bays add up to {sum}: {off} more than the {length} of the net."
    remedy = Text("Give {nearest}, or {sum} as the length of the net.", dict(values))
    return EditError(words, remedy=remedy, **values)


def _nearest(parts: Sequence[_Part], length: float) -> str:
    """Return bays that add up to a length: another last one where that stays about as long, else all alike."""
    rest = length - sum(each.bays * each.length for each in parts[:-1])
    last, longest = parts[-1], max(each.length for each in parts)
    bay = rest / last.bays
    if len(parts) > 1 and last.length / 2 < bay < 1.2 * longest:
        return " + ".join(_part_words(each.bays, each.length) for each in (*parts[:-1], _Part(last.bays, bay, 0)))
    bays = max(1, round(length / longest))
    return _part_words(bays, length / bays)


def _part_words(bays: int, length: float) -> str:
    return f"{bays} x {_number(length)}" if bays > 1 else _number(length)


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
