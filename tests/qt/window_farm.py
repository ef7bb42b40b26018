"""A small invented farm in a window, for tests of the window and its panels."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import shapely
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication, QWidget

from pigmap.plugins import Registry
from pigmap.qt.following import follow
from pigmap.qt.panel import Panel
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application, stage_for, take_down
from pigmap.qt.window import Window
from pigmap.records import (
    Check,
    Edit,
    Field,
    Group,
    GroupEvent,
    GroupEventKind,
    KeepOut,
    Net,
    NetKind,
    NetUse,
    Paddock,
    PigClass,
    Place,
    PlaceKind,
    Projection,
    Purpose,
    Reason,
    Record,
    RowChange,
    Setting,
    Stay,
    StayState,
    Use,
    Way,
    WayKind,
    add,
)
from pigmap.session import Session
from pigmap.text import Text

TODAY = date(2026, 5, 13)
"""A Wednesday."""
PLANE = Projection(name="plane", authority="NONE", code=0, definition="")
WIDE = Projection(name="wide", authority="NONE", code=0, definition="", ground_per_grid=1.25)
"""A plane whose metres are 1.25 m of ground each."""
DAYS = 5
PARTS = Registry()


def day(offset: int) -> date:
    return TODAY + timedelta(days=offset)


def _box(column: float, row: float) -> shapely.Polygon:
    return shapely.box(column * 50, row * 50, column * 50 + 50, row * 50 + 50)


def rows_of_farm(groups: int = 2) -> list[Record]:
    """Return the rows: a row of paddocks for each group, whose third is in use today, and the fourth planned."""
    outline = shapely.MultiPolygon([shapely.box(-20, -20, 420, max(groups, 1) * 50 + 30)])
    field = Field(uid="field", name="Top Field", outline=outline, origin_x_m=-20, origin_y_m=-20, turned_deg=0.0)
    kind = NetKind(uid="fifty", name="50 m", tape="blue", bays_mm=(3572,) * 13 + (3564,))
    rows: list[Record] = [
        Setting(uid="units", key="units", value_json=json.dumps("metric")),
        field,
        Purpose(
            uid="purpose",
            field_uid="field",
            from_month_day="01-01",
            to_month_day="12-31",
            purpose=Use.GRAZE_LIGHTLY,
            rest_days_wanted=60,
        ),
        kind,
        KeepOut(uid="pond", name="Duck pond", reason=Reason.POND, shape=shapely.box(300, -10, 320, 10), net_m=6.0),
        Place(uid="tap", kind=PlaceKind.WATER_POINT, name="Tap", point=shapely.Point(-10, -10)),
        Way(uid="line", kind=WayKind.OVERHEAD_LINE, line=shapely.LineString([(-20, 90), (420, 95)]), clearance_m=9.0),
    ]
    rows += [Net(uid=f"net{at}", net_kind_uid="fifty") for at in range(groups * 4 + 3)]
    for at in range(groups):
        rows += _group_rows(at)
    return rows


def _group_rows(at: int) -> list[Record]:
    uid = f"group{at}"
    names = ("Dry sows", "Weaners", "Porkers", "Gilts", "Old boars", "Young sows", "Runts", "Fat hogs", "Last litter")
    rows: list[Record] = [
        Group(uid=uid, name=names[at % len(names)], pig_class=PigClass.GESTATING, colour_index=at % 8),
        GroupEvent(uid=f"{uid}in", group_uid=uid, happened_on=day(-90), kind=GroupEventKind.BOUGHT, pigs=8, mean_kg=80),
    ]
    for step, state in enumerate((StayState.PAST, StayState.PAST, StayState.RUNNING, StayState.PLANNED)):
        ground = _box(step, at)
        paddock = f"{uid}p{step}"
        in_on = day((step - 2) * DAYS - 2)
        rows += [
            Paddock(
                uid=paddock,
                name=f"Top Field {at * 10 + step + 1}",
                field_uid="field",
                outline=ground,
                net_kind_uid="fifty",
                nets_long=1,
                nets_wide=1,
            ),
            Stay(
                uid=f"{uid}s{step}",
                group_uid=uid,
                paddock_uid=paddock,
                ground=ground,
                state=state,
                in_on=in_on,
                out_on=in_on + timedelta(days=DAYS),
            ),
        ]
    rows.append(Check(uid=f"{uid}c", checked_on=day(-1), paddock_uid=f"{uid}p2", fence_kv=5.9, rooting_score=1))
    ring = shapely.LineString(_box(2, at).exterior.coords)
    rows += [
        NetUse(uid=f"{uid}u{net}", net_kind_uid="fifty", paddock_uid=f"{uid}p2", run=ring, set_on=day(-2))
        for net in range(4)
    ]
    return rows


def make_session(folder: Path, groups: int = 2, *, empty: bool = False, projection: Projection = PLANE) -> Session:
    """Return a session in line on a fresh farm file."""
    path = folder / "hill.gpkg"
    path.write_bytes(_made_file(0 if empty else groups, empty, projection))
    return Session.open(path, registry=PARTS)


@cache
def _made_file(groups: int, empty: bool, projection: Projection) -> bytes:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "hill.gpkg"
        with Session.create(path, projection, "Hill Farm", registry=PARTS) as session:
            if not empty:
                changes: list[RowChange] = [add(row) for row in rows_of_farm(groups)]
                session.do(Edit(Text("Made for a test."), lambda farm: changes)).result()
        return path.read_bytes()


@contextmanager
def made_stage(
    folder: Path, groups: int = 2, *, empty: bool = False, projection: Projection = PLANE
) -> Iterator[Stage]:
    """Make a stage that follows its session."""
    application()
    with make_session(folder, groups, empty=empty, projection=projection) as session:
        stage = stage_for(session, TODAY)
        stop = follow(stage)
        yield stage
        stop()
        stage.deleteLater()


@contextmanager
def made_panel(stage: Stage, name: str, size: tuple[int, int] = (300, 600)) -> Iterator[QWidget]:
    """Make one panel alone, in a widget of its own."""
    loaded: Panel = stage.session.registry.load("panels", name)
    holder = QWidget()
    holder.resize(*size)
    made = loaded.make(stage, holder)
    made.resize(*size)
    holder.show()
    yield made
    drop(holder)


@contextmanager
def made_window(
    folder: Path,
    groups: int = 2,
    *,
    empty: bool = False,
    size: tuple[int, int] = (1600, 1000),
    text_scale: float = 1.0,
    projection: Projection = PLANE,
) -> Iterator[Window]:
    """Make the window, shown."""
    with made_stage(folder, groups, empty=empty, projection=projection) as stage:
        stage.text_scale = text_scale
        window = Window(stage)
        window.resize(*size)
        window.show()
        QApplication.processEvents()
        yield window
        window.close_down()
        drop(window)


def drop(widget: QWidget) -> None:
    """Take a widget down at once, so that nothing of it outlives its test."""
    take_down(widget)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
