from __future__ import annotations

import tomllib
from pathlib import Path

import numpy as np
import pytest
import shapely

from pigmap.animals.nitrogen import NITROGEN_CAP_KG_HA
from pigmap.builtin.tints.nitrogen import tint as nitrogen
from pigmap.builtin.tints.none import tint as none
from pigmap.builtin.tints.ready import tint as ready
from pigmap.builtin.tints.rest import tint as rest
from pigmap.builtin.tints.rest_and_rooting import tint as rest_and_rooting
from pigmap.builtin.tints.rooting import tint as rooting
from pigmap.builtin.tints.since_pigs import tint as since_pigs
from pigmap.builtin.tints.slope import tint as slope
from pigmap.builtin.tints.stocking import tint as stocking
from pigmap.builtin.tints.wet import tint as wet
from pigmap.drawing.clods import clods_in
from pigmap.drawing.key import key_of
from pigmap.drawing.tint import SLOPE, WATER, Layers, Tint, asks_for, tells_use
from pigmap.drawing.tinted import tinted_cells
from pigmap.drawing.tokens import BARE, REST_COLOURS, SINCE_COLOURS, SLOPE_COLOURS, STOCKING_COLOURS, WET_COLOURS, rgb
from pigmap.drawing.view import View
from pigmap.drawing.words import render
from pigmap.geometry.frame import CellFrame
from pigmap.records import Field

ALL: tuple[Tint, ...] = (rest, rooting, rest_and_rooting, ready, stocking, nitrogen, since_pigs, wet, slope, none)
ROOT = Path(__file__).resolve().parents[3]


def layers(**changed: object) -> Layers:
    plain: dict[str, object] = {
        "rest_days": np.array([-1, 0, 50], dtype=np.int32),
        "rooting": np.array([0.05, 0.9, 0.4], dtype=np.float32),
        "ready_in_days": np.array([0, -1, 9], dtype=np.int32),
        "load_kg_d_m2": np.array([0, 3, 12], dtype=np.float32),
        "n_kg_ha": np.array([0, 60, 400], dtype=np.float32),
        "used": np.array([False, True, True]),
        "seen": np.array([False, True, False]),
        WATER: np.array([np.nan, 2.0, 40.0]),
        SLOPE: np.array([np.nan, 2.0, 14.0], dtype=np.float32),
    }
    return {name: np.asarray(value) for name, value in (plain | changed).items()}


def test_rest_has_six_steps_and_leaves_unused_ground_bare() -> None:
    days = np.array([-1, 0, 6, 7, 20, 21, 41, 42, 69, 70, 104, 105, 4000], dtype=np.int32)
    assert rest.steps(layers(rest_days=days)).tolist() == [BARE, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5]


def test_the_key_of_rest_says_from_which_day_to_which() -> None:
    key = rest.key()
    assert [step.colour for step in key] == list(REST_COLOURS)
    assert [render(step.words) for step in (key[0], key[1], key[5])] == [
        "0 to 6 days",
        "7 to 20 days",
        "105 days and more",
    ]


def test_rest_and_rooting_is_rest_with_clods_over_it() -> None:
    assert rest_and_rooting.steps(layers()).tolist() == rest.steps(layers()).tolist()
    assert rest_and_rooting.key() == rest.key()
    assert (rest.clods, rest_and_rooting.clods) == (False, True)


def test_rooting_alone_is_clods_on_a_wash_over_used_ground() -> None:
    assert rooting.steps(layers()).tolist() == [BARE, 0, 0]
    assert rgb(rooting.key()[0].colour)[3] == 153  # 60 % white
    assert rooting.clods
    assert [render(step.words) for step in rooting.key()] == ["hardly", "a quarter", "half", "most", "all"]


@pytest.mark.parametrize("tint", [rooting, rest_and_rooting], ids=lambda tint: tint.name)
def test_clods_are_drawn_on_rooted_ground_and_on_nothing_else(tint: Tint) -> None:
    square = shapely.box(0, 0, 60, 20)
    ground = Field(name="Top", outline=shapely.MultiPolygon([square]), origin_x_m=0, origin_y_m=0, turned_deg=0)
    frame = CellFrame(0.0, 0.0, 0.0, 2.0, 10, 30)
    region_of = np.repeat(np.arange(30, dtype=np.int32) // 10, 10).reshape(30, 10).T  # three squares side by side
    cells = tinted_cells(ground, frame, region_of, layers(), tint)
    found = clods_in(cells, View(30.0, 10.0, 0.1, 600.0, 200.0))
    where = {each: (clods.spots[:, 0].min(), clods.spots[:, 0].max()) for each, clods in found.items()}
    assert set(where) == {2, 4}  # 0.9 is all, 0.4 half, 0.05 hardly
    assert where[4][0] >= 199
    assert where[4][1] <= 401
    assert where[2][0] >= 399


def test_ready_counts_weeks_and_what_is_out_of_sight_is_later() -> None:
    days = np.array([0, 1, 7, 8, 14, 28, 29, 56, 57, -1], dtype=np.int32)
    assert ready.steps(layers(ready_in_days=days)).tolist() == [0, 1, 1, 2, 2, 3, 4, 4, 5, 5]
    key = ready.key()
    assert (key[0].colour, key[5].colour) == ("#FFEEB0", "#795376")
    assert [render(step.words) for step in key] == [
        "now",
        "in 1 week",
        "in 2 weeks",
        "in 4 weeks",
        "in 8 weeks",
        "later",
    ]


def test_stocking_has_five_steps_and_leaves_ground_that_carried_nothing_bare() -> None:
    loads = np.array([0, 0.2, 1, 2.5, 5, 9.9, 10, 40], dtype=np.float32)
    assert stocking.steps(layers(load_kg_d_m2=loads)).tolist() == [BARE, 0, 1, 2, 3, 3, 4, 4]
    assert [step.colour for step in stocking.key()] == list(STOCKING_COLOURS)
    assert render(stocking.key()[0].words) == "up to 100 pig-days/ha"


def test_nitrogen_steps_at_the_cap_that_its_key_marks_and_names_as_advice() -> None:
    laid = np.array([0, 1, 14.9, 15, 39, 40, 84.9, 85, 169.9, 170, 400], dtype=np.float32)
    assert nitrogen.steps(layers(n_kg_ha=laid)).tolist() == [BARE, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4]
    key = key_of(nitrogen)
    assert NITROGEN_CAP_KG_HA == 170  # Directive 91/676/EEC, Annex III, as cited in Regulation 2092/91, Annex I.B 7.1
    assert key.mark_at_step == 4
    assert render(key.columns[4]) == "from 170 kg/ha"
    assert render(key.columns[4], system="us") == "from 152 lb/ac"
    (note,) = key.notes
    assert render(note) == (
        "Blue mark: 170 kg/ha a year, Directive 91/676/EEC. Advice: local limits may be lower, ask your adviser."
    )


def test_since_pigs_counts_years_from_dark_to_light_and_promises_nothing() -> None:
    days = np.array([-1, 0, 365, 366, 731, 1460, 1461, 3287, 3288, 9000], dtype=np.int32)
    assert since_pigs.steps(layers(rest_days=days)).tolist() == [BARE, 0, 0, 1, 2, 2, 3, 3, 4, 4]
    key = key_of(since_pigs)
    assert key.colours == SINCE_COLOURS
    assert [render(words) for words in key.columns] == [
        "within a year",
        "1 to 2 years ago",
        "2 to 4 years ago",
        "4 to 9 years ago",
        "9 years ago or more",
    ]
    # Katakam and others 2016, Parasites and Vectors 9:80: eggs survive up to at least 9 years.
    assert render(key.notes[0]) == (
        "Plants come back in weeks. Roundworm eggs in the ground can live for 9 years and longer: no colour says that "
        "they are gone."
    )


def test_wet_has_three_steps_with_the_palest_for_dry_ground() -> None:
    assert wet.steps(layers(lacks_mm=np.array([0.0, 3.0, 3.1, 10.0, 10.1, 90.0]))).tolist() == [2, 2, 1, 1, 0, 0]
    key = key_of(wet)
    assert key.colours == WET_COLOURS
    assert [render(words) for words in key.columns] == ["dry enough", "take care", "too wet"]
    said = " ".join(render(note) for note in key.notes)
    assert "days to come, count as usual for the season" in said
    assert "no soil told" in said


def test_slope_has_three_steps_at_seven_and_twelve_degrees() -> None:
    assert slope.steps(layers(slope_deg=np.array([0.0, 6.9, 7.0, 12.0, 12.1, 50.0]))).tolist() == [0, 0, 1, 1, 2, 2]
    key = key_of(slope)
    assert key.colours == SLOPE_COLOURS
    assert [render(words) for words in key.columns] == ["under 7°", "7° to 12°", "above 12°"]
    assert "terrain image" in render(key.notes[0])


def test_wet_and_slope_ask_for_what_they_show_and_tell_nothing_of_use() -> None:
    assert [asks_for(tint) for tint in ALL if asks_for(tint)] == ["lacks_mm", "slope_deg"]
    assert [tint.name for tint in ALL if not tells_use(tint)] == ["ready", "wet", "slope"]


def test_ready_colours_ground_that_was_never_used_so_that_its_key_has_no_line_for_it() -> None:
    assert ready.steps(layers()).tolist()[0] == 0  # never used: ready now
    assert not tells_use(ready)
    assert tells_use(rest)


def test_the_photo_alone_has_no_steps() -> None:
    assert none.steps(layers()).tolist() == [BARE] * 3
    assert none.key() == ()
    assert not none.clods


@pytest.mark.parametrize("tint", ALL, ids=lambda tint: tint.name)
def test_every_step_of_a_tint_stands_in_its_key(tint: Tint) -> None:
    steps = tint.steps(layers())
    assert steps.dtype == np.uint8
    assert tint.api == 1
    assert all(step == BARE or step < len(tint.key()) for step in steps)


def test_tints_are_declared_under_their_own_names() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["entry-points"]
    assert set(declared["pigmap.tints"]) == {tint.name for tint in ALL}
