import gc
from collections.abc import Iterator

import pytest

from pigmap.qt import collecting


@pytest.fixture(autouse=True)
def _as_before() -> Iterator[None]:
    yield
    gc.enable()
    gc.unfreeze()


def test_the_collector_rests_until_it_goes_on_and_leaves_what_was_loaded_alone() -> None:
    collecting.rest()
    assert not gc.isenabled()
    collecting.go_on()
    assert gc.isenabled()
    assert gc.get_freeze_count() > 0


def test_a_collector_that_did_not_rest_is_left_as_it_is() -> None:
    before = gc.get_freeze_count()
    collecting.go_on()
    assert gc.isenabled()
    assert gc.get_freeze_count() == before
