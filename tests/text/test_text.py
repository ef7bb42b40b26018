from __future__ import annotations

import pickle
from datetime import date

import pytest

from pigmap.text import UNITS, Quantity, Text, plain, text_from_json, text_to_json

FULL = Text(
    "{count} net short on {day} at {place}, {far} off: {why}",
    {
        "day": date(2026, 3, 1),
        "place": "Long Field",
        "far": Quantity(6.5, "m", 1),
        "why": Text("Keep {d}.", {"d": Quantity(6, "m")}),
    },
    plural="{count} nets short on {day} at {place}, {far} off: {why}",
    count=2,
)


def test_a_text_is_put_into_plain_words_with_all_its_values() -> None:
    assert str(FULL) == "2 nets short on 2026-03-01 at Long Field, 6.5 m off: Keep 6 m."


@pytest.mark.parametrize(("count", "words"), [(0, "0 nets"), (1, "1 net"), (2, "2 nets")])
def test_the_sentence_follows_the_count(count: int, words: str) -> None:
    assert str(Text("{count} net", plural="{count} nets", count=count)) == words


def test_a_name_without_a_value_is_a_fault_of_the_program() -> None:
    with pytest.raises(ValueError, match=r"the text 'Keep \{far\} off\.' has no value for far"):
        Text("Keep {far} off.")


def test_a_name_that_only_the_plural_has_needs_a_value_too() -> None:
    with pytest.raises(ValueError, match="has no value for who"):
        Text("One.", plural="{count} of {who}.", count=2)


def test_the_count_has_no_name_unless_there_is_one() -> None:
    with pytest.raises(ValueError, match="has no value for count"):
        Text("{count} nets")


def test_its_values_cannot_be_changed_from_outside() -> None:
    values: dict[str, str | int] = {"name": "one"}
    text = Text("{name}", values)
    values["name"] = "two"
    assert str(text) == "one"
    with pytest.raises(TypeError):
        text.values["name"] = "three"  # type: ignore[index]


def test_an_empty_text_counts_as_none() -> None:
    assert not Text("")
    assert Text("Something.")


@pytest.mark.parametrize("text", [Text(""), Text("Plain."), FULL], ids=["empty", "plain", "full"])
def test_a_text_comes_back_from_json_and_from_a_worker_as_it_was(text: Text) -> None:
    assert text_from_json(text_to_json(text)) == text
    assert pickle.loads(pickle.dumps(text)) == text
    assert hash(text_from_json(text_to_json(text))) == hash(text)


@pytest.mark.parametrize("saved", ["[]", '"words"', "{}"])
def test_json_that_is_no_text_is_refused(saved: str) -> None:
    with pytest.raises(ValueError, match="not a saved text"):
        text_from_json(saved)


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (Quantity(50, "m"), "50 m"),
        (Quantity(0.25, "1"), "0.25"),
        (Quantity(4.04, "kV", 1), "4.0 kV"),
        (Quantity(1234567.0, "m²"), "1.23457e+06 m²"),
    ],
)
def test_a_quantity_in_plain_words_has_its_si_unit(quantity: Quantity, words: str) -> None:
    assert plain(Text("{q}", {"q": quantity})) == words


def test_a_unit_that_is_not_used_inside_is_refused() -> None:
    with pytest.raises(ValueError, match="unit 'ft' is not one of m, m²"):
        Quantity(1, "ft")  # type: ignore[arg-type]
    assert "ft" not in UNITS


def test_words_of_the_program_begin_a_sentence_with_a_capital_and_names_stay_as_typed() -> None:
    gone = Text("a paddock that is gone")
    named = Text("{name}", {"name": "east of the tarn"})
    assert str(Text("{one} and {other} are both there.", {"one": gone, "other": gone})) == (
        "A paddock that is gone and a paddock that is gone are both there."
    )
    assert str(Text("{one} is there.", {"one": named})) == "east of the tarn is there."
    assert str(Text("{one} is there.", {"one": Text("the gate of {name}", {"name": named})})) == (
        "The gate of east of the tarn is there."
    )
    assert str(Text("Look. {one} is there.", {"one": gone})) == "Look. A paddock that is gone is there."
    assert str(Text("{what}: {one}", {"what": Text("keep-out"), "one": gone})) == "keep-out: a paddock that is gone"
    assert str(Text("{{{count}}} of {one}.", {"one": gone}, count=2)) == "{2} of a paddock that is gone."
