"""A hot day in so few words that they have room on a narrow card."""

from __future__ import annotations

from pigmap.animals.hot import HotWeather
from pigmap.text import Quantity, Text


def hot_short(found: HotWeather) -> Text:
    """Return what the day asks for: 'Hot, 31 °C: water and shade'."""
    if found.max_c is None:
        return Text("Hot: water and shade")
    most = Quantity(found.max_c, "°C", 0)
    if found.dangerous:
        return Text("Hot, {most}: wet them, shade", {"most": most})
    return Text("Hot, {most}: water and shade", {"most": most})
