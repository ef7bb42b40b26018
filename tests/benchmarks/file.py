"""The farm file at half a million rows: what an edit costs, and how soon a cold file is seen."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from statistics import median

from shapely import affinity

from pigmap.records import Check, Edit, Farm, RowChange, Stay, StayState, add, change, new_uid
from pigmap.session import Session
from pigmap.store import FarmFile
from pigmap.text import Text
from tests.benchmarks.file_case import (
    FEW_PHOTOS,
    FEW_ROWS,
    PHOTOS,
    ROWS,
    farm_of_rows,
    farm_with_photos,
    let_go_of,
)
from tests.benchmarks.sticks import Measured, Watch, child_environment, quantile, run
from tests.faults.recording_vfs import RecordingVfs
from tests.faults.through_apsw import session_through
from tests.store.made import PROJECTION


def measure_file(*, quick: bool) -> dict[str, Measured]:
    """Measure every goal of the farm file."""
    whole = farm_of_rows(FEW_ROWS if quick else ROWS)
    with tempfile.TemporaryDirectory() as named:
        path = Path(named) / "farm.gpkg"
        shutil.copyfile(whole, path)
        found = _first_picture(path, Path(named), repeats=2 if quick else 5)
        found |= _cpu(path, edits=40 if quick else 300)
        found |= _syncs(path, edits=10)
    return found | _with_photos(quick=quick)


def _with_photos(*, quick: bool) -> dict[str, Measured]:
    """Open a cold farm with many photos in it, and the same farm without them, in turn, in this process."""
    photos = FEW_PHOTOS if quick else PHOTOS
    whole, bare = farm_with_photos(photos), farm_of_rows(FEW_ROWS)
    took: dict[Path, list[float]] = {whole: [], bare: []}
    for turn in range(4 if quick else 12):
        for each, times in took.items():
            let_go_of(each)
            watch = Watch()
            file = FarmFile.look(each)
            file.read()
            spent = watch.spent()
            file.close()
            if turn:
                times.append(spent.wall)
    later = median(took[whole]) - median(took[bare])
    note = f"{median(took[whole]):.0f} ms against {median(took[bare]):.0f} ms; {_size(whole)}, {photos} photos, cold"
    return {"photos-open": Measured(later, note=note)}


def _first_picture(path: Path, folder: Path, repeats: int) -> dict[str, Measured]:
    """Start the program on the file and on a farm with nothing in it, in turn, each to its first complete frame."""
    bare = folder / "bare.gpkg"
    Session.create(bare, PROJECTION, "Bare").close()
    took: dict[Path, list[float]] = {path: [], bare: []}
    with child_environment() as environment:
        for turn in range(repeats + 1):
            for each, times in took.items():
                let_go_of(each)
                spent, _ = run(["-m", "tests.benchmarks.loop_frame", str(each)], environment)
                if turn:
                    times.append(spent * 1000)
    later = median(took[path]) - median(took[bare])
    against = f"{median(took[path]):.0f} ms against {median(took[bare]):.0f} ms of an empty farm"
    note = f"{against}; {_size(path)}, cold; colours follow"
    return {"first-picture": Measured(later, note=note)}


def _size(path: Path) -> str:
    return f"{path.stat().st_size / 1e6:.0f} MB"


def _cpu(path: Path, edits: int) -> dict[str, Measured]:
    """Edit and undo through a session in line: all of it runs on this thread."""
    with Session.open(path) as session:
        made, taken = [], []
        for edit in _edits(edits):
            watch = Watch()
            session.do(edit).result()
            made.append(watch.spent())
            watch = Watch()
            session.undo().result()
            taken.append(watch.spent())
    return {
        name: Measured(
            quantile([each.cpu for each in spent], 0.99),
            note=f"half of them within {quantile([each.cpu for each in spent], 0.5):.2f} ms; by the clock 99 of 100 "
            f"within {quantile([each.wall for each in spent], 0.99):.0f} ms",
        )
        for name, spent in (("edit-cpu", made), ("undo-cpu", taken))
    }


def _syncs(path: Path, edits: int) -> dict[str, Measured]:
    vfs = RecordingVfs(f"counting {path}")
    counts: dict[str, list[int]] = {"edit-syncs": [], "undo-syncs": []}
    with session_through(path, vfs.name_of) as session:
        for edit in _edits(edits):
            for name, done in (("edit-syncs", lambda edit=edit: session.do(edit)), ("undo-syncs", session.undo)):
                vfs.ops.clear()
                done().result()
                counts[name].append(sum(op.kind == "sync" or (op.kind == "unlink" and op.at > 0) for op in vfs.ops))
    vfs.unregister()
    return {name: Measured(float(max(each)), note="the most of any") for name, each in counts.items()}


def _edits(count: int) -> list[Edit]:
    """Return edits of the kinds that people make: a check, a name, a reshaped paddock, a group that moves."""
    kinds: tuple[Callable[[Farm], list[RowChange]], ...] = (_checked, _named, _reshaped, _moved)
    return [Edit(Text("Something"), kinds[number % len(kinds)]) for number in range(count)]


def _checked(farm: Farm) -> list[RowChange]:
    group, paddock = next(iter(farm.groups.values())), next(iter(farm.paddocks.values()))
    return [add(Check(checked_on=date(2026, 5, 1), group_uid=group.uid, paddock_uid=paddock.uid, pigs_seen=12))]


def _named(farm: Farm) -> list[RowChange]:
    group = next(iter(farm.groups.values()))
    return [change(group, replace(group, name=f"{group.name[:20]}, again"))]


def _reshaped(farm: Farm) -> list[RowChange]:
    paddock = next(iter(farm.paddocks.values()))
    return [change(paddock, replace(paddock, outline=affinity.translate(paddock.outline, 0.5, 0.5)))]


def _moved(farm: Farm) -> list[RowChange]:
    """Return the five rows of a group that goes to a new paddock."""
    old, group = next(iter(farm.paddocks.values())), next(iter(farm.groups.values()))
    new = replace(old, uid=new_uid(), name="new")
    stay = Stay(
        group_uid=group.uid, paddock_uid=new.uid, ground=new.outline, state=StayState.RUNNING, in_on=date(2026, 5, 1)
    )
    check = Check(checked_on=date(2026, 5, 1), group_uid=group.uid, paddock_uid=new.uid)
    kept = change(group, replace(group, name=f"{group.name[:20]}, moved"))
    return [add(new), add(stay), add(check), kept, change(old, replace(old, name=f"{old.name[:20]}, left"))]
