"""The two lines on nets in the row of verbs: the one number that is asked all day."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pigmap.qt.nets import tallies
from pigmap.qt.stage import Stage
from pigmap.records import NetKind
from pigmap.text import Quantity, Text

if TYPE_CHECKING:
    from pigmap.fence.needs import Tally


def net_lines(stage: Stage) -> tuple[str, str]:
    """Return what is owned and stands, and what is spare, on the day that is shown."""
    first, rest = net_ways(stage)
    return first[0], rest[0]


def net_ways(stage: Stage) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return ways to say each of the two lines, the fullest first, for a row with less and less room."""
    farm = stage.session.farm
    if stage.coming_up:
        return ("",), ("",)  # they are counted after the first frame
    counted = tallies(farm, stage.day, stage.today)
    owned = sum(each.owned for each in counted.values())
    if not owned:
        return (stage.say("No nets yet"),), ("",)
    standing = sum(each.standing for each in counted.values())
    first = stage.words(
        Text(
            "{count} net owned, {standing} standing",
            {"standing": standing},
            plural="{count} nets owned, {standing} standing",
            count=owned,
        )
    )
    short = stage.say("{standing} of {owned} nets stand", standing=standing, owned=owned)
    kinds = [(farm.net_kinds[uid], each) for uid, each in counted.items() if each.owned]
    return (first, short), _spare_ways(stage, kinds)


def _spare_ways(stage: Stage, kinds: list[tuple[NetKind, Tally]]) -> tuple[str, ...]:
    spare = [
        stage.say("{count} \u00d7 {length}", count=each.spare, length=Quantity(kind.length_m, "m"))
        for kind, each in kinds
        if each.spare
    ]
    words = stage.say("spare {nets}", nets=", ".join(spare)) if spare else stage.say("none spare")
    damaged = sum(each.damaged for _, each in kinds)
    whole = stage.say("{spare}, {count} in repair", spare=words, count=damaged) if damaged else words
    count = sum(each.spare for _, each in kinds)
    return whole, words, stage.words(Text("{count} net spare", plural="{count} nets spare", count=count))
