from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import pigmap.ground.renewal as renewal
from pigmap.ground import FieldGround, Known, prepare
from pigmap.records import Farm, add, change, remove
from tests.benchmarks import ground_case
from tests.ground.invented import check, farm, field, herd, on, paddock, setting, square, stay
from tests.ground.test_properties import LAYERS, Drawn, histories, same, told


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[bool]:
    """Return whether each preparation was made from the one before."""
    found: list[bool] = []
    plain = renewal._renewed

    def watched(*given: object) -> object:
        made = plain(*given)  # type: ignore[arg-type]
        found.append(made is not None)
        return made

    monkeypatch.setattr(renewal, "_renewed", watched)
    return found


def alike(one: FieldGround, other: FieldGround, days: list[int]) -> None:
    assert one.first_day == other.first_day
    for day in days:
        same(one.on(on(day)), other.on(on(day)))
        same(one.cursor().move_to(on(day)), other.on(on(day)))


@settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(histories(), st.data())
def test_ground_after_changes_is_what_it_is_when_all_is_made_anew(drawn: Drawn, data: st.DataObject) -> None:
    known = Known()
    # One stay that is always there keeps the days that are looked at the same.
    always = [
        stay("first", 0, 1, square(18, 18, 2), paddock="x"),
        stay("last", 120, 121, square(18, 18, 2), paddock="x"),
    ]
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(renewal, "_MOST_SHARE", 100.0)
        patched.setattr(renewal, "_MOST_TIMES", 100.0)
        for _ in range(3):
            rows = [row for row in drawn.rows if data.draw(st.booleans())]
            made = told([*rows, *always])
            renewed = prepare(made, "f", known=known)
            alike(renewed, prepare(made, "f"), drawn.days)
            cells = renewed.region_of[renewed.region_of >= 0]
            assert set(np.unique(cells).tolist()) == set(range(renewed.regions))


def spread(*rows: object) -> Farm:
    """Return a farm whose field is large beside each stay."""
    stays = [
        stay(f"s{n}", 3 * n, 3 * n + 3, square(20.0 * (n % 5), 20.0 * (n // 5), 20), paddock="q") for n in range(20)
    ]
    return farm(*herd(), field(), paddock(), *stays, *rows)  # type: ignore[arg-type]


def test_one_more_stay_makes_only_the_ground_it_touches_anew(counted: list[bool]) -> None:
    known, before = Known(), spread()
    one = prepare(before, "f", known=known)
    after = before.after([add(stay("new", 30, 34, square(30, 30, 20)))])
    two = prepare(after, "f", known=known)
    assert counted == [True]
    alike(two, prepare(after, "f"), [0, 20, 31, 34, 60, 300])
    assert two.regions == one.regions + 4
    three = prepare(before, "f", known=known)
    assert counted == [True, True]
    alike(three, one, [0, 20, 31, 34, 60, 300])


def test_what_is_seen_or_moved_or_taken_away_is_followed(counted: list[bool]) -> None:
    known, made = Known(), spread()
    prepare(made, "f", known=known)
    kept = made.stays["s7"]
    for rows in (
        [add(check("c", 12, 3, "q"))],
        [remove(kept)],
        [add(kept)],
        [remove(made.stays["s3"]), remove(made.stays["s4"])],
    ):
        made = made.after(rows)
        alike(prepare(made, "f", known=known), prepare(made, "f"), [5, 12, 24, 90])
    assert counted == [True] * 4


def test_two_stays_that_are_the_same_in_all_are_two(counted: list[bool]) -> None:
    known, made = Known(), spread(*herd("h"), stay("a", 70, 74, square(10, 10), group="h"))
    prepare(made, "f", known=known)
    twin = stay("b", 70, 74, square(10, 10), group="h")
    for row in (add(twin), remove(twin), add(twin), remove(made.stays["a"])):
        made = made.after([row])
        alike(prepare(made, "f", known=known), prepare(made, "f"), [71, 74, 90])
    assert counted == [True] * 4


def test_a_large_change_another_field_and_another_model_are_made_anew(counted: list[bool]) -> None:
    known, before = Known(), spread()
    prepare(before, "f", known=known)
    prepare(before.after([add(stay("all", 40, 42, square(0, 0, 100)))]), "f", known=known)
    assert counted == [False]
    prepare(before.after([add(setting("cover loss", "0.2"))]), "f", known=known)
    smaller = before.after([remove(before.fields["f"]), add(field("f", square(0, 0, 90)))])
    prepare(smaller, "f", known=known)
    assert counted == [False]


def test_ground_that_is_changed_again_and_again_is_made_anew_once_it_falls_into_too_many_pieces(
    counted: list[bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(renewal, "_MOST_TIMES", 0.5)
    known, made = Known(), spread()
    prepare(made, "f", known=known)
    for n in range(40):
        made = made.after([add(stay(f"n{n}", 70 + n, 71 + n, square(2.0 * n, 2.0 * n, 14), group="g"))])
        found = prepare(made, "f", known=known)
    assert True in counted
    assert False in counted
    alike(found, prepare(made, "f"), [60, 90, 120])


def test_on_a_large_farm_a_renewed_cursor_agrees_with_a_fresh_one(
    counted: list[bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ground_case, "STAYS", 300)
    monkeypatch.setattr(ground_case, "SIDE_M", 400.0)
    made, known = ground_case.big_ground(2, snapped=False), Known()
    prepare(made, ground_case.FIELD_UID, known=known)
    ground = ground_case.ground_at(np.random.default_rng(5), False)
    made = made.after([add(ground_case.stay_of(250, ground)), add(ground_case.stay_of(280, ground))])
    renewed, fresh = prepare(made, ground_case.FIELD_UID, known=known), prepare(made, ground_case.FIELD_UID)
    cursor = renewed.cursor()
    for day in (0, 90, 91, 105, 500, 80):
        state = cursor.move_to(ground_case.FIRST_DAY + timedelta(days=day))
        for name in LAYERS:
            np.testing.assert_allclose(
                state.cells(name), fresh.on(state.day).cells(name), rtol=2e-6, atol=3e-6, err_msg=name
            )
    assert counted == [True]


def test_a_change_that_touches_no_ground_leaves_it_as_it_was(counted: list[bool]) -> None:
    known, before = Known(), spread()
    first = prepare(before, "f", known=known)
    (its,) = [row for row in before.fields.values() if row.uid == "f"]
    after = before.after([change(its, replace(its, name="Another"))])
    renewed = prepare(after, "f", known=known)
    assert counted == [True]
    alike(renewed, first, [0, 10, 40, 90])
    later = prepare(spread(stay("new", 70, 74, square(3, 3, 8), paddock="q")), "f", known=known)
    alike(later, prepare(spread(stay("new", 70, 74, square(3, 3, 8), paddock="q")), "f"), [0, 40, 72, 90])
