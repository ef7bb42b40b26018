from __future__ import annotations

import pytest

from pigmap.drawing.english import SORTS, English, sort_of
from pigmap.drawing.words import render
from pigmap.text import Text


@pytest.mark.parametrize(
    ("language", "words", "said"),
    [
        ("en", "Autumn: a paddock in the field, half rooted.", "Autumn: a paddock in the field, half rooted."),
        (
            "en_US",
            "Autumn: a ley by the ride, served in autumn.",
            "Fall: a sown pasture by the woods lane, bred in fall.",
        ),
        ("en_GB", "Energizer off. The energizers are far.", "Energiser off. The energisers are far."),
        ("en_AU", "Fields and paddocks: a paddock in the field.", "Paddocks and strips: a strip in the paddock."),
        ("en_AU", "Roots of trees are not rooting.", "Roots of trees are not digging."),
        ("en_US", "Barley and pride.", "Barley and pride."),
    ],
)
def test_words_of_the_country_stand_in_the_sentence(language: str, words: str, said: str) -> None:
    assert render(Text(words), language=language) == said


def test_what_a_person_called_a_thing_stays_as_it_is() -> None:
    text = Text("{name}: a paddock.", {"name": "Ley Field"})
    assert render(text, language="en_AU") == "Ley Field: a strip."


def test_texts_in_a_text_speak_the_same_sort() -> None:
    text = Text("About {when}.", {"when": Text("autumn {year}", {"year": "2024"})})
    assert render(text, language="en_US") == "About fall 2024."


def test_numbers_are_said_in_the_same_sort() -> None:
    many = Text("{count} paddock", plural="{count} paddocks", count=3)
    assert render(many, language="en_AU") == "3 strips"


@pytest.mark.parametrize("sort", SORTS)
def test_no_sort_says_a_word_twice_over(sort: str) -> None:
    english = English(sort)
    for word, other in SORTS[sort].items():
        assert english.gettext(f"the {word} there") == f"the {other} there"


@pytest.mark.parametrize(
    ("locale", "sort"),
    [
        ("en_GB", "en_GB"),
        ("en_IE", "en_GB"),
        ("en-NZ", "en_AU"),
        ("en_CA.UTF-8", "en_US"),
        ("C", "en"),
        ("fr_FR", "en"),
    ],
)
def test_a_country_has_its_sort(locale: str, sort: str) -> None:
    assert sort_of(locale) == sort
