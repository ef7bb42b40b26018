"""A place as a person types it: the pair of numbers that a phone shows, in any of the usual ways of writing it."""

from __future__ import annotations

import re
from typing import NamedTuple

from pigmap.errors import RecordError
from pigmap.text import Text

EXAMPLE = "47.03, -99.18"
"""Somewhere; only to show the form."""

_SAME = str.maketrans(
    {
        "\u2212": "-",
        "\u2013": "-",
        "º": "°",
        "˚": "°",
        "\u2019": "'",
        "\u2032": "'",
        "\u201d": '"',
        "\u2033": '"',
        ";": ",",
    }
)
_NAMES = re.compile(r"latitude|longitude|lat|long|lon|[:=()]", re.IGNORECASE)
_DIRECTIONS = re.compile(r"(?<![A-Za-z])(?:degrees?|deg|(n)orth|(s)outh|(e)ast|(w)est)(?![A-Za-z])", re.IGNORECASE)
"""As the program itself and people write them: the letter is kept, a word for the sign of degrees is that sign."""
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")
_LETTER = re.compile(r"[A-Za-z]")


class TypedPlace(NamedTuple):
    """What was understood."""

    lon: float
    lat: float
    """Degrees, east and north."""
    swapped: bool = False
    """The longitude came first."""
    both_ways: bool = False
    """The two numbers could as well be meant in the other order."""

    @property
    def words(self) -> Text:
        """The place as it is read back."""
        return Text(
            "{lat}° {north}, {lon}° {east}",
            {
                "lat": f"{abs(self.lat):.5f}",
                "north": Text("north") if self.lat >= 0 else Text("south"),
                "lon": f"{abs(self.lon):.5f}",
                "east": Text("east") if self.lon >= 0 else Text("west"),
            },
        )


class _Half(NamedTuple):
    typed: str
    degrees: float
    letter: str


def typed_place(text: str, *, longitude_first: bool = False) -> TypedPlace:
    """Return the place that a pair of numbers names.

    Decimal degrees, degrees and minutes, or degrees, minutes and seconds; with a point or a comma; with the letters or
    the words of the directions before or behind, or with a minus. Without them the latitude comes first, unless only
    the other order can be.

    Parameters
    ----------
    text
        As it was typed.
    longitude_first
        Read a pair that could be meant both ways in the other order.

    Raises
    ------
    RecordError
        In words: which part is amiss.

    Examples
    --------
    >>> typed_place("47° 1.8' N 99° 10.8' W")[:2]
    (-99.18, 47.03)
    >>> typed_place("47,03 -99,18")[:2]
    (-99.18, 47.03)
    """
    first, second = (_half(part) for part in _halves(text))
    if first.letter or second.letter:
        place = _by_letters(text, first, second)
    else:
        place = _by_order(first, second, longitude_first)
    if place.lat == place.lon == 0:
        raise RecordError(
            "0, 0 lies in the sea; a phone shows it while it does not know where it is.",
            remedy="Wait outdoors until the phone shows other numbers, and type those.",
        )
    return place


def _halves(text: str) -> tuple[str, str]:
    plain = _NAMES.sub(" ", _DIRECTIONS.sub(_short, text.translate(_SAME))).replace("''", '"').strip(" ,")
    if "." not in plain:
        plain = re.sub(r"(\d+),(\d+)", r"\1.\2", plain)
    letters = [match for match in _LETTER.finditer(plain) if match.group().upper() in "NSEW"]
    strange = next((match.group() for match in _LETTER.finditer(plain) if match.group().upper() not in "NSEW"), "")
    if strange or len(letters) > 2:
        raise _unreadable(text, Text("the letter {letter}", {"letter": strange or letters[2].group()}))
    if len(letters) == 2:
        cut = letters[1].start() if plain[0].isalpha() else letters[0].end()
        return plain[:cut], plain[cut:]
    return _cut_in_the_middle(text, plain)


def _short(word: re.Match[str]) -> str:
    return next((letter.upper() for letter in word.groups() if letter), "\N{DEGREE SIGN}")


def _cut_in_the_middle(text: str, plain: str) -> tuple[str, str]:
    if plain.count(",") == 1:
        first, second = plain.split(",")
        if _NUMBER.search(first) and _NUMBER.search(second):
            return first, second
    numbers = list(_NUMBER.finditer(plain))
    if len(numbers) == 1:
        raise RecordError(
            "{place} is one number; a place has two, a latitude and a longitude.",
            remedy="Type both as the phone shows them, such as {example}.",
            place=text.strip(),
            example=EXAMPLE,
        )
    if len(numbers) not in (2, 4, 6):
        raise _unreadable(text, Text("{count} numbers", {"count": len(numbers)}))
    cut = numbers[len(numbers) // 2].start()
    return plain[:cut], plain[cut:]


def _unreadable(text: str, what: Text) -> RecordError:
    return RecordError(
        "{place} does not read as a place: {what} in it.",
        remedy="Type two numbers as the phone shows them, such as {example}.",
        place=text.strip() or "''",
        what=what,
        example=EXAMPLE,
    )


def _half(part: str) -> _Half:
    typed = part.strip(" ,")
    found = _NUMBER.findall(part)
    letter = "".join(_LETTER.findall(part)).upper()
    rest = _NUMBER.sub("", part)
    strange = re.sub(r"[\s,°'\"A-Za-z]", "", rest)
    if not 1 <= len(found) <= 3 or strange:
        what = Text("{sign}", {"sign": strange[0]}) if strange else Text("{count} numbers", {"count": len(found)})
        raise _unreadable(typed, what)
    numbers = [abs(float(number)) for number in found]
    for number, word in zip(numbers[1:], (Text("minutes"), Text("seconds")), strict=False):
        if number >= 60:
            raise RecordError(
                "{part} has {number} {word}; it goes to 59 and then begins anew.",
                remedy="Look at the phone again: which of its numbers is it?",
                part=typed,
                number=f"{number:g}",
                word=word,
            )
    degrees = sum(number / 60**at for at, number in enumerate(numbers))
    minus = found[0].startswith("-") or letter in ("S", "W")
    return _Half(typed, round(-degrees if minus else degrees, 9), letter)


def _by_letters(text: str, first: _Half, second: _Half) -> TypedPlace:
    swapped = first.letter in ("E", "W") or second.letter in ("N", "S")
    lat, lon = (second, first) if swapped else (first, second)
    if lat.letter not in ("N", "S") or lon.letter not in ("E", "W"):
        raise RecordError(
            "{place} needs one of N and S, and one of E and W.",
            remedy="Type both letters, or none and a minus for south and west.",
            place=text.strip(),
        )
    _need_latitude(lat)
    _need_longitude(lon)
    return TypedPlace(lon.degrees, lat.degrees, swapped=swapped)


def _by_order(first: _Half, second: _Half, longitude_first: bool) -> TypedPlace:
    can_be_lat = [abs(half.degrees) <= 90 for half in (first, second)]
    both_ways = all(can_be_lat)
    swapped = longitude_first if both_ways else not can_be_lat[0] and can_be_lat[1]
    lat, lon = (second, first) if swapped else (first, second)
    _need_latitude(lat)
    _need_longitude(lon)
    return TypedPlace(lon.degrees, lat.degrees, swapped=swapped, both_ways=both_ways)


def _need_latitude(half: _Half) -> None:
    if abs(half.degrees) > 90:
        raise RecordError(
            "The latitude {part} is over 90, which is the pole.",
            remedy="Look whether a digit or the point is in the wrong place.",
            part=half.typed,
        )


def _need_longitude(half: _Half) -> None:
    if abs(half.degrees) > 180:
        raise RecordError(
            "The longitude {part} is over 180, which is half way round the earth.",
            remedy="Look whether a digit or the point is in the wrong place.",
            part=half.typed,
        )
