from __future__ import annotations

from datetime import date, timedelta

import shapely

from pigmap.fence.places import places_of_nets
from pigmap.records import Farm, Net, NetKind, NetUse, Paddock, Projection, add

DAY = date(2026, 5, 13)
RING = [(0, 0), (50, 0), (50, 50), (0, 50)]


def _farm(*uses: NetUse) -> Farm:
    farm = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    kind = NetKind(uid="k", name="50 m", bays_mm=(50_000,))
    paddock = Paddock(uid="p", name="Hill 3", outline=shapely.Polygon(RING))
    return farm.after([add(row) for row in (kind, paddock, Net(uid="n", net_kind_uid="k", number="4"), *uses)])


def _use(uid: str, line: list[tuple[float, float]], net: str | None = None, until: date | None = None) -> NetUse:
    run = shapely.LineString(line)
    return NetUse(uid=uid, net_kind_uid="k", net_uid=net, paddock_uid="p", run=run, set_on=DAY, taken_on=until)


def test_each_side_has_its_name_from_the_north_round() -> None:
    uses = [_use(f"u{at}", [RING[at], RING[(at + 1) % 4]]) for at in range(4)]
    assert [str(each.called) for each in places_of_nets(_farm(*uses), DAY)] == [
        "Hill 3, north side",
        "Hill 3, east side",
        "Hill 3, south side",
        "Hill 3, west side",
    ]


def test_two_nets_on_one_side_are_told_apart() -> None:
    found = places_of_nets(_farm(_use("a", [(0, 50), (25, 50)]), _use("b", [(15, 50), (45, 50)])), DAY)
    assert len({str(each.called) for each in found}) == 2


def test_which_net_stands_there_is_told_where_it_is_known() -> None:
    gone = _use("c", [(0, 0), (50, 0)], until=DAY + timedelta(days=1))
    found = places_of_nets(_farm(_use("a", [(0, 50), (50, 50)], "n"), gone), DAY)
    assert [each.net.number if each.net is not None else None for each in found] == ["4", None]
    assert len(places_of_nets(_farm(gone), DAY + timedelta(days=1))) == 0
