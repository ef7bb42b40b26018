"""What cards say of live fences: what cannot wait before the figures, what wants care after them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.plan_breaches import planned_breaches
from pigmap.qt.stage import Picked, Stage
from pigmap.records import Edit, Place, PlaceKind, Record, Way, WayKind, add
from pigmap.text import Text
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def _facts(stage: Stage, table: str, uid: str) -> CardFacts:
    facts = card_of(stage, Picked(table, uid))
    assert facts is not None
    return facts


def _drawn(stage: Stage, *rows: Record) -> None:
    stage.session.do(Edit(Text("Drawn."), lambda _: [add(row) for row in rows])).result()


def _through(stage: Stage, uid: str, off_m: float | None = None) -> shapely.LineString:
    """Return a line from south to north through a paddock, or so far west of it."""
    west, _, east, _ = stage.session.farm.paddocks[uid].outline.bounds
    at = (west + east) / 2 if off_m is None else west - off_m
    return shapely.LineString([(at, -5000), (at, 5000)])


def test_a_paddock_under_a_line_says_so_before_its_figures(stage: Stage) -> None:
    assert _facts(stage, "paddocks", "group0p3").urgent == ()
    _drawn(stage, Way(kind=WayKind.OVERHEAD_LINE, name="Old line", line=_through(stage, "group0p3")))
    facts = _facts(stage, "paddocks", "group0p3")
    (urgent,) = facts.urgent
    assert urgent.startswith("Top Field 4 lies under Old line, and nothing tells how high that hangs. Set it 8 m or")
    assert urgent not in facts.warnings
    assert any(each.caution == "W3" for each in planned_breaches(stage))
    stage.pick(Picked("paddocks", "group0p3"))
    with made_panel(stage, "card") as card:
        assert isinstance(card, Card)
        assert urgent in card.accessibleName()
        assert not card.grab().isNull()


def test_what_is_over_does_not_hurry(stage: Stage) -> None:
    _drawn(stage, Way(kind=WayKind.OVERHEAD_LINE, name="Old line", line=_through(stage, "group0p0")))
    facts = _facts(stage, "paddocks", "group0p0")
    assert facts.urgent == ()
    assert any(each.startswith("Top Field 1 lies under Old line") for each in facts.warnings)


def test_signs_along_a_path_stand_after_the_figures(stage: Stage) -> None:
    _drawn(stage, Way(kind=WayKind.PATH, name="Mill path", line=_through(stage, "group0p3", 4.0)))
    facts = _facts(stage, "paddocks", "group0p3")
    assert any("stands along Mill path for 58 m: 3 warning signs." in each for each in facts.warnings)


def test_the_card_of_a_place_says_which_earth_is_too_near(stage: Stage) -> None:
    _drawn(
        stage,
        Place(uid="one", kind=PlaceKind.ENERGIZER, name="Barn unit", point=shapely.Point(0, 0)),
        Place(uid="other", kind=PlaceKind.ENERGIZER, name="Wood unit", point=shapely.Point(9, 0)),
    )
    for uid in ("one", "other"):
        assert any(
            "nothing tells where the earth stakes of both are" in each for each in _facts(stage, "places", uid).warnings
        )
