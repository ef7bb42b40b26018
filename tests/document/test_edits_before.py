from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.document.edits import Before, change_purpose, set_purpose, tell_before, tell_before_of_field
from pigmap.errors import EditError
from pigmap.geometry.brush import brushed
from pigmap.ground.told import told_shares
from pigmap.records import Edit, Farm, GroundJobKind, Use
from pigmap.records.season import Season, about_season
from tests.document.example_farm import FIELD, done, example, only

NEVER = Before(kind=GroundJobKind.NEVER_USED)
AUTUMN = about_season(Season.AUTUMN, 2024)
HARD = Before(kind=GroundJobKind.USED_BEFORE, happened_on=AUTUMN.day, within_days=AUTUMN.within_days, rooting_score=3)


def refused(edit: Edit, farm: Farm) -> tuple[str, str]:
    with pytest.raises(EditError) as error:
        edit(farm)
    return str(error.value.message), str(error.value.remedy)


def test_a_whole_field_is_told_of_as_it_is_drawn() -> None:
    edit = tell_before_of_field(FIELD, NEVER, name="Long Field")
    farm = done(example(), edit)
    job = only(farm.ground_jobs)
    assert job.kind is GroundJobKind.NEVER_USED
    assert job.shape.equals(farm.fields[FIELD].outline)
    assert str(edit.label) == "Told of Long Field: never used."
    assert str(tell_before_of_field(FIELD, NEVER).label) == "Told of a field: never used."


def test_a_stroke_is_kept_where_it_lies_in_a_field() -> None:
    farm = example()
    west, south, *_ = farm.fields[FIELD].outline.bounds
    stroke = brushed([(west - 50, south + 20), (west + 50, south + 20)], 10.0)
    edit = tell_before(stroke, HARD)
    job = only(done(farm, edit).ground_jobs)
    assert (job.happened_on, job.within_days, job.rooting_score) == (date(2024, 10, 16), 45, 3)
    assert farm.fields[FIELD].outline.buffer(1e-6).contains(job.shape)
    assert job.shape.area == pytest.approx(stroke.intersection(farm.fields[FIELD].outline).area)
    assert str(edit.label) == "Told of part of a field: pigs about autumn 2024, hard."


def test_a_stroke_off_all_fields_is_refused_in_words() -> None:
    assert refused(tell_before(shapely.box(-900, -900, -800, -800), NEVER), example()) == (
        "What was brushed touches no field.",
        "Brush inside a field, or draw a field there first (D).",
    )


def test_a_field_that_is_gone_is_said_to_be_gone() -> None:
    assert refused(tell_before_of_field("x", NEVER), example()) == (
        "The field is not there any more: it was removed meanwhile.",
        "Undo brings it back, or choose another field.",
    )


def test_a_use_without_a_day_is_asked_for_one() -> None:
    with pytest.raises(EditError) as error:
        Before(kind=GroundJobKind.USED_BEFORE, rooting_score=2)
    assert str(error.value.message) == "Nobody said when pigs were there."
    assert str(error.value.remedy) == "Say about when, such as autumn 2024; or say that what was before is not known."


def test_work_on_the_ground_does_not_tell_what_was_before() -> None:
    with pytest.raises(EditError) as error:
        Before(kind=GroundJobKind.HAY)
    assert str(error.value.message) == "Hay is work on the ground: it does not tell what was before."
    assert str(error.value.remedy) == "Choose one of: used before, never used, unknown."


def test_when_and_how_hard_belong_to_a_use_alone() -> None:
    never = Before(kind=GroundJobKind.NEVER_USED, happened_on=AUTUMN.day, within_days=45, rooting_score=2)
    job = only(done(example(), tell_before_of_field(FIELD, never)).ground_jobs)
    assert (job.happened_on, job.within_days, job.rooting_score) == (None, None, None)


def test_what_is_told_later_lies_on_top() -> None:
    farm = example()
    outline = farm.fields[FIELD].outline
    west, south, east, north = outline.bounds
    half = shapely.box(west, south, (west + east) / 2, north)
    farm = done(farm, tell_before_of_field(FIELD, NEVER, uid="a"), tell_before(half, HARD, uid="b"))
    assert [farm.ground_jobs[uid].position for uid in ("a", "b")] == [0, 1]
    shares = {job.uid if job else "": share for job, share in told_shares(farm, farm.fields[FIELD])}
    assert shares.keys() == {"a", "b"}
    assert shares["b"] == pytest.approx(half.intersection(outline).area / outline.area, abs=0.01)
    again = done(farm, tell_before_of_field(FIELD, Before(kind=GroundJobKind.UNKNOWN), uid="c"))
    ((job, share),) = told_shares(again, again.fields[FIELD])
    assert job is not None
    assert (job.uid, round(share, 6)) == ("c", 1.0)


def test_ground_that_nobody_told_of_has_its_share_too() -> None:
    farm = example()
    ((job, share),) = told_shares(farm, farm.fields[FIELD])
    assert (job, share) == (None, 1.0)


def test_one_stroke_is_one_edit_that_undo_takes_back() -> None:
    farm = example()
    rows = tell_before_of_field(FIELD, NEVER)(farm)
    assert len(rows) == 1
    assert not farm.after(rows).after([row.inverse() for row in rows]).ground_jobs


def test_a_part_of_the_year_is_changed_and_the_edit_named() -> None:
    farm = done(example(), set_purpose(FIELD, "03-01", "10-31", Use.GRAZE_LIGHTLY, uid="p"))
    edit = change_purpose("p", purpose=Use.TURN_OVER, to_month_day="11-30", rooting_wanted=0.8)
    after = done(farm, edit).purposes["p"]
    assert (after.purpose, after.from_month_day, after.to_month_day, after.rooting_wanted) == (
        Use.TURN_OVER,
        "03-01",
        "11-30",
        0.8,
    )
    assert str(edit.label) == "Purpose changed."
