from collections.abc import Callable
from pathlib import Path

import pytest

from pigmap.document.edits import change_setting
from pigmap.errors import StoreError
from pigmap.records import Projection
from pigmap.session import Session
from pigmap.session.opening import Opening

FLAT = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=1.0)


def test_a_farm_opened_beside_other_work_can_be_changed_and_tells_of_it_where_it_is_shown(tmp_path: Path) -> None:
    path = tmp_path / "farm.gpkg"
    Session.create(path, FLAT, "Lower farm").close()
    posted: list[Callable[[], None]] = []
    with Opening(path).session(posted.append) as session:
        assert session.farm.name == "Lower farm"
        session.do(change_setting("farm name", "Upper farm")).result(10)
    for call in posted:
        call()
    assert session.farm.name == "Upper farm"


def test_a_farm_that_is_not_there_is_told_where_it_is_waited_for(tmp_path: Path) -> None:
    opening = Opening(tmp_path / "none.gpkg")
    with pytest.raises(StoreError) as refused:
        opening.session(lambda call: call())
    assert str(refused.value.message).startswith("There is no file none.gpkg in")
    assert str(refused.value.remedy).startswith("Look for it in another folder")
