from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.season import Season
from pigmap.builtin.panels.season_complaint import APART_PX, BARE_FOOT_PX, PAD_PX, breach_words, complaint_high
from pigmap.planning.rule import Breach
from pigmap.qt.arrangement import STRIP_LOW_SHARE, Wanted, arrange, room_for
from pigmap.qt.paintwork import breadth, wrapped_height
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.text import Text
from tests.qt.window_farm import day, made_panel, made_stage

LONG = Breach(
    "stays",
    "group0s3",
    Text(
        "Dry sows and weaners of the upper barn are in Top Field 14 and in Top Field 15 on Tue 1 Dec 2026, and of the "
        "nets of 50 m with blue tape three are short from that day on until the last of them are taken up again."
    ),
    Text("Let one of them go in later."),
    day=day(3),
)


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def test_where_nothing_is_wrong_it_takes_little(stage: Stage) -> None:
    assert complaint_high(stage, None, 900) == BARE_FOOT_PX


def test_a_long_one_takes_as_many_lines_as_it_needs(stage: Stage) -> None:
    stage.text_scale = 1.5
    face, wide = font("tick", stage, weight=600), 1280 - 335
    words = breach_words(stage, LONG)
    assert breadth(words, face) > wide  # it would have been cut
    assert complaint_high(stage, LONG, wide) >= wrapped_height(words, face, wide - 2 * (APART_PX + PAD_PX))
    assert complaint_high(stage, LONG, wide) > complaint_high(stage, LONG, 3000)


def test_on_a_small_screen_with_large_text_all_of_it_has_room_below_the_rows(stage: Stage) -> None:
    stage.text_scale = 1.5
    stage.fit(room_for(1280, 800, Wanted(), 1.5))
    with made_panel(stage, "season", (1280, 200)) as season:
        assert isinstance(season, Season)
        season._breaches = (LONG,)
        parts = arrange(
            1280, 800, stage.room, Wanted(), verbs_px=60, season_px=season.sizeHint().height(), column_row_px=0
        )
        season.resize(1280, parts.season.high)
        wide = season.width() - stage.room.column_px
        assert season.height() - season.strip.foot >= complaint_high(stage, LONG, wide) - 1
        assert len(season.strip.rows) == 2


def test_in_a_low_window_the_strip_leaves_the_room_to_the_map() -> None:
    room = room_for(1280, 700, Wanted())
    parts = arrange(1280, 700, room, Wanted(), verbs_px=60, season_px=400, column_row_px=0)
    assert parts.season.high == round(700 * STRIP_LOW_SHARE)
    assert parts.map.high > 440
    few = arrange(1280, 700, room, Wanted(), verbs_px=60, season_px=120, column_row_px=0)
    assert few.season.high == 120
    dragged = arrange(1280, 700, room, Wanted(season_px=300), verbs_px=60, season_px=400, column_row_px=0)
    assert dragged.season.high == 300
