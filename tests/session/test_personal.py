from __future__ import annotations

import json

import pytest

from pigmap.paths import data_folder
from pigmap.session.personal import Personal, load_personal, save_personal


def test_choices_come_back_as_they_were_saved() -> None:
    chosen = Personal(last_farm="/farms/süd.gpkg", theme="bright", text_pt=11.5, motion="none", letters=False)
    assert save_personal(chosen)
    assert load_personal() == chosen
    assert [each.name for each in data_folder().iterdir()] == ["personal.json"]


def test_nothing_saved_means_nothing_chosen() -> None:
    assert load_personal() == Personal()


@pytest.mark.parametrize(
    "damaged",
    [
        "",
        "{",
        "[]",
        json.dumps({"theme": "plaid", "text_pt": "large", "last_farm": 3}),
        json.dumps({"text_pt": True, "of_a_newer_program": 1}),
        json.dumps({"text_pt": 400}),
        json.dumps({"motion": "slowly", "letters": 1}),
    ],
)
def test_damaged_choices_count_as_not_chosen(damaged: str) -> None:
    data_folder().mkdir(parents=True)
    (data_folder() / "personal.json").write_text(damaged, encoding="utf-8")
    assert load_personal() == Personal()


def test_choices_that_cannot_be_saved_stop_nothing() -> None:
    data_folder().parent.mkdir(parents=True, exist_ok=True)
    data_folder().write_text("a file where the folder belongs", encoding="utf-8")
    assert not save_personal(Personal(theme="dark"))
    assert load_personal() == Personal()


def test_who_had_the_map_stand_still_before_has_no_motion_now() -> None:
    data_folder().mkdir(parents=True)
    (data_folder() / "personal.json").write_text(json.dumps({"glide": False}), encoding="utf-8")
    assert load_personal().motion == "none"
