"""A farm file of half a million rows, made once and kept beside the other inputs of the benchmarks."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from itertools import islice
from pathlib import Path
from random import Random

import shapely

from pigmap.records import Check, Field, Group, Paddock, Photo, Record, Stay, StayState, add, new_uid
from pigmap.store import FarmFile
from pigmap.store.connection import connect
from pigmap.store.migrations import STEPS
from pigmap.store.pictures import Picture, keep
from pigmap.text import Text
from tests.benchmarks.map_rasters import folder
from tests.store.made import PROJECTION

ROWS, FEW_ROWS = 500_000, 20_000
PADDOCKS, STAYS_SHARE, FIELDS, GROUPS = 2_000, 0.08, 5, 8
FIRST = date(2006, 1, 1)
BATCH = 20_000
PHOTOS, FEW_PHOTOS, PHOTO_BYTES, SMALL_PHOTO_BYTES, PHOTOS_AT_ONCE = 1_600, 100, 200_000, 12_000, 100
NOTE = "fence walked round, two posts set upright, water full, all lively; wallow dry, shade moved"
"""So long that the file of half a million rows is of the size that the goals name."""


def farm_of_rows(rows: int) -> Path:
    """Return a farm file with so many rows; made where it is not there yet."""
    path = folder() / f"farm of {rows}, step {len(STEPS)}.gpkg"
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f"{path.stem} part.gpkg")
        part.unlink(missing_ok=True)
        file = FarmFile.create(part, PROJECTION)
        every = _rows(rows)
        while batch := [add(row) for row in islice(every, BATCH)]:
            file.write(Text("Many rows"), batch, made_by="benchmark")
        file.close()
        part.replace(path)
    return path


def farm_with_photos(photos: int) -> Path:
    """Return a farm file with so many photos of `PHOTO_BYTES` in it; made where it is not there yet."""
    path = folder() / f"farm of {photos} photos, step {len(STEPS)}.gpkg"
    if not path.is_file():
        part = path.with_name(f"{path.stem} part.gpkg")
        shutil.copyfile(farm_of_rows(FEW_ROWS), part)
        chance = Random(2)
        for number in range(0, photos, PHOTOS_AT_ONCE):
            keep(part, [_picture(chance) for _ in range(min(PHOTOS_AT_ONCE, photos - number))])
        with closing(connect(part, read_only=True)) as db:
            names = [name for (name,) in db.execute("SELECT sha256 FROM pigmap_pictures")]
        rows = [add(Photo(sha256=name, width_px=2048, height_px=1536, taken_on=FIRST)) for name in names]
        file = FarmFile.open(part)
        file.write(Text("Photos"), rows, made_by="benchmark")
        file.close()
        part.replace(path)
    return path


def _picture(chance: Random) -> Picture:
    """Return what is as large as a photo; nothing that is measured looks at it."""
    data = chance.randbytes(PHOTO_BYTES)
    return Picture(hashlib.sha256(data).hexdigest(), "image/jpeg", data, data[:SMALL_PHOTO_BYTES])


def _rows(rows: int) -> Iterator[Record]:
    chance = Random(1)
    fields = [_field(number) for number in range(FIELDS)]
    groups = [Group(name=f"Group {number}", colour_index=number) for number in range(GROUPS)]
    paddocks = [_paddock(number, fields[number % FIELDS]) for number in range(PADDOCKS)]
    yield from (*fields, *groups, *paddocks)
    stays = round(rows * STAYS_SHARE)
    for number in range(stays):
        yield _stay(chance, number, stays, groups[number % GROUPS], paddocks)
    for number in range(rows - stays - FIELDS - GROUPS - PADDOCKS):
        yield _check(chance, groups[number % GROUPS], paddocks[number % PADDOCKS])


def _field(number: int) -> Field:
    outline = shapely.MultiPolygon([shapely.box(number * 1100, 0, number * 1100 + 1050, 1050)])
    return Field(name=f"Field {number}", outline=outline, origin_x_m=0.0, origin_y_m=0.0, turned_deg=0.0)


def _paddock(number: int, field: Field) -> Paddock:
    west, south, _, _ = field.outline.bounds
    at = number // FIELDS
    x, y = west + 50 * (at % 20) + 1, south + 50 * (at // 20) + 1
    return Paddock(name=f"{number}", field_uid=field.uid, outline=shapely.box(x, y, x + 48, y + 48))


def _stay(chance: Random, number: int, stays: int, group: Group, paddocks: list[Paddock]) -> Stay:
    in_on = FIRST + timedelta(days=number * 7000 // stays)
    paddock = chance.choice(paddocks)
    return Stay(
        group_uid=group.uid,
        paddock_uid=paddock.uid,
        ground=paddock.outline,
        state=StayState.PAST,
        in_on=in_on,
        out_on=in_on + timedelta(days=4),
    )


def _check(chance: Random, group: Group, paddock: Paddock) -> Check:
    return Check(
        uid=new_uid(),
        checked_on=FIRST + timedelta(days=chance.randrange(7000)),
        group_uid=group.uid,
        paddock_uid=paddock.uid,
        point=shapely.Point(chance.uniform(0, 5000), chance.uniform(0, 1000)),
        fence_kv=round(chance.uniform(3, 8), 1),
        pigs_seen=chance.randrange(10, 30),
        water_ok=True,
        note=NOTE,
    )


def let_go_of(path: Path) -> None:
    """Have the system forget what it has read of a file, so that it is read off the disk next time."""
    descriptor = os.open(path, os.O_RDONLY)
    try:
        os.fsync(descriptor)
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(descriptor, 0, 0, os.POSIX_FADV_DONTNEED)
    finally:
        os.close(descriptor)
