"""Every printed case and limit of the cautions, and that none of them is left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping

import pytest
import shapely

from pigmap.errors import RecordError
from pigmap.fence.cautions.energizers import beside_live_fences
from pigmap.fence.cautions.overhead import is_clear, overhead_lines
from pigmap.fence.cautions.wildlife import along_wild_edges, wild_edges
from pigmap.fence.electric.tables import EARTH_BAD_KV, EARTH_WARN_KV, STOP_KV, WARN_KV
from pigmap.fence.farm_nets import sides_of_block
from pigmap.fence.laid import STAKE_MM
from pigmap.fence.signs import SIGNS_APART_BY_PLACE, signs_along
from pigmap.fence.tables import (
    BARBED_APART_M,
    BESIDE_LINE_M,
    COMMUNICATION_APART_M,
    EARTHS_APART_M,
    ENERGIZERS_APART_M,
    LEAST_CROSSING_DEG,
    STEEP_FENCE_DEG,
    overhead_clearance_m,
)
from pigmap.records import Energizer, Place, PlaceKind, WayKind
from pigmap.records.energizer import MOST_OUTPUT_J
from tests.conftest import published
from tests.fence.cautions.invented import HERE, farm_with, fed_by, upright

ROWS = published("fence_cautions.csv")
CASES = {
    "F9": 10, "F15": 3, "BB.1": 7, "W1": 1, "W2": 1, "W3": 4, "W4": 1, "W5": 1, "W6": 1, "W7": 1, "W8": 2, "W9": 2,
    "W10": 1, "W11": 1, "W12": 1, "W13": 1, "W14": 1, "W15": 1,
}  # fmt: skip
"""Every case, and how many figures it has."""
ELSEWHERE = {
    "W11": "the rule nets-enough counts nets",
    "W14": "no number is in print; test_weather.py",
}
Given = Mapping[str, str]


def _clearance(given: Given) -> float:
    return overhead_clearance_m(None if given["kv"] == "unknown" else float(given["kv"]))


def _under(given: Given) -> str:
    clear = is_clear(float(given["height"]), float(given["net"]), 0.0, float(given["kv"]))
    return "accept" if clear else "refuse"


def _spacing(given: Given) -> float:
    (found,) = {apart for names, apart in SIGNS_APART_BY_PLACE.items() if given["of"].casefold() in names.casefold()}
    return found


def _unknown_height(given: Given) -> str:
    (found,) = overhead_lines(farm_with(upright(WayKind.OVERHEAD_LINE, 25, voltage_kv=float(given["kv"]))), HERE)
    return found.level


def _touches(given: Given) -> str:
    own = Energizer(uid="own", name="Own", group_uid="g")
    yard = Place(uid="yard", kind=PlaceKind.ENERGIZER, point=shapely.Point(900, 0))
    way = upright(WayKind.PERMANENT_FENCE, 50 + float(given["off"]), electric=True, energizer_uid="yard")
    (found,) = beside_live_fences(farm_with(own, yard, way), fed_by(own))
    return found.level


def _beside_water(_: Given) -> str:
    farm = farm_with(upright(WayKind.WATERCOURSE, 51))
    found = along_wild_edges(farm, HERE, wild_edges(farm))
    return found.level if found is not None else ""


ANSWERS: Mapping[str, Callable[[Given], object]] = {
    "signs": lambda given: signs_along(float(given["length"]), float(given["apart"])),
    "spacing": _spacing,
    "under a line": _under,
    "sides of a block": lambda given: sides_of_block(int(given["rows"]), int(given["columns"])),
    "clearance": _clearance,
    "energizers apart": lambda _: ENERGIZERS_APART_M,
    "touches a fence of another energizer": _touches,
    "height unknown": _unknown_height,
    "crossing angle": lambda _: LEAST_CROSSING_DEG,
    "parallel within": lambda _: BESIDE_LINE_M,
    "communication line within": lambda _: COMMUNICATION_APART_M,
    "barbed wire apart": lambda _: BARBED_APART_M,
    "earths apart": lambda _: EARTHS_APART_M,
    "stop below": lambda _: STOP_KV,
    "warn below": lambda _: WARN_KV,
    "earth test warns above": lambda _: EARTH_WARN_KV,
    "earth test is bad above": lambda _: EARTH_BAD_KV,
    "corner off post": lambda _: STAKE_MM / 1000,
    "edge along water": _beside_water,
    "slope above": lambda _: STEEP_FENCE_DEG,
    "most output": lambda _: MOST_OUTPUT_J,
}


def _given(words: str) -> Given:
    return dict(part.split("=") for part in words.split()) if "=" in words else {"of": words}


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row["case"] not in ELSEWHERE], ids=lambda row: f"{row['case']} {row['what']}"
)
def test_a_printed_figure_is_the_one_that_counts(row: dict[str, str]) -> None:
    found = ANSWERS[row["what"]](_given(row["given"]))
    expected: object = row["expected"] if isinstance(found, str) else float(row["expected"])
    assert found == expected


def test_no_case_is_left_out() -> None:
    assert Counter(row["case"] for row in ROWS) == CASES
    assert {f"W{number}" for number in range(1, 16)} <= set(CASES)


def test_an_energizer_above_five_joules_is_refused_in_words() -> None:
    assert Energizer(name="Big unit", output_j=5.0).output_j == 5.0
    with pytest.raises(RecordError) as refused:
        Energizer(name="Big unit", output_j=5.1)
    assert str(refused.value.message) == (
        "Big unit would give 5.1 J into 500 Ω; energizers for livestock give at most 5 J."
    )
    assert str(refused.value.remedy) == (
        "Give the output from its data sheet; what a unit stores is more than it gives."
    )
