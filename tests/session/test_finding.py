from __future__ import annotations

from datetime import date

import pytest

from pigmap.document.edits import add_field, add_group
from pigmap.drawing.words import render
from pigmap.records import Edit, Stay, StayState, add
from pigmap.session.finding import find
from pigmap.text import Text
from tests.document.example_farm import GROUP, PADDOCK, done, example

TODAY = date(2026, 11, 25)


def names(words: str) -> list[str]:
    farm = done(
        example(),
        add_field("Große Wiese", example().fields["field"].outline, uid="wiese"),
        add_group("Field sows", uid="more"),
    )
    return [each.name or str(each.day) for each in find(farm, words, TODAY)]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("long", ["Long Field", "Long Field 1"]),
        ("GROSSE", ["Große Wiese"]),
        ("wiese", ["Große Wiese"]),
        ("field", ["Field sows", "Long Field", "Long Field 1"]),
        ("  long   field 1", ["Long Field 1"]),
        ("14 Oct", ["2026-10-14"]),
        ("3 January", ["2027-01-03"]),
        ("14 october 2024", ["2024-10-14"]),
        ("October 14", ["2026-10-14"]),
        ("Oct 14, 2024", ["2024-10-14"]),
        ("2025-02-28", ["2025-02-28"]),
        ("31 feb", []),
        ("nowhere", []),
        ("", []),
    ],
)
def test_what_is_meant_is_found_and_what_begins_so_comes_first(words: str, found: list[str]) -> None:
    assert names(words) == found


def test_what_is_called_just_so_comes_before_what_begins_so() -> None:
    farm = done(example(), add_group("Long Field 1 sows", uid="more"))
    assert find(farm, "long field 1", TODAY)[0].table == "paddocks"


def _stay(uid: str, state: StayState, first: int, end: int) -> Stay:
    day = TODAY.toordinal()
    into, out = date.fromordinal(day + first), date.fromordinal(day + end)
    ground = example().paddocks[PADDOCK].outline
    return Stay(uid=uid, group_uid=GROUP, paddock_uid=PADDOCK, ground=ground, state=state, in_on=into, out_on=out)


@pytest.mark.parametrize(
    ("stays", "beside"),
    [
        ([], "paddock, not used yet"),
        ([_stay("a", StayState.PAST, -40, -35)], "paddock, used to Wed 21 Oct 2026"),
        (
            [_stay("a", StayState.PAST, -40, -35), _stay("b", StayState.PLANNED, 5, 9)],
            "paddock, planned Mon 30 Nov 2026",
        ),
        ([_stay("a", StayState.RUNNING, -2, 3), _stay("b", StayState.PLANNED, 5, 9)], "paddock, Sows there"),
    ],
)
def test_beside_a_paddock_stands_who_is_there_comes_there_or_left_it(stays: list[Stay], beside: str) -> None:
    farm = done(example(), Edit(Text("Stays"), lambda _: [add(stay) for stay in stays]))
    assert render(find(farm, "long field 1", TODAY)[0].beside) == beside


def test_beside_a_group_stands_where_it_is() -> None:
    there = done(example(), Edit(Text("Stays"), lambda _: [add(_stay("a", StayState.RUNNING, -2, 3))]))
    assert [str(find(farm, "sows", TODAY)[0].beside) for farm in (example(), there)] == [
        "group, in no paddock",
        "group, in Long Field 1",
    ]


def test_a_weight_is_looked_for_on_the_cards_of_the_groups() -> None:
    found = find(example(), "weigh", TODAY)
    assert {each.table for each in found} == {"groups"}
    assert render(found[0].beside) == "weigh or count it on its card"
    assert find(example(), "wei", TODAY) == ()


@pytest.mark.parametrize(
    ("words", "plates"),
    [
        ("rain", ["weather"]),
        ("hot tomorrow", ["weather"]),
        ("slope", ["terrain"]),
        ("terrain", ["terrain"]),
        ("medicine", ["books"]),
        ("pigs are out", ["books"]),
        ("rai", []),
        ("rainbow", []),
    ],
)
def test_plates_are_found_by_what_they_are_for(words: str, plates: list[str]) -> None:
    assert [each.plate for each in find(example(), words, TODAY) if each.plate] == plates


@pytest.mark.parametrize("words", ["phone", "import", "Export", "hand out", "shapefile"])
def test_data_in_and_out_is_found_by_what_people_call_it(words: str) -> None:
    assert [each.plate for each in find(example(), words, TODAY)] == ["data"]
