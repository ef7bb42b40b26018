from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from pigmap.document.edits import Before, tell_before
from pigmap.geometry.cells import frame_over
from pigmap.records import GroundJobKind
from pigmap.session import Session
from pigmap.session.printed_ground import ACROSS, MOST, finer, printed_states
from tests.qt.window_farm import TODAY, make_session

CROOKED = shapely.Polygon([(3.3, 1.7), (47.1, 9.4), (38.8, 48.6), (7.5, 39.9)])


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    with make_session(tmp_path) as made:
        yield made


def test_ground_on_paper_has_smaller_cells_that_lie_whole_in_those_of_the_screen(session: Session) -> None:
    field = session.farm.fields["field"]
    coarse, fine = frame_over(field), printed_states(session, ["field"], TODAY, TODAY)["field"].ground.frame
    times = coarse.cell_m / fine.cell_m
    assert times == int(times) > 1
    assert fine.to_cells(coarse.to_metres(np.zeros((1, 2)))) % times == pytest.approx(0.0, abs=1e-9)


def test_an_edge_that_runs_across_cells_has_steps_too_small_to_see_on_paper(session: Session) -> None:
    edge = shapely.LineString([(0.0, 0.0), (80.0, 13.0)])
    brushed = shapely.MultiPolygon([shapely.Polygon([(0, 0), (80, 13), (80, 0)])])
    session.do(tell_before(brushed, Before(kind=GroundJobKind.NEVER_USED))).result()
    off = []
    for state in (
        session.ground.state("field", TODAY, TODAY),
        *printed_states(session, ["field"], TODAY, TODAY).values(),
    ):
        frame, region_of = state.ground.frame, state.ground.region_of
        steps = np.argwhere(region_of[1:] != region_of[:-1]) + np.array([1, 0])
        points = frame.to_metres(steps[:, ::-1].astype(np.float64))
        near = shapely.points(points[(points[:, 0] > 10) & (points[:, 0] < 70) & (points[:, 1] > 0.1)])
        distances = shapely.distance(near, edge)
        off.append(float(distances[distances < 2.5].max()))
    assert off[1] < off[0] / 3
    assert off[1] < 0.5


def test_what_is_drawn_follows_from_the_same_days(session: Session) -> None:
    coarse = session.ground.state("field", TODAY, TODAY)
    fine = printed_states(session, ["field"], TODAY, TODAY)["field"]
    assert coarse is not None
    assert set(coarse.layers["rest_days"].tolist()) == set(fine.layers["rest_days"].tolist())


def test_a_way_to_colour_that_asks_for_more_has_the_cells_of_the_screen(session: Session) -> None:
    state = printed_states(session, ["field"], TODAY, TODAY, "lacks_mm")["field"]
    assert state.ground.frame == frame_over(session.farm.fields["field"])


@pytest.mark.parametrize("side", [30.0, 400.0, 2000.0, 9000.0])
def test_cells_on_paper_are_never_too_many(session: Session, side: float) -> None:
    field = replace(session.farm.fields["field"], outline=shapely.MultiPolygon([shapely.box(0, 0, side, side)]))
    made = finer(field)
    if made is not None:
        frame = frame_over(made)
        assert frame.rows * frame.columns <= MOST * 1.05
        assert max(frame.rows, frame.columns) <= ACROSS + 2 * field.cell_m / made.cell_m or made.cell_m > 0.25
    else:
        assert frame_over(field).rows * frame_over(field).columns * 4 > MOST
