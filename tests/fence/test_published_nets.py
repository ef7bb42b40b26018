from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from pigmap.fence.choice import Choice, chosen_nets
from pigmap.fence.farm_nets import with_second_sets, with_spare_set
from pigmap.fence.fitted import Spare
from pigmap.fence.ground_length import ground_mm, map_mm
from pigmap.fence.moving import moves_minutes, trips
from pigmap.fence.rectangles import Rectangle, even_rectangles, rectangles_of
from pigmap.fence.signs import signs_along
from pigmap.fence.worth import carried_share, oblong_share, square_m2
from pigmap.records import NetKind
from pigmap.units import M2_PER_ACRE
from tests.conftest import published

EXPECTED = {
    "F1": 2, "F2": 2, "F3": 1, "F4": 3, "F5": 5, "F6": 4, "F8": 4, "F9": 3, "F10": 2, "F11": 2, "F14": 3, "F16": 3,
}  # fmt: skip
"""Every case of the arithmetic of nets, and how many figures it has."""

Given = Mapping[str, str]


def _chosen(given: Given) -> Choice:
    spare = []
    for part in given["stock"].split("+"):
        nets, length = part.split("x")
        spare.append(Spare(NetKind(name=f"{length} mm", bays_mm=(int(length),)), int(nets)))
    (choice,) = chosen_nets([int(given["run"])], spare)
    return choice


def _nets(given: Given) -> str:
    return "+".join(f"{each.nets}x{each.kind.length_mm}" for each in _chosen(given).nets)


def _shapes(given: Given) -> tuple[Rectangle, ...]:
    """Return the rectangles of nets of 50 m with so many bays; those of equal bays must agree."""
    bays = int(given["bays"])
    even = 50_000 // bays
    kind = NetKind(name="50 m", bays_mm=(even,) * (bays - 1) + (50_000 - even * (bays - 1),))
    found = rectangles_of([Spare(kind, int(given["nets"]))])
    assert [each.bays for each in found] == [*even_rectangles(int(given["nets"]) * bays)]
    return found


def _square(given: Given, unit: str) -> float:
    area = square_m2(int(given["nets"]), float(given["net"]))
    return area / M2_PER_ACRE if unit == "ac" else area


ASKED: dict[str, Callable[[Given, str], float | str]] = {
    "nets": lambda given, _: _nets(given),
    "left over": lambda given, _: _chosen(given).left_mm,
    "rectangles": lambda given, _: len(_shapes(given)),
    "largest": lambda given, _: "x".join(map(str, _shapes(given)[0].bays)),
    "largest area": lambda given, _: _shapes(given)[0].area_m2,
    "area by aspect": lambda given, _: oblong_share(float(given["aspect"])),
    "one spare set": lambda given, _: with_spare_set(int(given["groups"]), carried=int(given["carried"])),
    "second sets": lambda given, _: with_second_sets(int(given["groups"]), int(given["carried"])),
    "trips": lambda given, _: trips(int(given["nets"]), int(given["people"]), int(given["each"])),
    "signs": lambda given, _: signs_along(float(given["length"]), float(given["apart"])),
    "square": _square,
    "net on the map": lambda given, _: map_mm(float(given["net"]), float(given["slope"])) / 1000,
    "net on the ground": lambda given, _: ground_mm([float(given["map"])], [float(given["slope"])], slack=0.0),
    "carried share": lambda given, _: carried_share(float(given["side"]), float(given["deep"])),
    "moves": lambda given, _: moves_minutes(int(given["moves"]), int(given["people"])),
    "work": lambda given, _: moves_minutes(int(given["moves"]), int(given["people"])) * int(given["people"]),
}


@pytest.mark.parametrize(
    "row", published("fence_nets.csv"), ids=lambda row: f"{row['id']} {row['what']} {row['given']}"
)
def test_the_arithmetic_of_nets_gives_what_is_printed(row: dict[str, str]) -> None:
    given = dict(part.split("=") for part in row["given"].split())
    found = ASKED[row["what"]](given, row["unit"])
    if isinstance(found, str):
        assert found == row["expected"]
    else:
        assert abs(found - float(row["expected"])) <= float(row["tolerance"])


def test_no_printed_case_of_the_nets_is_missing() -> None:
    rows = published("fence_nets.csv")
    assert {case: sum(row["id"] == case for row in rows) for case in {row["id"] for row in rows}} == EXPECTED
