from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.document.edits import add_net_kind, once, own_nets
from pigmap.errors import EditError
from pigmap.records import Farm, Net, NetCondition, NetKind, NetUse, Projection, add

DAY = date(2026, 5, 13)
KIND = NetKind(uid="fifty", name="50 m", bays_mm=(50_000,))
RUN = shapely.LineString([(0, 0), (50, 0)])


def _farm(*nets: Net, stood: str = "") -> Farm:
    farm = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    use = NetUse(uid="use", net_uid=stood, net_kind_uid="fifty", paddock_uid="p", run=RUN, set_on=DAY)
    return farm.after([add(KIND), *(add(net) for net in nets), *([add(use)] if stood else [])])


def _net(uid: str, **columns: object) -> Net:
    return Net(uid=uid, net_kind_uid="fifty", **columns)  # type: ignore[arg-type]


def _after(farm: Farm, count: int) -> Farm:
    return farm.after(own_nets("fifty", count, DAY)(farm))


def test_more_nets_are_added() -> None:
    assert len(_after(_farm(_net("a")), 3).nets) == 3


def test_as_many_as_before_changes_nothing() -> None:
    assert own_nets("fifty", 1, DAY)(_farm(_net("a"))) == []


def test_nets_without_a_number_or_a_past_go_first() -> None:
    farm = _farm(_net("a", number="7"), _net("b"), _net("c"), _net("d", condition=NetCondition.DAMAGED), stood="b")
    assert set(_after(farm, 3).nets) == {"a", "b", "d"}
    assert set(_after(farm, 2).nets) == {"a", "b"}


def test_a_net_that_stood_somewhere_goes_out_of_use_and_its_past_stays() -> None:
    farm = _after(_farm(_net("a"), stood="a"), 0)
    assert farm.nets["a"].retired_on == DAY
    assert "use" in farm.net_uses


def test_nets_that_went_out_of_use_do_not_count() -> None:
    assert len(_after(_farm(_net("a", retired_on=DAY)), 1).nets) == 2


def test_fewer_than_none_is_refused() -> None:
    with pytest.raises(EditError) as raised:
        own_nets("fifty", -1, DAY)
    assert str(raised.value) == "-1 nets cannot be owned. Give a number of at least 0."


def test_what_is_pressed_for_twice_is_done_once() -> None:
    farm = _farm()
    edit = once(add_net_kind("25 m", (25_000,), nets=2, uid="short"), "net_kinds", "short")
    farm = farm.after(edit(farm))
    assert len(farm.nets) == 2
    assert edit(farm) == []
