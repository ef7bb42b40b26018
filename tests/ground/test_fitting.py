from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import numpy as np
import pytest

from pigmap.drawing.words import render
from pigmap.ground import FieldGround, prepare, tables
from pigmap.ground.fitting import Learned, learned
from pigmap.ground.model import model_of
from pigmap.ground.observed import observed_on
from pigmap.records import Check, Farm, GroundCover, Paddock, Record
from tests.ground.invented import START, farm, field, herd, on, setting, square, stay

LATE = on(700)


def ground_of(number: int, *, wood: bool = False) -> tuple[float, float]:
    return (1000.0 if wood else 0.0) + 50.0 * (number % 10), 50.0 * (number // 10)


def visited(visits: int, *, after_rest: bool = True, wood: int = 0, loss: float = 1.0, regrowth: float = 1.0) -> Farm:
    """Return an invented farm whose checks score what the model with other numbers says, in quarters."""
    rows: list[Record] = [
        *herd(),
        *herd("w"),
        field(outline=square(0, 0, 500, 400)),
        field("wood", square(1000, 0, 500, 400), GroundCover.WOODLAND),
        setting("cover loss", str(tables.LOSS_M2_KG_D * loss)),
        setting("cover regrowth", str(tables.REGROWTH_PER_C_D * regrowth)),
    ]
    checks: list[Check] = []
    for number in range(visits + wood):
        in_wood = number >= visits
        west, south = ground_of(number, wood=in_wood)
        first, length = 9 * number % 400, 2 + number % 7
        uid = f"p{number}"
        rows += [
            Paddock(
                uid=uid, name=f"Paddock {number}", outline=square(west, south), field_uid="wood" if in_wood else "f"
            ),
            stay(f"s{number}", first, first + length, square(west, south), group="w" if in_wood else "g", paddock=uid),
        ]
        looked = first + length + (20 + 5 * (number % 5) if after_rest and number % 2 else 0)
        checks.append(Check(uid=f"c{number}", checked_on=on(looked), paddock_uid=uid, rooting_score=0))
    made = farm(*rows)
    grounds = {uid: prepare(made, uid) for uid in made.fields}
    scored = [replace(check, rooting_score=score_of(made, grounds, check)) for check in checks]
    return replace(made, checks=MappingProxyType({check.uid: check for check in scored}), settings=MappingProxyType({}))


def score_of(made: Farm, grounds: dict[str, FieldGround], check: Check) -> int:
    paddock = made.paddocks[check.paddock_uid]
    under = grounds[paddock.field_uid or ""].on(check.checked_on).under(paddock.outline)
    assert under is not None
    return int(np.floor(4 * under.rooting + 0.5))


def test_numbers_that_made_the_scores_are_found_again() -> None:
    found = learned(visited(60, loss=1.6, regrowth=0.7), LATE)
    assert found.visits == 60
    assert found.rms is not None
    assert found.rms < 0.1 < found.rms_before
    for number, times in ((found.loss, 1.6), (found.regrowth, 0.7)):
        assert number.log_se is not None
        assert abs(np.log(number.value / number.printed / times)) < 0.17
        assert 0.0 < number.log_se < 0.3
    assert found.wood == (0.68, 0.68, None)
    assert render(found.words) == "Fitted on 60 visits."


def test_numbers_from_print_are_kept_where_they_made_the_scores() -> None:
    found = learned(visited(60), LATE)
    assert found.loss.value == pytest.approx(found.loss.printed, rel=0.25)  # scores are quarters
    for number in (found.loss, found.regrowth):
        assert number.log_se is not None
        assert abs(np.log(number.value / number.printed)) < 2 * number.log_se


def test_scores_of_ground_as_green_as_it_gets_ask_for_no_other_numbers() -> None:
    made = visited(12)
    later = {
        uid: replace(row, checked_on=row.checked_on + timedelta(days=200), rooting_score=0)
        for uid, row in made.checks.items()
    }
    found = learned(replace(made, checks=MappingProxyType(later)), LATE)
    assert found.loss.value == pytest.approx(found.loss.printed, rel=0.02)
    assert found.regrowth.value == pytest.approx(found.regrowth.printed, rel=0.05)


def test_under_ten_visits_nothing_is_fitted_and_words_say_how_many_there_are() -> None:
    found = learned(visited(9, loss=2.0), LATE)
    assert not found.is_fitted
    assert found.loss.value == found.loss.printed
    assert found.loss.log_se is None
    assert all(row.learned is None for row in found.rows)
    assert render(found.words) == (
        "There are 9 daily checks with a rooting on ground used before; it takes 10 to learn from. Score the rooting "
        "at daily checks, and of ground that rests as well."
    )
    assert learned(visited(10, loss=2.0), LATE).is_fitted


def test_a_farm_without_checks_has_nothing_to_learn_from() -> None:
    found = learned(farm(field()), LATE)
    assert (found.visits, found.rows, found.rms, found.rms_before) == (0, (), None, 0.0)


def test_regrowth_is_left_as_printed_without_checks_after_rests() -> None:
    found = learned(visited(30, after_rest=False, loss=1.5), LATE)
    assert found.regrowth == (tables.REGROWTH_PER_C_D, tables.REGROWTH_PER_C_D, None)
    assert found.loss.value / found.loss.printed == pytest.approx(1.5, rel=0.2)


@pytest.mark.parametrize(("wood", "is_fitted"), [(4, False), (5, True), (25, True)])
def test_the_factor_of_woods_wants_five_visits_there(wood: int, is_fitted: bool) -> None:
    made = visited(20, wood=wood, loss=1.3)
    found = learned(made, LATE)
    assert found.visits == 20 + wood
    assert (found.wood.log_se is not None) == is_fitted
    if wood == 25:
        assert found.wood.value == pytest.approx(0.68, rel=0.25)
        assert found.loss.value / found.loss.printed == pytest.approx(1.3, rel=0.2)


def test_what_the_farm_computes_with_now_changes_nothing_of_what_is_learned() -> None:
    made = visited(20, loss=1.4)
    own = setting("cover loss", "0.4")
    assert learned(replace(made, settings=MappingProxyType({own.uid: own})), LATE) == learned(made, LATE)


def test_the_priors_hold_back_numbers_that_few_scores_ask_for() -> None:
    ten, many = (learned(visited(count, loss=3.0), LATE).loss for count in (10, 60))
    assert ten.printed < ten.value
    assert ten.log_se is not None
    assert many.log_se is not None
    assert many.log_se < ten.log_se < 0.5


def test_only_checks_up_to_the_day_count_and_of_several_on_one_day_the_last() -> None:
    made = visited(20)
    days = sorted(check.checked_on for check in made.checks.values())
    assert learned(made, days[11]).visits == 12
    again = replace(made.checks["c3"], uid="d3", rooting_score=4)
    found = learned(replace(made, checks=MappingProxyType({**made.checks, "d3": again})), LATE)
    assert found.visits == 20
    (row,) = (row for row in found.rows if row.check.paddock_uid == "p3")
    assert row.seen == 1.0


def test_checks_of_ground_that_was_never_used_tell_nothing() -> None:
    made = visited(12)
    beside = Paddock(uid="beside", name="Beside", outline=square(0, 350), field_uid="f")
    look = Check(uid="look", checked_on=on(50), paddock_uid="beside", rooting_score=3)
    early = replace(made.checks["c5"], uid="early", checked_on=START - timedelta(days=1))
    made = replace(
        made,
        paddocks=MappingProxyType({**made.paddocks, "beside": beside}),
        checks=MappingProxyType({**made.checks, "look": look, "early": early}),
    )
    assert learned(made, LATE).visits == 12


def test_what_is_expected_is_the_ground_as_if_nobody_had_looked() -> None:
    made = visited(15)
    bare = prepare(replace(made, checks=MappingProxyType({})), "f")
    for row in learned(made, LATE).rows:
        under = bare.on(row.check.checked_on).under(made.paddocks[row.check.paddock_uid].outline)
        assert under is not None
        assert row.expected == pytest.approx(under.rooting, abs=1e-5)


def test_a_check_while_pigs_are_there_is_computed_up_to_its_day() -> None:
    made = visited(10)
    first = min((row for row in made.stays.values()), key=lambda row: row.in_on)
    look = Check(uid="mid", checked_on=first.in_on + timedelta(days=1), paddock_uid=first.paddock_uid, rooting_score=2)
    (its,) = observed_on(replace(made, checks=MappingProxyType({"mid": look})), LATE)
    model = model_of(made, made.fields["f"])
    under = prepare(replace(made, checks=MappingProxyType({})), "f").on(look.checked_on).under(first.ground)
    assert under is not None
    assert its.computed(model) == pytest.approx([under.rooting], abs=1e-6)
    assert its.seen.tolist() == [0.5]
    assert not its.after_rest.any()


def test_rows_come_in_order_of_time() -> None:
    found: Learned = learned(visited(15), LATE)
    assert [row.check.checked_on for row in found.rows] == sorted(row.check.checked_on for row in found.rows)
    assert {row.field_uid for row in found.rows} == {"f"}
