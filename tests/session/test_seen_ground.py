from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
import shapely

from pigmap.drawing import tint as contract
from pigmap.errors import PigmapError, RasterError
from pigmap.geometry.frame import CellFrame
from pigmap.imagery import terrain
from pigmap.records import Farm, Field, Projection, Terrain, WeatherDay
from pigmap.session.ground_keeper import GroundKeeper
from pigmap.session.seen_ground import SLOPE, WATER, SeenGround
from pigmap.session.slopes import SlopeKeeper, terrain_path
from pigmap.session.soil_waters import SoilWaters
from pigmap.weather.soil_water import wetness
from tests.session.test_ground_keeper import Loop, Shown

FIRST = date(2026, 3, 1)
NOWHERE = Projection(name="", authority="NONE", code=1, definition='LOCAL_CS[""]')


def a_field(soil: str | None = "loam", uid: str = "f") -> Field:
    outline = shapely.MultiPolygon([shapely.box(0, 0, 20, 12)])
    return Field(uid=uid, name="Top", outline=outline, origin_x_m=0, origin_y_m=0, turned_deg=0, soil=soil)


def a_farm(*fields: Field, days: int = 20, terrains: tuple[str, ...] = ()) -> Farm:
    weather = [WeatherDay(uid=f"w{n}", day=FIRST + timedelta(days=n), rain_mm=6.0) for n in range(days)]
    return Farm(
        document_uid="d",
        projection=NOWHERE,
        fields={each.uid: each for each in fields},
        weather_days={row.uid: row for row in weather},
        terrains={link: Terrain(uid=link, name=link, link=link) for link in terrains},
    )


class Opened(Shown):
    """A session with its ground and a place on the disk."""

    path = Path("/farms/ridge.gpkg")

    def __init__(self, farm: Farm, post: Callable[[Callable[[], None]], None] | None = None) -> None:
        super().__init__(farm, post)
        self.ground = GroundKeeper(self)


def test_both_sides_call_what_can_be_asked_for_the_same() -> None:
    assert (WATER, SLOPE) == (contract.WATER, contract.SLOPE)


def test_what_asks_for_nothing_gets_the_ground_as_it_is() -> None:
    session = Opened(a_farm(a_field()))
    seen = SeenGround(session)
    assert seen.state("f", FIRST) is session.ground.state("f", FIRST)
    assert seen.state("nobody", FIRST, asks=WATER) is None


def test_wet_ground_is_told_field_by_field() -> None:
    seen = SeenGround(Opened(a_farm(a_field("loam"), a_field("red earth", "g"))))
    wet, unknown = (seen.state(uid, FIRST + timedelta(days=19), asks=WATER) for uid in ("f", "g"))
    assert wet is not None
    assert unknown is not None
    assert (wet.layers[WATER].tolist(), wet.layers["unknown"].tolist()) == ([0.0], [False])
    assert unknown.layers["unknown"].tolist() == [True]
    assert wet.layers["rest_days"].tolist() == [-1]


def test_the_water_of_a_day_is_worked_out_once_for_the_same_weather(monkeypatch: pytest.MonkeyPatch) -> None:
    import pigmap.session.soil_waters as module

    asked: list[str] = []

    def counted(farm: Farm, field: Field, first: int, last: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        asked.append(field.name)
        return wetness(farm, field, first, last)

    monkeypatch.setattr(module, "wetness", counted)
    waters, farm = SoilWaters(), a_farm(a_field())
    assert waters.lacks_mm(farm, a_field(), FIRST + timedelta(days=5)) == 0.0
    assert waters.lacks_mm(replace(farm, revision=7), a_field("sandy loam"), FIRST + timedelta(days=9)) == 0.0
    assert len(asked) == 1
    waters.lacks_mm(farm, a_field("clay"), FIRST)
    waters.lacks_mm(farm, a_field(), FIRST + timedelta(days=3000))
    waters.lacks_mm(a_farm(a_field()), a_field(), FIRST)
    assert len(asked) == 4


def test_before_the_first_rain_and_without_a_soil_nothing_is_known_of_the_water() -> None:
    waters, farm = SoilWaters(), a_farm(a_field())
    assert math.isnan(waters.lacks_mm(farm, a_field(), FIRST - timedelta(days=1)))
    assert waters.days(farm, a_field(None)) is None
    assert waters.days(a_farm(a_field(), days=3), a_field()) is None


def test_slope_is_told_cell_by_cell_with_the_rest_of_the_ground(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terrain, "slope_over", lambda path, projection, frame: _slopes(frame))
    seen = SeenGround(Opened(a_farm(a_field(), terrains=("hill.tif",))))
    state = seen.state("f", FIRST, asks=SLOPE)
    assert state is not None
    assert state.ground.region_of.tolist()[0] == list(range(10))
    assert state.layers[SLOPE][:4].tolist() == [0.0, 1.0, 2.0, 3.0]
    assert np.flatnonzero(state.layers["unknown"]).tolist() == [59]
    assert len(state.layers["rest_days"]) == len(state.layers[SLOPE]) == 60
    assert seen.state("f", FIRST, asks=SLOPE) is state
    assert {SLOPE, "unknown", "cover"} <= set(state.layers)


def _slopes(frame: CellFrame) -> np.ndarray[tuple[int, int], np.dtype[np.float32]]:
    slopes = np.arange(frame.rows * frame.columns, dtype=np.float32).reshape(frame.rows, frame.columns)
    slopes[-1, -1] = np.nan
    return slopes


def test_without_a_terrain_image_no_slope_is_known_and_nothing_is_read() -> None:
    state = SeenGround(Opened(a_farm(a_field()), Loop().post)).slopes.of("f", CellFrame(0, 0, 0, 2, 6, 10))
    assert state is not None
    assert np.isnan(state).all()


def test_slopes_are_read_off_the_windows_thread_and_told_when_they_are_there(monkeypatch: pytest.MonkeyPatch) -> None:
    import threading

    threads: list[str] = []

    def read(path: Path, projection: Projection, frame: CellFrame) -> np.ndarray[tuple[int, int], np.dtype[np.float32]]:
        threads.append(threading.current_thread().name)
        return _slopes(frame)

    monkeypatch.setattr(terrain, "slope_over", read)
    loop, frame = Loop(), CellFrame(0, 0, 0, 2, 6, 10)
    keeper = SlopeKeeper(Opened(a_farm(a_field(), terrains=("hill.tif",)), loop.post))
    told: list[str] = []
    end = keeper.listen(told.append)
    assert keeper.of("f", frame) is None
    assert keeper.of("f", frame) is None  # it is being read already
    loop.run_one()
    assert told == ["f"]
    assert threads == ["slope_0"]
    found = keeper.of("f", frame)
    assert found is not None
    assert float(found[0, 3]) == 3.0
    end()
    keeper.close()


def test_settling_waits_for_slopes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terrain, "slope_over", lambda path, projection, frame: _slopes(frame))
    loop, frame = Loop(), CellFrame(0, 0, 0, 2, 6, 10)
    keeper = SlopeKeeper(Opened(a_farm(a_field(), terrains=("hill.tif",)), loop.post))
    assert keeper.of("f", frame) is None
    keeper.settle()
    assert keeper.of("f", frame) is not None
    loop.run_all()
    keeper.close()


def test_a_terrain_image_that_cannot_be_read_is_said_once_and_the_next_one_used(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def read(path: Path, projection: Projection, frame: CellFrame) -> np.ndarray[tuple[int, int], np.dtype[np.float32]]:
        if path.name == "gone.tif":
            raise RasterError("{name} is gone.", remedy="Look for it.", name=path.name)
        return _slopes(frame)

    monkeypatch.setattr(terrain, "slope_over", read)
    keeper = SlopeKeeper(Opened(a_farm(a_field(), terrains=("gone.tif", "hill.tif"))))
    said: list[PigmapError] = []
    keeper.told = said.append
    for uid in ("f", "g"):
        found = keeper.of(uid, CellFrame(0, 0, 0, 2, 6, 10))
        assert found is not None
        assert float(found[0, 1]) == 1.0
    assert [str(each) for each in said] == ["gone.tif is gone. Look for it."]


def test_a_link_beside_the_farm_is_found_from_its_folder(tmp_path: Path) -> None:
    near = Terrain(name="hill", link="maps/hill.tif")
    far = Terrain(name="hill", link=str(tmp_path / "hill.tif"))
    assert terrain_path(tmp_path / "farm.gpkg", near) == tmp_path.resolve() / "maps" / "hill.tif"
    assert terrain_path(Path("/elsewhere/farm.gpkg"), far) == tmp_path / "hill.tif"
