"""Make a farm from every real input at hand, work on it, draw and print it: ``python -m tests.real_inputs DATA OUT``.

Run by hand: the inputs are no part of the project. One farm comes from an aerial image with three fields drawn on
it, one from each file of outlines. In each a row of paddocks is placed, stays and a daily check are recorded, and the
ground is listed, drawn and printed. A table tells what became of each file.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from pigmap.cli.printing import table
from pigmap.document.edits import (
    add_field,
    add_group,
    add_net_kind,
    even_bays,
    lay_row,
    place_paddock,
    record_check,
    record_stay,
    together,
)
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Field, PigClass, Projection
from pigmap.session import Session
from pigmap.text import Text

TODAY = date.today()
DAYS_EACH = 4
MOST_IN_A_ROW = 8
SCALE = 40
COLUMNS = ("file", "rows", "taken", "mended", "refused", "paddocks", "stays", "picture", "sheet", "seconds", "words")

AERIAL = Path("ortho") / "naip_m_4709963_se_20200831.tif"
WEATHER = Path("weather") / "seattle-weather.csv"
# Drawn by eye on dry ground of that image, in EPSG:26914.
DRAWN = {
    "Long Field": [(486203, 5206895), (486505, 5206895), (486505, 5206180), (486203, 5206180)],
    "Brown Hill": [(486690, 5207140), (486810, 5207215), (487445, 5207310), (487465, 5206975), (486700, 5206970)],
    "Shore": [
        (487530, 5207330),
        (487775, 5207290),
        (487790, 5207105),
        (487965, 5207010),
        (488000, 5206765),
        (487680, 5206725),
        (487515, 5206785),
    ],
}


@dataclass
class Seen:
    """One row of the table."""

    file: str
    rows: int = 0
    taken: int = 0
    mended: int = 0
    refused: int = 0
    paddocks: int = 0
    stays: int = 0
    picture: str = ""
    sheet: str = ""
    seconds: str = ""
    words: str = ""


def pigmap(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """Run a command of the program as a person would."""
    return subprocess.run(
        [sys.executable, "-m", "pigmap", *map(str, arguments)], capture_output=True, text=True, check=False
    )


def from_image(data: Path, out: Path) -> Seen:
    """Make a farm from the aerial image, with three fields drawn on it."""
    seen = Seen(AERIAL.name, rows=len(DRAWN))
    farm = out / "aerial.gpkg"
    made = pigmap("new", farm, "--image", data / AERIAL, "--weather", data / WEATHER, "--json")
    if made.returncode != 0:
        seen.words = made.stderr.strip()
        return seen
    with Session.open(farm) as session:
        for name, corners in DRAWN.items():
            session.do(add_field(name, shapely.Polygon(corners))).result()
        seen.taken = len(session.farm.fields)
    return worked(farm, seen, field="Shore")


def from_outlines(path: Path, out: Path) -> Seen:
    """Make a farm from a file of outlines."""
    seen = Seen(path.name)
    farm = out / f"{path.name.split('.')[0]}.gpkg"
    if path.parent.name == "clean":
        path = set_down(path, out)
        seen.file = f"{seen.file}, x {SCALE}"
    made = pigmap("new", farm, "--fields", path, "--json")
    if made.returncode != 0:
        seen.words = made.stderr.strip()
        return seen
    rows = [row for row in json.loads(made.stdout) if row["row"] is not None]
    seen.rows = len(rows)
    for result in ("taken", "mended", "refused"):
        setattr(seen, result, sum(row["result"] == result for row in rows))
    seen.words = made.stderr.strip()
    return worked(farm, seen)


def set_down(path: Path, out: Path) -> Path:
    """Return a copy of a file of bare numbers from 0 to 10 as metres on a farm: its own would be degrees."""

    def metres(numbers: Any) -> Any:
        if isinstance(numbers[0], list):
            return [metres(each) for each in numbers]
        return [500_000 + SCALE * numbers[0], 5_540_000 + SCALE * numbers[1]]

    told = json.loads(path.read_text(encoding="utf-8"))
    told["crs"] = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::32632"}}
    for feature in told["features"]:
        feature["geometry"]["coordinates"] = metres(feature["geometry"]["coordinates"])
    copy = out / path.name
    copy.write_text(json.dumps(told))
    return copy


def worked(farm: Path, seen: Seen, *, field: str = "") -> Seen:
    """Place a row of paddocks, record stays, list the ground, draw and print."""
    with Session.open(farm) as session:
        field = place_row(session, field)
        seen.paddocks, seen.stays = len(session.farm.paddocks), len(session.farm.stays)
    on = TODAY.isoformat()
    pages = {
        "ground": ("ground", farm, "--on", on, "--by", "paddock", "-o", farm.with_suffix(".csv")),
        "picture": ("picture", farm, "--on", on, "-o", farm.with_suffix(".png")),
        "sheet": ("sheet", farm, "--on", on, "--field", field, "-o", farm.with_suffix(".pdf")),
    }
    for what, arguments in pages.items():
        began = time.monotonic()
        done = pigmap(*arguments)
        took = time.monotonic() - began
        if done.returncode != 0:
            seen.words = f"{seen.words} {what}: {done.stderr.strip()[-300:]}".strip()
        elif what in ("picture", "sheet"):
            setattr(seen, what, str(arguments[-1]))
        seen.seconds = f"{seen.seconds} {what} {took:.1f}".strip()
    return seen


def place_row(session: Session, wanted: str) -> str:
    """Lay paddocks in a row and record stays there; return the name of the field.

    It is the wanted one, else the one that takes most paddocks.
    """
    farm = session.farm
    fields = sorted(farm.fields.values(), key=lambda field: (field.name != wanted, -field.outline.area))
    best: tuple[Field, tuple[Rectangle, ...], int] | None = None
    for net_mm in (50_000, 25_000, 10_000):
        for field in fields[: 1 if wanted else 12]:
            row = longest_row(field, net_mm, farm.projection)
            if len(row) >= 2 and (best is None or len(row) > len(best[1])):
                best = field, row, net_mm
        if best is not None:
            break
    kind = add_net_kind("50 m nets", even_bays(50_000, 15), nets=8, uid="kind")
    group = add_group(
        "Weaners", pig_class=PigClass.WEANED, pigs=30, mean_kg=24, since=TODAY - timedelta(days=60), uid="group"
    )
    if best is None:  # smaller than any net: the field itself is the paddock
        field = fields[0]
        ground = max(field.outline.geoms, key=lambda part: part.area)
        edits = [kind, group, place_paddock(shapely.Polygon(ground.exterior), field_uid=field.uid, uid="paddock 0")]
        row_length = 1
    else:
        field, row, net_mm = best
        kind = add_net_kind(f"{net_mm // 1000} m nets", even_bays(net_mm, 15), nets=8, uid="kind")
        uids = [f"paddock {number}" for number in range(len(row))]
        edits = [kind, group, lay_row(row, net_kind_uid="kind", field_uid=field.uid, uids=uids)]
        row_length = len(row)
    session.do(together(Text("A row laid."), edits)).result()
    for edit in stays(row_length):
        session.do(edit).result()
    return field.name


def stays(count: int) -> Iterator[Edit]:
    """Yield stays on all paddocks but one, one after another up to today, and a daily check of the last."""
    used = max(1, count - 1)
    first = TODAY - timedelta(days=DAYS_EACH * used - 2)
    for number in range(used):
        came = first + timedelta(days=DAYS_EACH * number)
        out = None if number == used - 1 else came + timedelta(days=DAYS_EACH)
        yield record_stay("group", f"paddock {number}", came, out, uid=f"stay {number}")
    yield record_check(f"paddock {used - 1}", TODAY, group_uid="group", rooting_score=2, fence_kv=5.4, pigs_seen=30)


def longest_row(field: Field, net_mm: int, projection: Projection) -> tuple[Rectangle, ...]:
    """Return the longest row of squares of one net a side that lies in a field, up to eight."""
    best: tuple[Rectangle, ...] = ()
    west, south, east, north = field.outline.bounds
    for x in np.linspace(west, east, 14):
        for y in np.linspace(south, north, 14):
            first = Rectangle(x, y, field.turned_deg, net_mm, net_mm, projection.ground_per_grid)
            for step in ((net_mm, 0), (0, net_mm)):
                row = tuple(inside(first, step, field))
                best = max(best, row, key=len)
                if len(best) == MOST_IN_A_ROW:
                    return best
    return best


def inside(first: Rectangle, step: tuple[int, int], field: Field) -> Iterator[Rectangle]:
    """Yield the rectangles of a row as long as they lie in the field."""
    for number in range(MOST_IN_A_ROW):
        rectangle = first.shifted(step[0] * number, step[1] * number)
        if not field.outline.covers(rectangle.outline):
            return
        yield rectangle


def main(arguments: Sequence[str]) -> int:
    """Run all inputs and print the table."""
    data, out = Path(arguments[0]), Path(arguments[1])
    out.mkdir(parents=True, exist_ok=True)
    seen = [from_image(data, out)]
    for path in sorted((data / "parcels").rglob("*.*")):
        if path.is_file() and not path.name.endswith(".all.geojson"):  # those are the answers to the others
            seen.append(from_outlines(path, out))
            sys.stderr.write(f"{path.name}\n")
    sys.stdout.write(table(COLUMNS, [vars(each) for each in seen]))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
