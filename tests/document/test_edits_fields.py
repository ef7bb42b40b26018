from __future__ import annotations

import pytest
import shapely
from shapely import affinity

from pigmap.document.edits import add_field, reshape_field, set_purpose
from pigmap.errors import EditError
from pigmap.records import Use
from tests.document.example_farm import FIELD, done, empty, example, only


def test_a_new_field_gets_a_frame_of_its_own_direction_from_its_own_corner() -> None:
    outline = affinity.translate(affinity.rotate(shapely.box(0, 0, 200, 100), 30, origin=(0, 0)), 500_000, 5_000_000)
    field = only(done(empty(), add_field("Ley", outline)).fields)
    assert field.turned_deg == pytest.approx(30)
    assert (field.origin_x_m, field.origin_y_m) == pytest.approx((500_000, 5_000_000))


def test_the_same_edit_gives_the_same_rows_each_time() -> None:
    edit = add_field("Ley", shapely.box(0, 0, 10, 10))
    assert edit(empty()) == edit(example())
    assert str(edit.label) == "Ley added."


def test_a_reshaped_field_keeps_its_frame() -> None:
    farm = example()
    before = farm.fields[FIELD]
    after = done(farm, reshape_field(FIELD, shapely.box(-50, -50, 300, 90))).fields[FIELD]
    assert after.outline.area == 350 * 140
    assert (after.origin_x_m, after.origin_y_m, after.turned_deg) == (
        before.origin_x_m,
        before.origin_y_m,
        before.turned_deg,
    )


def test_an_outline_without_ground_is_refused_in_words() -> None:
    with pytest.raises(EditError) as refused:
        add_field("Ley", shapely.Polygon())
    assert str(refused.value) == "Ley encloses no ground. Draw at least three corners."


def test_an_outline_that_crosses_itself_is_refused_in_words() -> None:
    bow = shapely.Polygon([(0, 0), (10, 10), (10, 0), (0, 10), (0, 0), (0, -5), (20, -5)])
    with pytest.raises(EditError) as refused:
        done(example(), reshape_field(FIELD, bow))
    assert str(refused.value) == "The edge of Long Field crosses itself. Move a corner so that it goes round once."


def test_a_field_that_is_gone_is_said_to_be_gone() -> None:
    for edit in (reshape_field("x", shapely.box(0, 0, 1, 1)), set_purpose("x", "03-15", "11-01", Use.GRAZE_LIGHTLY)):
        with pytest.raises(EditError) as refused:
            done(example(), edit)
        assert str(refused.value) == (
            "The field is not there any more: it was removed meanwhile. Undo brings it back, or choose another field."
        )


def test_a_purpose_is_added_to_its_field() -> None:
    farm = done(example(), set_purpose(FIELD, "03-15", "11-01", Use.GRAZE_LIGHTLY, rest_days_wanted=85))
    assert only(farm.purposes).rest_days_wanted == 85
