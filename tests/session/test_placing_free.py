from __future__ import annotations

from datetime import timedelta

import shapely

from pigmap.document.edits import add_keep_out, record_stay
from pigmap.records import Reason
from pigmap.session.placing import PlacingGround
from pigmap.session.placing.free import is_free
from tests.document.example_farm import DAY, GROUP, PADDOCK, done, example, square


def test_a_place_is_free_inside_a_field_clear_of_what_stands_and_of_keep_outs() -> None:
    pond = add_keep_out(shapely.box(170, 20, 190, 40), Reason.POND)
    on = done(example(), record_stay(GROUP, PADDOCK, DAY), pond)
    ground = PlacingGround(on, DAY + timedelta(days=5), GROUP)
    found = {number: is_free(ground, square(number)) for number in (-1, 0, 1, 3, 4)}
    assert found == {-1: False, 0: False, 1: True, 3: False, 4: True}
