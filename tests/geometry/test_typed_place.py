from __future__ import annotations

import pytest

from pigmap.errors import RecordError
from pigmap.geometry.typed_place import typed_place


@pytest.mark.parametrize(
    "text",
    [
        "47.03, -99.18",
        "47.03,-99.18",
        "47.03 -99.18",
        "47,03 -99,18",
        "47,03, -99,18",
        "47,03;-99,18",
        "47.03 N 99.18 W",
        "N 47.03, W 99.18",
        "N47.03° W99.18°",
        "99.18 W 47.03 N",
        "47° 1.8' N, 99° 10.8' W",
        "47 1.8 N 99 10.8 W",
        "47°1\u203248\u2033N 99°10\u203248\u2033W",
        "47° 1' 48\" -99° 10' 48\"",
        "47°01,8'N 99°10,8'W",
        "lat: 47.03, lon: -99.18",
        "-99.18, 47.03",
        "(47.03, \u221299.18)",
        "47.03 north, 99.18 west",
        "North 47.03 West 99.18",
        "47.03 degrees North 99.18 degrees West",
        "47.03000° north, 99.18000° west",
    ],
)
def test_each_usual_way_of_writing_names_the_same_place(text: str) -> None:
    place = typed_place(text)
    assert (place.lon, place.lat) == pytest.approx((-99.18, 47.03))


def test_a_decimal_comma_in_positive_pairs_is_no_separator() -> None:
    assert typed_place("47,03,9,18")[:2] == (9.18, 47.03)


def test_a_pair_that_can_be_meant_both_ways_says_so_and_is_turned_on_asking() -> None:
    place = typed_place("47.03, 9.18")
    assert place.both_ways
    assert not place.swapped
    assert typed_place("47.03, 9.18", longitude_first=True)[:2] == (47.03, 9.18)


def test_a_pair_whose_order_is_plain_is_not_asked_about() -> None:
    place = typed_place("-99.18, 47.03")
    assert place.swapped
    assert not place.both_ways
    assert not typed_place("47.03 N 9.18 E").both_ways


@pytest.mark.parametrize("typed", ["-31.5, 151.25", "47.03, 9.18"])
def test_what_is_read_back_can_be_typed(typed: str) -> None:
    place = typed_place(typed)
    again = typed_place(str(place.words))
    assert again[:2] == place[:2]
    assert not again.both_ways


def test_a_place_is_read_back_in_words() -> None:
    assert str(typed_place("-31.5, 151.25").words) == "31.50000° south, 151.25000° east"


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("97.03, -199.18", "The latitude 97.03 is over 90", "digit or the point"),
        ("97.03 N, 9.18 E", "The latitude 97.03 N is over 90", "digit or the point"),
        ("47.03, 199.18", "The longitude 199.18 is over 180", "digit or the point"),
        ("47° 71' N 9° 10' E", "47° 71' N has 71 minutes", "Look at the phone again"),
        ("47 10 75 N 9 10 0 E", "47 10 75 N has 75 seconds", "Look at the phone again"),
        ("47,03", "47,03 is one number", "Type both"),
        ("47.03 N, 9.18", "needs one of N and S, and one of E and W", "or none and a minus"),
        ("47.03 N, 9.18 N", "needs one of N and S, and one of E and W", "or none and a minus"),
        ("behind the barn", "the letter b in it", "Type two numbers"),
        ("", "'' does not read as a place: 0 numbers", "Type two numbers"),
        ("1 2 3", "3 numbers in it", "Type two numbers"),
        ("47.03, 9.18/2", "/", "Type two numbers"),
        ("0, 0", "0, 0 lies in the sea", "Wait outdoors"),
    ],
)
def test_what_is_no_place_is_told_by_its_part(text: str, message: str, remedy: str) -> None:
    with pytest.raises(RecordError) as caught:
        typed_place(text)
    assert message in str(caught.value.message)
    assert remedy in str(caught.value.remedy)
