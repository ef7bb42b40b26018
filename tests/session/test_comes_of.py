from __future__ import annotations

import shapely

from pigmap.document.edits import add_keep_out, record_stay, stands_here
from pigmap.plugins import Registry
from pigmap.records import Reason
from pigmap.session.comes_of import comes_of, flagged
from tests.document.example_farm import DAY, GROUP, PADDOCK, done, example

PARTS = Registry()
POND = add_keep_out(shapely.box(70, 10, 90, 60), Reason.POND, name="Duck pond")


def test_only_what_was_not_so_before_comes_of_an_edit() -> None:
    farm = done(example(), POND, record_stay(GROUP, PADDOCK, DAY))
    into = stands_here(PADDOCK, shapely.box(45, 10, 95, 60))
    (found,) = comes_of(farm, into(farm), PARTS, DAY)
    assert found.weight == "fact"
    assert "Duck pond" in str(found.words)
    there = done(farm, into)
    assert comes_of(there, stands_here(PADDOCK, shapely.box(45, 10, 95, 60))(there), PARTS, DAY) == ()


def test_what_comes_of_it_is_a_sentence_with_what_to_do() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY))
    (words,) = flagged(farm, stands_here(PADDOCK, shapely.box(380, 10, 430, 60))(farm), PARTS, DAY)
    assert "outside every field" in str(words)
    assert len(str(words).split(". ")) >= 2
