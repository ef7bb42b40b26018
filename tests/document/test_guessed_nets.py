from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import nets_are_guessed, nets_stand, stands_there
from pigmap.errors import EditError
from pigmap.records import Farm, NetUse
from tests.document.example_farm import DAY, GROUP, KIND, done, example

GROUND = shapely.box(200, 10, 249, 36)
LINE = shapely.LineString(GROUND.exterior.coords)


def stood(*, guessed: bool = True) -> Farm:
    return done(example(), stands_there(GROUP, GROUND, DAY, [(KIND, LINE)], uid="one", guessed=guessed))


def uses(farm: Farm) -> list[NetUse]:
    return [use for use in farm.net_uses.values() if use.paddock_uid == "one"]


def test_nets_are_guessed_until_someone_counts_them() -> None:
    farm = stood()
    assert nets_are_guessed(farm, "one")
    assert not nets_are_guessed(stood(guessed=False), "one")
    counted = done(farm, nets_stand("one", [(KIND, LINE), (KIND, LINE)], DAY + timedelta(days=3)))
    assert not nets_are_guessed(counted, "one")
    assert [use.set_on for use in uses(counted)] == [DAY, DAY]
    assert counted.settings == example().settings


def test_nets_of_other_paddocks_stay() -> None:
    farm = stood()
    counted = done(farm, nets_stand("one", [], DAY))
    assert uses(counted) == []
    others = [use for use in farm.net_uses.values() if use.paddock_uid != "one"]
    assert [use for use in counted.net_uses.values() if use.paddock_uid != "one"] == others


def test_nets_round_a_paddock_that_is_gone_are_refused_in_words() -> None:
    with pytest.raises(EditError, match="paddock") as caught:
        done(example(), nets_stand("gone", [], DAY))
    assert caught.value.remedy
