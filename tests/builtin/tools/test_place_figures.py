from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.place_figures import Row, _rest
from pigmap.document.edits import remove
from pigmap.qt.stage import Stage
from pigmap.session.placing import Judgement
from tests.qt.window_farm import TODAY, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def rest(stage: Stage, **judged: Any) -> Row:
    usual = {"rest_least_days": -1, "never_used_share": 0.0, "unknown_share": 0.0, "field_uid": "field"}
    return _rest(stage, cast("Judgement", SimpleNamespace(**usual | judged)), TODAY)


@pytest.mark.parametrize(
    ("judged", "figure", "beside"),
    [
        ({"unknown_share": 1.0}, "not known", "nothing recorded"),
        ({"never_used_share": 1.0}, "never used", "you said"),
        ({"never_used_share": 0.75, "unknown_share": 0.25}, "never used", "25 % not known"),
        ({"rest_least_days": 21}, "21 days", "60 wanted"),
        ({"rest_least_days": 21, "never_used_share": 0.2}, "21 days", "20 % never used"),
        ({"rest_least_days": 21, "never_used_share": 0.2, "unknown_share": 0.1}, "21 days", "10 % not known"),
    ],
)
def test_never_used_and_not_known_are_told_apart(
    stage: Stage, judged: dict[str, float], figure: str, beside: str
) -> None:
    assert rest(stage, **judged) == ("Rest", figure, beside, "rest")


def test_the_rest_that_is_usual_is_wanted_where_nothing_is_said(stage: Stage) -> None:
    stage.session.do(remove("purposes", "purpose")).result()
    assert rest(stage, rest_least_days=21).beside == "30 wanted"
    assert rest(stage, rest_least_days=21, field_uid=None).beside == ""
