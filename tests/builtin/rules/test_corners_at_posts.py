from __future__ import annotations

from dataclasses import replace

import shapely

from pigmap.builtin.rules.corners_at_posts import rule
from pigmap.records import Farm, NetKind, Stay, add, change
from tests.planning.invented import TODAY, farm_with, stay


def _wide(east: float, first: int = 2) -> Farm:
    """Return a farm whose weaners are planned on ground that is so far wide, beside the sows that stand."""
    farm = farm_with(*stay("sows", (0, 0), -2, 9), *stay("weaners", (50, 0), first, 9))
    planned: Stay = farm.stays[f"weaners 50 0 {first}"]
    return farm.after([change(planned, replace(planned, ground=shapely.box(50, 0, 50 + east, 50)))])


def test_a_corner_between_two_posts_is_worth_a_stake() -> None:
    assert not list(rule.breaches(_wide(50.0), TODAY))
    assert not list(rule.breaches(_wide(50.25), TODAY))
    (breach,) = rule.breaches(_wide(50.4), TODAY)
    assert (breach.weight, breach.caution) == ("care", "W10")
    assert str(breach.words).startswith("2 corners of 50 0 are more than 0.3 m from the nearest post")
    assert str(breach.remedy) == "Have stakes at hand, or move the corners."


def test_what_stands_has_its_stakes_and_a_rectangle_of_whole_nets_needs_none() -> None:
    assert not list(rule.breaches(_wide(50.4, -1), TODAY))
    farm = _wide(50.4)
    paddock = farm.paddocks["paddock 50 0"]
    whole = replace(paddock, nets_long=1, nets_wide=1)
    assert not list(rule.breaches(farm.after([change(paddock, whole)]), TODAY))


def test_sides_of_nets_that_were_told_end_at_posts() -> None:
    farm = _wide(75.0)
    (kind,) = farm.net_kinds.values()
    half = NetKind(uid="half", name="25 m nets", bays_mm=(6_000, 6_000, 6_000, 7_000))
    paddock, planned = farm.paddocks["paddock 50 0"], farm.stays["weaners 50 0 2"]
    outline = shapely.Polygon([(50, 0), (125, 0), (125, 47.0), (50, 47.0)])
    rows = [change(paddock, replace(paddock, outline=outline)), change(planned, replace(planned, ground=outline))]
    assert list(rule.breaches(farm.after(rows), TODAY))
    told = replace(paddock, outline=outline, side_nets=(f"1 {kind.uid}, 1 half", "1 odd"))
    odd = NetKind(uid="odd", name="47 m nets", bays_mm=(4_700,) * 10)
    rows = [add(half), add(odd), change(paddock, told), rows[1]]
    assert not list(rule.breaches(farm.after(rows), TODAY))
