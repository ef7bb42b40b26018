"""A tiny invented farm to look at: one field with a row of paddocks, a pond, an overhead line."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from types import MappingProxyType
from typing import Any

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import REST_COLOURS, REST_FROM_DAY, rest_step
from pigmap.geometry.frame import CellFrame
from pigmap.records import (
    Farm,
    Field,
    Group,
    KeepOut,
    NetKind,
    Paddock,
    Place,
    PlaceKind,
    Projection,
    Reason,
    Record,
    Setting,
    Stay,
    StayState,
    Way,
    WayKind,
)
from pigmap.text import Text, Unit

TODAY = date(2025, 10, 14)
EAST, NORTH = 512_140.0, 203_700.0
PER_GRID = 0.9996
NET = 50 / PER_GRID
TURNED = 6.0
FIFTY = NetKind(uid="kind-50", name="50 m", tape="blue", bays_mm=(3572,) * 13 + (3564,))


class RestAndRooting:
    """Days of rest as colour, rooting as clods."""

    api = 1
    name = "rest-and-rooting"
    title = Text("Rest and rooting")
    unit: Unit = "d"
    clods = True

    def steps(self, state: Layers) -> np.ndarray:
        return rest_step(state["rest_days"])

    def key(self) -> tuple[KeyStep, ...]:
        return tuple(
            KeyStep(colour, Text("{day}", {"day": day}))
            for colour, day in zip(REST_COLOURS, REST_FROM_DAY, strict=True)
        )


def _turned(shape: BaseGeometry) -> Any:
    return affinity.rotate(affinity.translate(shape, EAST, NORTH), TURNED, origin=(EAST, NORTH))


def paddock_at(column: float, row: float) -> shapely.Polygon:
    """Return the square of four nets in a column and a row of the field."""
    x, y = 20 + column * NET, 20 + row * NET
    square: shapely.Polygon = _turned(shapely.box(x, y, x + NET, y + NET))
    return square


def _rows(records: Iterable[Record]) -> Any:
    return MappingProxyType({record.uid: record for record in records})


def field() -> Field:
    outline = shapely.MultiPolygon([_turned(shapely.box(0, 0, 330, 180))])
    return Field(
        uid="long", name="Long Field", outline=outline, origin_x_m=EAST, origin_y_m=NORTH, turned_deg=TURNED, cell_m=2.0
    )


def small_farm() -> Farm:
    """Return the farm."""
    sows = Group(uid="sows", name="Dry sows", colour_index=0)
    weaners = Group(uid="weaners", name="Weaners", colour_index=1)
    barn = Field(
        uid="barn", name="Barn Field", outline=shapely.MultiPolygon([_turned(shapely.box(30, -140, 300, -15))]),
        origin_x_m=EAST, origin_y_m=NORTH, turned_deg=TURNED,
    )  # fmt: skip
    spots = [(column, 2) for column in range(6)] + [(5, 1), (4, 1), (3, 1), (2, 1), (1, 1)]
    paddocks = [
        Paddock(
            uid=f"p{n}", name=f"Long Field {n}", field_uid="long", outline=paddock_at(*spot), net_kind_uid=FIFTY.uid,
            nets_long=1, nets_wide=1,
        )
        for n, spot in enumerate(spots, 1)
    ]  # fmt: skip
    stays = [_stay(paddock, n, sows) for n, paddock in enumerate(paddocks, 1)]
    six = Paddock(
        uid="b6", name="Barn Field 6", field_uid="barn", outline=_turned(shapely.box(60, -90, 60 + NET, -90 + NET)),
        net_kind_uid=FIFTY.uid,
    )  # fmt: skip
    stays.append(_running(six, weaners, date(2025, 10, 12), date(2025, 10, 15)))
    return Farm(
        document_uid="small",
        projection=Projection(
            name="invented", authority="NONE", code=0, definition="", ground_per_grid=PER_GRID
        ),
        fields=_rows([field(), barn]),
        groups=_rows([sows, weaners]),
        paddocks=_rows([*paddocks, six]),
        stays=_rows(stays),
        net_kinds=_rows([FIFTY]),
        keep_outs=_rows(
            [
                KeepOut(
                    uid="pond", name="Pond", reason=Reason.POND, shape=_turned(shapely.Point(280, 45).buffer(18)),
                    net_m=6,
                )
            ]
        ),
        ways=_rows(
            [
                Way(uid="line", kind=WayKind.OVERHEAD_LINE, line=_turned(shapely.LineString([(-60, 215), (420, 200)]))),
                Way(uid="path", kind=WayKind.PATH, line=_turned(shapely.LineString([(-30, -8), (400, -8)]))),
                Way(
                    uid="fence", kind=WayKind.PERMANENT_FENCE,
                    line=_turned(shapely.LineString([(-12, 0), (-12, 180)])),
                ),
            ]
        ),
        places=_rows(
            [
                Place(uid="gate", kind=PlaceKind.GATE, point=_turned(shapely.Point(150, 0))),
                Place(uid="tap", kind=PlaceKind.WATER_POINT, name="Standpipe", point=_turned(shapely.Point(240, 8))),
                Place(uid="zap", kind=PlaceKind.ENERGIZER, name="Energizer 1", point=_turned(shapely.Point(-30, 150))),
            ]
        ),
        settings=_rows([Setting(uid="name", key="farm name", value_json='"Invented Farm"')]),
    )  # fmt: skip


def _stay(paddock: Paddock, number: int, group: Group) -> Stay:
    if number <= 7:
        ends = TODAY - timedelta(days=4 + 7 * (7 - number))
        return Stay(
            uid=f"s{number}", group_uid=group.uid, paddock_uid=paddock.uid, ground=paddock.outline,
            state=StayState.PAST, in_on=ends - timedelta(days=7), out_on=ends,
        )  # fmt: skip
    if number == 8:
        return _running(paddock, group, date(2025, 10, 11), date(2025, 10, 16))
    begins = date(2025, 10, 16) + timedelta(days=5 * (number - 9))
    return Stay(
        uid=f"s{number}", group_uid=group.uid, paddock_uid=paddock.uid, ground=paddock.outline, state=StayState.PLANNED,
        in_on=begins, out_on=begins + timedelta(days=5),
    )  # fmt: skip


def _running(paddock: Paddock, group: Group, in_on: date, out_on: date) -> Stay:
    return Stay(
        uid=f"now-{paddock.uid}", group_uid=group.uid, paddock_uid=paddock.uid, ground=paddock.outline,
        state=StayState.RUNNING, in_on=in_on, out_on=out_on,
    )  # fmt: skip


class SmallCells:
    """The cells of the field; each is a region of its own."""

    def __init__(self) -> None:
        self.frame = CellFrame(EAST, NORTH, TURNED, 2.0, 90, 165)
        self.region_of = np.arange(90 * 165, dtype=np.int32).reshape(90, 165)


class SmallState:
    """An invented state of the ground of the field."""

    def __init__(self) -> None:
        self.ground = SmallCells()
        rows, columns = np.mgrid[0:90, 0:165]
        x, y = columns * 2.0 + 1 - 20, rows * 2.0 + 1 - 20
        column, row = np.floor(x / NET), np.floor(y / NET)
        used = (column >= 0) & (column < 6) & (row >= 0) & (row < 3)
        rest = np.where(row == 2, 66 - 13 * column, np.where(row == 1, 119 - 2 * column, 74 + 8 * column))
        rest = np.where((row == 1) & (column == 5), 4, np.where((row == 1) & (column == 4), 0, rest))
        wave = 0.5 + 0.5 * np.sin(x / 9.0) * np.cos(y / 11.0)
        rooting = np.where(rest < 45, 0.15 + 0.85 * wave, 0.25 * wave)
        self.layers = {
            "rest_days": np.where(used, rest, -1).astype(np.int32).ravel(),
            "rooting": np.where(used, rooting, 0.0).astype(np.float32).ravel(),
            "seen": (column % 2 == 0).ravel(),
            "occupied": ((row == 1) & (column == 4)).ravel(),
            "used": used.ravel(),
        }


def photo(image_uid: str, bounds: tuple[float, float, float, float], size: tuple[int, int]) -> np.ndarray:
    """Return an invented photo: grass in stripes."""
    west, south, east, north = bounds
    columns, rows = size
    x = np.linspace(west, east, columns)[None, :]
    y = np.linspace(north, south, rows)[:, None]
    wave = np.sin((x + 0.1 * y) / 3.1) * 8 + np.sin(x / 37.0) * np.cos(y / 29.0) * 24
    return np.stack([92 + wave, 118 + wave, 72 + 0.6 * wave, np.full_like(wave, 255)], axis=-1).astype(np.uint8)
