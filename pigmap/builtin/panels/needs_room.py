"""Shade and dry floor of a group, in rows."""

from __future__ import annotations

from pigmap.animals import sources
from pigmap.animals.needs import Needs
from pigmap.animals.space import Area
from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.needs_carried import figure
from pigmap.qt.stage import Stage
from pigmap.qt.why import why
from pigmap.text import Quantity, Text, Value


def _area(stage: Stage, need: Needs, each: Area) -> str:
    least, most = (Quantity(need.weight.pigs * m2, "m²", 0) for m2 in each)
    if each.least_m2 == each.most_m2:
        return figure(stage, "{most}", most=most)
    return figure(stage, "{least} to {most}", least=f"{least.value:.0f}" if stage.units != "us" else least, most=most)


def _each(stage: Stage, each: Area) -> str:
    return figure(stage, "{most} each", most=Quantity(each.most_m2, "m²", 2))


def shade(stage: Stage, need: Needs) -> Fact:
    """Return the shade they want."""
    grown = need.shade.least_m2 != need.shade.most_m2
    source = sources.SHADE_SOWS if grown and need.shade.most_m2 < 2 else sources.SHADE_OTHERS
    values: dict[str, Value] = {"lying": Quantity(need.hot_lying_m2, "m²", 2)}
    words = "Shade for all of them at once. In hot weather one lies on its side, on {lying}: more is better."
    return Fact(
        stage.say("Shade"),
        _area(stage, need, need.shade),
        _each(stage, need.shade),
        why(stage, Text(words, values), source, sources.LYING),
    )


def shelter(stage: Stage, need: Needs) -> Fact:
    """Return the dry floor they want."""
    values: dict[str, Value] = {"half": Quantity(need.lying_m2, "m²", 2), "side": Quantity(need.hot_lying_m2, "m²", 2)}
    words = "Dry floor to lie on: one takes {half} half on its side, {side} on its side."
    sows = need.shelter.most_m2 == need.shade.most_m2
    source = (sources.SHADE_SOWS, sources.LYING) if sows else (sources.LYING,)
    return Fact(
        stage.say("Hut"),
        _area(stage, need, need.shelter),
        _each(stage, need.shelter),
        why(stage, Text(words, values), *source),
    )
