from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely

from pigmap.document.edits import add_keep_out
from pigmap.qt.kept_off import KeptOff
from pigmap.qt.stage import Stage
from pigmap.records import Reason
from tests.qt.window_farm import made_stage

POND = shapely.box(250, 20, 280, 60)


@pytest.fixture
def stage(tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def _with_pond(stage: Stage) -> None:
    stage.session.do(add_keep_out(POND, Reason.POND)).result()


def test_ground_near_water_is_shown_while_paddocks_are_placed_and_with_what_is_wet(stage: Stage) -> None:
    _with_pond(stage)
    kept_off = KeptOff(stage)
    assert kept_off.shapes() == []
    for ask, shown, hidden in ((stage.take_up, "place", "pick"), (stage.show_tint, "wet", "rest")):
        ask(shown)
        assert kept_off.differs()
        (shape,) = kept_off.shapes()
        assert shape.buffer(-0.1).contains(POND)
        assert not kept_off.differs()
        ask(hidden)
        assert kept_off.differs()
        assert kept_off.shapes() == []


def test_a_farm_without_water_shows_nothing_else_with_another_verb(stage: Stage) -> None:
    kept_off = KeptOff(stage)
    kept_off.shapes()
    stage.take_up("place")
    assert not kept_off.differs()
    _with_pond(stage)
    assert kept_off.differs()
    assert len(kept_off.shapes()) == 1
