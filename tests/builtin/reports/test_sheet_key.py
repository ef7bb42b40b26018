from __future__ import annotations

import pytest

from pigmap.builtin.reports.sheet_blocks import key_block
from pigmap.builtin.tints.nitrogen import tint as nitrogen
from pigmap.builtin.tints.none import tint as none
from pigmap.builtin.tints.ready import tint as ready
from pigmap.builtin.tints.rest_and_rooting import tint as rest_and_rooting
from pigmap.builtin.tints.rooting import tint as rooting
from pigmap.builtin.tints.since_pigs import tint as since_pigs
from pigmap.builtin.tints.stocking import tint as stocking
from pigmap.drawing.layer import Cells
from pigmap.drawing.page import MapFrame, Words
from pigmap.drawing.tint import Tint
from pigmap.drawing.unknown import unknown_spots
from pigmap.drawing.words import render
from pigmap.text import Text

WIDE_MM = 72.0


def _words(tint: Tint) -> list[Words]:
    return [item for item in key_block(tint, WIDE_MM, render, ()).items if isinstance(item, Words)]


def test_long_words_of_steps_stand_below_one_another_not_over_columns() -> None:
    said = [render(step.words) for step in stocking.key()]
    lines = [item for item in _words(stocking) if item.words in said]
    assert [item.words for item in lines] == said
    assert len({item.y_mm for item in lines}) == len(said)


def test_short_words_of_steps_stand_over_their_columns() -> None:
    days = ("0", "7", "21", "42", "70", "105")
    assert len({item.y_mm for item in _words(rest_and_rooting) if item.words in days}) == 1


def test_the_photo_alone_has_a_key_without_colours() -> None:
    assert [item.words for item in _words(none)] == ["Key"]
    assert not [item for item in key_block(none, WIDE_MM, render, ()).items if isinstance(item, MapFrame)]


@pytest.mark.parametrize(
    "tint", [rest_and_rooting, rooting, stocking, nitrogen, since_pigs], ids=lambda tint: tint.name
)
def test_never_used_and_not_known_are_in_the_key_and_drawn_apart(tint: Tint) -> None:
    items = key_block(tint, WIDE_MM, render, ()).items
    never, unknown = (
        next(at for at, item in enumerate(items) if isinstance(item, Words) and item.words == words)
        for words in ("never used", "not known")
    )
    drawn = [item for item in (items[never - 1], items[unknown - 1]) if isinstance(item, MapFrame)]
    assert [len(item.layers) for item in drawn] == [0, 1]
    cells = drawn[1].layers[0]
    assert isinstance(cells, Cells)
    assert len(unknown_spots(cells, drawn[1].view)) == 1


def test_where_ground_that_was_never_used_has_a_colour_only_not_known_is_explained() -> None:
    words = [item.words for item in key_block(ready, WIDE_MM, render, ()).items if isinstance(item, Words)]
    assert "not known" in words
    assert "never used" not in words


def test_long_words_on_unknown_ground_go_below_in_a_narrow_column() -> None:
    words = Text("not known before September 2025")
    for wide_mm, lines in ((72.0, 1), (56.0, 2)):
        block = key_block(rest_and_rooting, wide_mm, render, (), words)
        its = [item for item in block.items if isinstance(item, Words) and item.words.startswith(("never", "not"))]
        assert len({item.y_mm for item in its}) == lines
        assert all(item.y_mm <= block.height_mm for item in its)


@pytest.mark.parametrize(
    "tint", [rest_and_rooting, rooting, ready, stocking, nitrogen, since_pigs, none], ids=lambda tint: tint.name
)
def test_the_block_is_as_high_as_what_stands_in_it(tint: Tint) -> None:
    block = key_block(tint, WIDE_MM, render, ())
    assert all(item.y_mm <= block.height_mm for item in block.items if isinstance(item, Words))
