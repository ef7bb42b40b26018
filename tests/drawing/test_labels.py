from __future__ import annotations

from itertools import combinations

import numpy as np

from pigmap.drawing.label_looks import Sized
from pigmap.drawing.labels import Decluttering, Set, declutter
from pigmap.drawing.layer import Label
from pigmap.drawing.letters import breadth, shortened, wrapped
from pigmap.drawing.view import View

VIEW = View(0.0, 0.0, 1.0, 800.0, 600.0)


def _overlap(one: Set, other: Set) -> bool:
    left, top = one.label.x_m + one.left, -one.label.y_m + one.top
    far_left, far_top = other.label.x_m + other.left, -other.label.y_m + other.top
    return (
        left < far_left + other.width
        and far_left < left + one.width
        and top < far_top + other.height
        and far_top < top + one.height
    )


def test_no_two_labels_that_found_room_overlap() -> None:
    labels = [Label(37.0 * (n % 11), 23.0 * (n % 7), f"Paddock {n}", priority=n) for n in range(80)]
    placed = declutter(labels, VIEW)
    assert 5 < len(placed) < 80
    assert not any(_overlap(one, other) for one, other in combinations(placed, 2))


def test_who_finds_room_among_thousands_does_not_depend_on_how_they_are_searched() -> None:
    rng = np.random.default_rng(3)
    spots = rng.uniform(0, 900, (700, 2)).tolist()
    labels = [Label(x, y, f"Paddock {n}" * (1 + n % 9 // 8), priority=n % 5) for n, (x, y) in enumerate(spots)]
    asked = sorted(labels, key=lambda label: -label.priority)
    alone = {label: declutter([label], VIEW)[0] for label in asked}
    expected: list[Set] = []
    for label in asked:
        if not any(_overlap(alone[label], other) for other in expected):
            expected.append(alone[label])
    assert 50 < len(expected) < 600
    assert declutter(labels, VIEW) == tuple(expected)


def test_labels_searched_in_slices_of_time_are_those_of_one_search() -> None:
    labels = [Label(37.0 * (n % 11), 23.0 * (n % 7), f"Paddock {n}", priority=n) for n in range(180)]
    work = Decluttering(Sized(labels, paper=False), VIEW)
    slices = 1
    while not work.go_on(0.0):
        slices += 1
    assert slices > 2
    assert tuple(work.found) == declutter(labels, VIEW)


def test_the_more_important_of_two_keeps_its_place() -> None:
    placed = declutter([Label(0, 0, "less", priority=1), Label(3, 0, "more", priority=2)], VIEW)
    assert [each.label.words for each in placed] == ["more"]


def test_a_second_line_goes_first_then_the_words_leave_the_sign() -> None:
    plate = {"look": "plate", "sign": "group 0 D"}
    wide, narrow, tiny = (
        declutter([Label(0, 0, "Paddock 8", "day 4 of 5", room_m=room, **plate)], VIEW)[0]  # type: ignore[arg-type]
        for room in (200, 111, 40)
    )
    assert (wide.words, wide.second) == ("Paddock 8", "day 4 of 5")
    assert narrow.words == "Paddock 8"
    assert (tiny.words, tiny.second) == ("", "")


def test_a_map_that_moves_keeps_its_words() -> None:
    labels = [Label(37.0 * (n % 11), 23.0 * (n % 7), f"Paddock {n}", priority=n) for n in range(80)]
    moved = View(4321.0, -99.0, 1.0, 64.0, 64.0)
    assert declutter(labels, VIEW) == declutter(labels, moved)


def test_far_away_a_label_is_left_out() -> None:
    assert declutter([Label(0, 0, "tap", smallest_scale=0.5)], VIEW) == ()


def test_lines_are_no_broader_than_their_room() -> None:
    words = "Keep nets, poles and the vehicle clear of the overhead line."
    lines = wrapped(words, 40.0, 2.6)
    assert " ".join(lines) == words
    assert len(lines) > 1
    assert all(breadth(line, 2.6) <= 40.0 for line in lines)
    assert breadth(shortened(words, 20.0, 2.6), 2.6) <= 20.0


def test_words_grow_short_where_the_thing_is_small_and_then_they_go() -> None:
    label = Label(0, 0, "Tue 22 Dec", short="Tue 22", look="plan plate", room_m=60)
    assert declutter([label], View(0.0, 0.0, 0.4, 800.0, 600.0))[0].words == "Tue 22 Dec"
    assert declutter([label], VIEW)[0].words == "Tue 22"
    assert declutter([label], View(0.0, 0.0, 2.0, 800.0, 600.0)) == ()


def test_a_label_with_several_places_is_shown_once_where_there_is_room() -> None:
    labels = [
        Label(0, 0, "in the way", priority=9),
        Label(0, 0, "Long Field", priority=5, once="field"),
        Label(0, 100, "Long Field", priority=5, once="field"),
        Label(0, 200, "Long Field", priority=5, once="field"),
    ]
    placed = declutter(labels, VIEW)
    assert [(each.label.words, each.label.y_m) for each in placed] == [("in the way", 0), ("Long Field", 100)]


def test_a_name_keeps_off_a_sign_and_stands_where_there_is_room() -> None:
    gate = Label(40, 0, "", look="clear", priority=2)
    names = [Label(x, 0, "Barn Field", "9.6 ha ley", priority=1, side="right above", once="barn") for x in (0, 60)]
    beside = [each for each in declutter([gate, *names], VIEW) if each.words]
    assert [(each.label.x_m, each.second) for each in beside] == [(60, "9.6 ha ley")]
