"""What the ghost says to carry where the chosen kind of net is short and others are spare."""

from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import add_net_kind, place_paddock, record_stay
from pigmap.drawing.words import render
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)


def farm(short: int) -> Farm:
    """Return a farm whose 50 m nets stand all but two, with so many nets of 25 m."""
    far = Rectangle(200.0, 10.0, 0.0, 150_000, 100_000)
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(far, net_kind_uid=KIND, uid="far"),
        record_stay(OTHERS, "far", DAY),
        add_net_kind("25 m nets", (3572,) * 7, nets=short, uid="short"),
    )


def judged(on: Farm, rectangle: Rectangle) -> Judgement:
    return judge(on, {}, rectangle, on.net_kinds[KIND], MOVE, group_uid=GROUP)


def test_nets_of_another_length_that_fill_in_are_the_remedy_and_a_reason() -> None:
    found = judged(farm(8), square(1))
    assert (found.nets_to_carry, found.spare_nets) == (3, 2)
    (warning,) = found.warnings
    assert render(warning.text) == "1 net short: it takes 3, 2 are spare."
    assert render(warning.remedy) == "Carry 2 \u00d7 50 m, 2 \u00d7 25 m: nets of other lengths close it too."
    assert render(warning.reasons[0]) == "nets of another length fill in"
    assert not warning.hard


def test_where_all_together_are_too_few_the_remedy_is_another() -> None:
    for few in (0, 1):
        (warning,) = judged(farm(few), square(1)).warnings
        assert render(warning.remedy) == "Share a longer side, or take nets up elsewhere first."
        assert "nets of another length fill in" not in [render(reason) for reason in warning.reasons]
