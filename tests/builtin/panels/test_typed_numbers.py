from __future__ import annotations

import pytest

from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.errors import EditError
from pigmap.text import Text

COUNT = Text("The number of nets")


@pytest.mark.parametrize(("typed", "found"), [("19,5", 19.5), (" 20 ", 20.0), ("-4", -4.0), ("7.", 7.0)])
def test_a_number_may_have_a_comma_or_a_point(typed: str, found: float) -> None:
    assert number(COUNT, typed, "4") == found


@pytest.mark.parametrize("typed", ["1e400", "inf", "1.2.3", "4 m", "\u0661\u0662x"])
def test_what_is_no_number_is_said_with_one_that_is(typed: str) -> None:
    with pytest.raises(EditError) as raised:
        number(COUNT, typed, "4")
    assert str(raised.value) == f"The number of nets is '{typed}': that is no number. Give a number, such as 4."


def test_a_count_beyond_its_limits_is_said_with_them() -> None:
    with pytest.raises(EditError) as raised:
        whole_number(COUNT, "0", 1, 999, 4)
    assert str(raised.value) == "The number of nets is 0. Give a number from 1 to 999."


def test_half_a_net_is_no_count() -> None:
    with pytest.raises(EditError, match=r"The number of nets is '1\.5': that is no number\."):
        whole_number(COUNT, "1.5", 1, 999, 4)
