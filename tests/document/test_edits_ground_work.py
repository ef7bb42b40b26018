from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
import shapely

from pigmap.document.edits import GroundWork, tell_work, tell_work_of_field
from pigmap.errors import EditError
from pigmap.records import Farm, GroundJob, GroundJobKind
from tests.ground.invented import farm, field, square

DAY = date(2026, 3, 2)
MANURE = GroundWork(kind=GroundJobKind.MANURE, happened_on=DAY, n_kg_ha=80.0)


def job_of(found: Farm, work: GroundWork, shape: shapely.Polygon | None = None) -> tuple[GroundJob, str]:
    edit = tell_work_of_field("f", work, name="Field f") if shape is None else tell_work(shape, work)
    (row,) = edit.changes(found)
    assert isinstance(row.after, GroundJob)
    return row.after, str(edit.label)


def test_manure_on_a_field_has_its_nitrogen_and_says_so() -> None:
    job, label = job_of(farm(field()), MANURE)
    assert job.shape.equals(field().outline)
    assert (job.kind, job.happened_on, job.n_kg_ha) == (GroundJobKind.MANURE, DAY, 80.0)
    assert label == "Told of Field f: manure on 2026-03-02, 80 kg/ha of nitrogen."


def test_sown_ground_says_up_to_when_no_pigs_are_to_come() -> None:
    work = GroundWork(kind=GroundJobKind.SEEDED, happened_on=DAY, until_on=date(2026, 6, 1), n_kg_ha=9.0)
    job, label = job_of(farm(field()), work)
    assert job.until_on == date(2026, 6, 1)
    assert job.n_kg_ha is None  # nitrogen belongs to manure
    assert label == "Told of Field f: sown on 2026-03-02, no pigs up to 2026-06-01."


def test_what_is_brushed_beside_a_field_is_left_out() -> None:
    job, label = job_of(farm(field()), replace(MANURE, kind=GroundJobKind.HAY), square(50, 0, 100, 100))
    assert job.shape.area == pytest.approx(5000.0)
    assert label == "Told of part of a field: hay cut on 2026-03-02."


def test_work_that_touches_no_field_is_refused_with_what_to_do() -> None:
    with pytest.raises(EditError, match=r"touches no field") as error:
        tell_work(square(500, 500), MANURE).changes(farm(field()))
    assert "draw a field" in error.value.remedy.id


def test_a_last_day_before_the_first_is_refused_with_what_to_do() -> None:
    with pytest.raises(EditError, match=r"2026-03-01 comes before 2026-03-02") as error:
        replace(MANURE, until_on=date(2026, 3, 1))
    assert "not before it" in error.value.remedy.id


def test_what_was_before_is_no_work() -> None:
    with pytest.raises(EditError, match=r"it is no work on the ground") as error:
        GroundWork(kind=GroundJobKind.NEVER_USED, happened_on=DAY)
    assert "seeded, harrowed, hay" in error.value.remedy.id
