from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.builtin.rules.setbacks import rule
from pigmap.planning.rule import Breach
from pigmap.records import FlowLine, GearKind, GearPlace, KeepOut, Reason, Record, Setting, StayState, Way, WayKind
from tests.planning.invented import TODAY, farm_with, stay

RUNNING: list[Record] = [*stay("sows", (50, 50), -2, 3, state=StayState.RUNNING)]
FAR = shapely.LineString([(0, 140), (300, 140)])
NEAR = shapely.LineString([(0, 46.5), (300, 46.5)])


def found(*rows: Record) -> list[Breach]:
    return list(rule.breaches(farm_with(*RUNNING, *rows), TODAY))


def gear(kind: GearKind, east: float, north: float, day: int = -2, uid: str = "g", group: str = "sows") -> GearPlace:
    point = shapely.Point(east, north)
    return GearPlace(uid=uid, kind=kind, group_uid=group, set_on=TODAY + timedelta(days=day), point=point)


@pytest.mark.parametrize(
    ("row", "words", "source"),
    [
        (
            Way(kind=WayKind.WATERCOURSE, line=NEAR),
            "50 50 comes within 3.5 m of the watercourse; 10 m are usual.",
            "feed 10 m off water",
        ),
        (
            Way(kind=WayKind.DITCH, name="Long ditch", line=NEAR),
            "50 50 comes within 3.5 m of Long ditch; 10 m are usual.",
            "feed 10 m off water",
        ),
        (
            KeepOut(reason=Reason.WELL, shape=shapely.Point(75, 130)),
            "50 50 comes within 30.0 m of the well; 50 m are usual.",
            "50 m off a well",
        ),
        (
            FlowLine(line=NEAR),
            "50 50 comes within 3.5 m of the flow line. That 10 m are kept off is assumed.",
            "a guess of the program",
        ),
        (
            FlowLine(name="Dip", line=shapely.LineString([(0, 60), (300, 60)])),
            "50 50 lies across Dip. That 10 m are kept off is assumed.",
            "a guess of the program",
        ),
    ],
)
def test_a_paddock_near_water_a_well_or_a_flow_line_wants_care(row: Record, words: str, source: str) -> None:
    (breach,) = found(row)
    assert str(breach.words) == words
    assert str(breach.remedy) == (
        "Set it farther off, or keep feed, hut and shade on the far side of it. Local rules come first."
    )
    assert source in str(breach.source)
    assert breach.weight == "care"


def test_what_lies_farther_off_is_not_told() -> None:
    assert not found(Way(kind=WayKind.WATERCOURSE, line=FAR), FlowLine(line=FAR))


def test_a_distance_of_its_own_leads_and_so_does_that_of_the_farm() -> None:
    pond = KeepOut(reason=Reason.POND, shape=shapely.box(0, 0, 40, 46), net_m=3.0)
    assert not found(pond)
    assert not found(Way(kind=WayKind.WATERCOURSE, line=NEAR, clearance_m=3.0))
    assert not found(FlowLine(line=NEAR), Setting(key="flow line setback", value_json="3"))
    assert len(found(FlowLine(line=FAR), Setting(key="flow line setback", value_json="60"))) == 1


def test_of_several_of_a_sort_the_nearest_is_told() -> None:
    lines = [FlowLine(name=f"Line {off}", line=shapely.LineString([(0, 50 - off), (300, 50 - off)])) for off in (2, 5)]
    (breach,) = found(*lines)
    assert "2.0 m of Line 2" in str(breach.words)


def test_gear_near_water_and_where_gear_stood_lately_wants_care() -> None:
    earlier = [*stay("sows", (50, 50), -40, -30), gear(GearKind.FEEDER, 60, 60, -40, "old")]
    breaches = found(*earlier, Way(kind=WayKind.WATERCOURSE, line=FAR), gear(GearKind.HUT, 63, 64))
    (breach,) = [each for each in breaches if each.table == "gear_places"]
    assert str(breach.words) == "Hut of Sows stands 5.0 m from where a feeder stood from 2026-04-10 on."
    assert str(breach.remedy) == (
        "Set it on other ground: feed, water and hut that move every time spread what pigs leave. "
        "10 m apart are assumed."
    )
    near = found(KeepOut(reason=Reason.WELL, shape=shapely.Point(75, 130), net_m=5.0), gear(GearKind.FEEDER, 75, 95))
    (breach,) = [each for each in near if each.table == "gear_places"]
    assert str(breach.words) == "Feeder of Sows comes within 35.0 m of the well; 50 m are usual."
    assert str(breach.remedy) == "Set it farther off. Local rules come first."


def test_what_is_over_is_left_alone_and_no_words_say_that_a_law_is_met() -> None:
    over = [*stay("weaners", (150, 50), -20, -10), FlowLine(line=shapely.LineString([(150, 60), (200, 60)]))]
    assert not [each for each in found(*over) if "150 50" in str(each.words)]
    assert str(rule.title) == "Paddocks and gear keep off water, wells and flow lines"
