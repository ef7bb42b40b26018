"""The nets of a side as they are typed: how many of which length, and of the side across from it if those differ."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from pigmap.builtin.panels.nets_typed import SAME_M
from pigmap.errors import EditError
from pigmap.fence.choice import choose_nets
from pigmap.fence.fitted import Spare
from pigmap.qt.placing_choice import MOST_NETS
from pigmap.records import Farm, NetKind
from pigmap.records.side_nets import SideNets
from pigmap.text import Quantity, Text, Value
from pigmap.units import METRES_PER_FOOT, System

_BETWEEN = re.compile(r"\s*(?:\+|&|;|,\s|\band\b)\s*", re.IGNORECASE)
_NETS = re.compile(
    r"(\d{1,3})(?:\s*(?:[x\u00d7*]|nets of|net of|of|\s)\s*(\d{1,4}(?:[.,]\d{1,3})?)\s*(m|ft)?)?", re.IGNORECASE
)


class SideTyped(NamedTuple):
    """The nets of a side, and of the one across from it."""

    nets: SideNets
    across: SideNets


def side_typed(farm: Farm, typed: str, kind: NetKind, units: System) -> SideTyped:
    """Return the nets that were typed for a side: '2 of 50 m and 1 of 25 m', '3', '1 of 50 m / 2 of 25 m'.

    Parameters
    ----------
    farm
        Whose nets.
    typed
        What was typed; a bare number counts nets of the kind.
    kind
        The kind that is stepped.
    units
        In which a bare length is.

    Raises
    ------
    EditError
        If it does not say which nets, if there are none of a length, or if the two sides would not be of one length.
    """
    both = [_side(farm, part, kind, units) for part in typed.split("/")]
    if len(both) > 2:
        raise _unclear(typed, units)
    nets, across = both[0], both[-1]
    one, other = (_length_mm(farm, side) for side in (nets, across))
    if abs(one - other) > SAME_M * 1000:
        raise EditError(
            "One side would be {one}, the one across from it {other}: such sides do not close.",
            remedy="Make both as long: {nets} are {one}.",
            one=_metres(one),
            other=_metres(other),
            nets=_as_long(farm, one) or side_words(farm, nets),
        )
    return SideTyped(nets, across)


def _side(farm: Farm, typed: str, kind: NetKind, units: System) -> SideNets:
    counts: dict[str, int] = {}
    for part in _BETWEEN.split(typed.strip()):
        found = _NETS.fullmatch(part.strip())
        if found is None:
            raise _unclear(typed, units)
        uid = kind.uid if found[2] is None else _kind_of(farm, found[2], found[3], units).uid
        counts[uid] = counts.get(uid, 0) + int(found[1])
    total = sum(counts.values())
    if not 1 <= total <= MOST_NETS:
        raise EditError("A side has {count} nets.", remedy="Give it 1 to {most}.", count=total, most=MOST_NETS)
    return tuple((uid, nets) for uid, nets in counts.items() if nets)


def _unclear(typed: str, units: System) -> EditError:
    return EditError(
        "'{typed}' does not say which nets a side has.",
        remedy="Say how many of which length, such as {example}.",
        typed=typed.strip(),
        example="2 of 160 ft and 1 of 80 ft" if units == "us" else "2 of 50 m and 1 of 25 m",
    )


def _kind_of(farm: Farm, number: str, unit: str | None, units: System) -> NetKind:
    feet = (unit or ("ft" if units == "us" else "m")).lower() == "ft"
    length = float(number.replace(",", ".")) * (METRES_PER_FOOT if feet else 1.0)
    near = min(farm.net_kinds.values(), key=lambda kind: abs(kind.length_m - length), default=None)
    play = METRES_PER_FOOT if feet else SAME_M  # a length in whole feet is rounded
    if near is None or abs(near.length_m - length) >= play:
        raise EditError(
            "There are no nets of {length}.",
            remedy="Say nets of {lengths}, or add that length to the nets first.",
            length=Quantity(length, "m"),
            lengths=_lengths(farm),
        )
    return near


def _lengths(farm: Farm) -> Text:
    lengths = sorted({kind.length_mm for kind in farm.net_kinds.values()}, reverse=True)
    return _joined([_metres(length) for length in lengths], "{before} or {next}")


def _length_mm(farm: Farm, side: SideNets) -> int:
    return sum(farm.net_kinds[uid].length_mm * nets for uid, nets in side)


def _metres(length_mm: int) -> Text:
    digits = 0 if length_mm % 1000 == 0 else 1
    return Text("{length}", {"length": Quantity(length_mm / 1000, "m", digits)})


def _as_long(farm: Farm, length_mm: int) -> Text | None:
    """Return the fewest nets that are just as long; None where none are."""
    plenty = [Spare(kind, MOST_NETS) for kind in farm.net_kinds.values()]
    chosen = choose_nets([length_mm], plenty)
    if chosen is None or abs(chosen[0].left_mm) > SAME_M * 1000:
        return None
    return side_words(farm, tuple((each.kind.uid, each.nets) for each in chosen[0].nets))


def side_words(farm: Farm, side: SideNets) -> Text:
    """Return the nets of a side in words: '1 of 50 m and 1 of 25 m'."""
    parts = [
        Text("{count} of {length}", {"count": nets, "length": _metres(farm.net_kinds[uid].length_mm)})
        for uid, nets in side
        if uid in farm.net_kinds
    ]
    return _joined(parts, "{before} and {next}")


def _joined(parts: Sequence[Text], pattern: str) -> Text:
    found = parts[0] if parts else Text("none")
    for part in parts[1:]:
        values: dict[str, Value] = {"before": found, "next": part}
        found = Text(pattern, values)
    return found
