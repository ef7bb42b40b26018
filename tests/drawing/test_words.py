from __future__ import annotations

from datetime import date

from pigmap.drawing.words import day_words, month_words, quantity_words, render
from pigmap.text import Quantity, Text


def test_values_come_in_the_units_of_whoever_reads() -> None:
    text = Text("{area} and {length}", {"area": Quantity(2500, "m²"), "length": Quantity(50, "m")})
    assert render(text) == "0.25 ha and 50 m"
    assert render(text, system="us") == "0.62 ac and 164 ft"


def test_a_text_within_a_text_is_rendered_alike() -> None:
    inner = Text("{length}, blue tape", {"length": Quantity(50, "m")})
    assert render(Text("carry {nets}", {"nets": inner}), system="us") == "carry 164 ft, blue tape"


def test_one_is_singular_and_everything_else_plural() -> None:
    said = [render(Text("{count} net short.", plural="{count} nets short.", count=n)) for n in (0, 1, 2)]
    assert said == ["0 nets short.", "1 net short.", "2 nets short."]
    assert [quantity_words(Quantity(n, "d")) for n in (1, 4)] == ["1 day", "4 days"]


def test_days_read_as_a_keeper_says_them() -> None:
    day = date(2025, 10, 16)
    assert day_words(day) == "Thu 16 Oct"
    assert day_words(day, "long") == "Thursday 16 October"
    assert day_words(day, "full") == "Thursday 16 October 2025"
    assert render(Text("{day}", {"day": day})) == "Thu 16 Oct 2025"
    assert month_words(9, short=True) == "Sep"


def test_digits_are_those_that_were_asked_for_and_minus_nought_is_nought() -> None:
    assert quantity_words(Quantity(49.96, "m", 1)) == "50.0 m"
    assert quantity_words(Quantity(-0.2, "m")) == "0 m"
    assert quantity_words(Quantity(0.4, "1")) == "40 %"
    assert quantity_words(Quantity(6, "°")) == "6°"


def test_a_language_without_a_catalogue_stays_english() -> None:
    assert render(Text("Groups"), language="xx") == "Groups"
    assert render(Text("")) == ""


def test_a_sentence_begins_with_a_capital_where_the_programs_own_words_begin_it() -> None:
    gone = Text("{group} are in {paddock}.", {"group": Text("pigs of a group that is gone"), "paddock": "long field"})
    assert render(gone) == "Pigs of a group that is gone are in long field."
    assert render(Text("{group} are there.", {"group": "sows"})) == "sows are there."
