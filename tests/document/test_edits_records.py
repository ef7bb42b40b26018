"""Checks, weather, groups, nets, settings, images, names: edits of single rows."""

from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.document.edits import (
    add_field,
    add_group,
    add_nets,
    add_weather,
    amend,
    call_hot,
    change_setting,
    close_group,
    even_bays,
    link_image,
    rain_in_gauge,
    record_check,
    record_event,
    record_net_use,
    record_stay,
    rename,
    set_net_condition,
    together,
    unlink_image,
    weigh,
)
from pigmap.errors import EditError, RecordError
from pigmap.records import GroundCover, GroupEventKind, NetCondition, WeatherDay
from pigmap.text import Text
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, PADDOCK, done, empty, example, only


def test_a_check_finds_the_group_that_is_there() -> None:
    farm = done(
        example(),
        record_check(PADDOCK, DAY, rooting_score=2, uid="before"),
        record_stay(GROUP, PADDOCK, DAY),
        record_check(PADDOCK, DAY, fence_kv=5.5, uid="after"),
    )
    assert farm.checks["before"].group_uid is None
    assert farm.checks["after"].group_uid == GROUP
    assert farm.checks["after"].fence_kv == 5.5


def test_weather_of_a_day_that_is_there_is_replaced() -> None:
    farm = done(empty(), add_weather([WeatherDay(day=DAY, rain_mm=1.0), WeatherDay(day=date(2026, 5, 2))]))
    first = next(row for row in farm.weather_days.values() if row.day == DAY)
    edit = add_weather([WeatherDay(day=DAY, rain_mm=4.0)])
    farm = done(farm, edit)
    assert len(farm.weather_days) == 2
    assert farm.weather_days[first.uid].rain_mm == 4.0
    assert edit(farm) == []
    assert str(edit.label) == "Weather of a day taken in."


def test_what_is_not_read_anew_of_a_day_stays_as_it_was() -> None:
    known = WeatherDay(day=DAY, rain_mm=1.0, min_c=4.0, max_c=9.0, humidity_pct=80.0, hot=True)
    farm = done(empty(), add_weather([known]), add_weather([WeatherDay(day=DAY, max_c=12.0, source="file")]))
    (row,) = farm.weather_days.values()
    assert (row.rain_mm, row.min_c, row.max_c, row.humidity_pct, row.hot, row.source) == (1, 4, 12, 80, True, "file")


def test_a_temperature_that_cannot_stand_beside_the_new_one_is_dropped() -> None:
    known = WeatherDay(day=DAY, rain_mm=1.0, min_c=14.0, max_c=19.0)
    farm = done(empty(), add_weather([known]), add_weather([WeatherDay(day=DAY, max_c=9.0)]))
    (row,) = farm.weather_days.values()
    assert (row.rain_mm, row.min_c, row.max_c) == (1.0, None, 9.0)


def test_rain_in_the_gauge_goes_to_its_day_and_leaves_the_rest_of_it() -> None:
    farm = done(empty(), add_weather([WeatherDay(day=DAY, rain_mm=1.0, max_c=9.0)]), rain_in_gauge(DAY, 6.5))
    (row,) = farm.weather_days.values()
    assert (row.rain_mm, row.max_c, row.source) == (6.5, 9.0, "gauge")
    assert str(rain_in_gauge(DAY, 6.5).label) == "6.5 mm of rain on 2026-05-01."
    assert rain_in_gauge(DAY, 6.5)(farm) == []


def test_no_rain_in_the_gauge_is_a_reading_too() -> None:
    farm = done(empty(), rain_in_gauge(DAY, 0.0))
    assert [row.rain_mm for row in farm.weather_days.values()] == [0.0]


def test_rain_that_cannot_fall_is_refused() -> None:
    with pytest.raises(RecordError, match="The rain is -2"):
        rain_in_gauge(DAY, -2.0)


def test_a_day_is_called_hot_and_no_longer() -> None:
    farm = done(empty(), rain_in_gauge(DAY, 2.0), call_hot(DAY))
    assert [(row.hot, row.rain_mm) for row in farm.weather_days.values()] == [(True, 2.0)]
    assert str(call_hot(DAY).label) == "2026-05-01 is a hot day."
    farm = done(farm, call_hot(DAY, hot=False))
    assert [row.hot for row in farm.weather_days.values()] == [False]
    assert str(call_hot(DAY, hot=False).label) == "2026-05-01 is no hot day."
    assert call_hot(DAY, hot=False)(farm) == []


def test_taking_back_that_a_day_with_no_reading_is_hot_leaves_no_row() -> None:
    farm = done(empty(), call_hot(DAY), call_hot(DAY, hot=False))
    assert not farm.weather_days


def test_a_new_group_counts_from_its_first_day_and_takes_a_free_colour() -> None:
    farm = example()
    assert [group.colour_index for group in farm.groups.values()] == [0, 1]
    event = only(farm.group_events)
    assert (event.pigs, event.mean_kg, event.happened_on) == (8, 180.0, DAY)
    assert done(farm, close_group(GROUP, DAY), add_group("Porkers", uid="p")).groups["p"].colour_index == 0


def test_what_happens_to_a_group_is_recorded() -> None:
    farm = done(
        empty(),
        add_group("Sows", uid="g"),
        weigh("g", DAY, 92.5, pigs=6),
        record_event("g", DAY, GroupEventKind.DIED, pigs=1),
    )
    assert sorted(event.kind for event in farm.group_events.values()) == ["died", "weighed"]


def test_nets_are_added_by_number_and_one_can_be_damaged() -> None:
    farm = done(example(), add_nets(KIND, 3, numbers=["36", "37"], first_used_on=DAY))
    assert sorted(net.number for net in farm.nets.values())[-3:] == ["", "36", "37"]
    uid = next(iter(farm.nets))
    assert done(farm, set_net_condition(uid, NetCondition.DAMAGED)).nets[uid].condition is NetCondition.DAMAGED


def test_no_net_cannot_be_added() -> None:
    with pytest.raises(EditError) as refused:
        add_nets(KIND, 0)
    assert str(refused.value) == "0 nets cannot be added. Give a number of at least 1."


@pytest.mark.parametrize(("length_mm", "posts"), [(50_000, 15), (25_000, 8), (49_990, 14), (7, 8)])
def test_even_bays_add_up_to_the_net(length_mm: int, posts: int) -> None:
    bays = even_bays(length_mm, posts)
    assert (sum(bays), len(bays)) == (length_mm, posts - 1)
    assert max(bays) - min(bays) <= 1


def test_a_net_of_one_post_is_refused() -> None:
    with pytest.raises(EditError) as refused:
        even_bays(50_000, 1)
    assert str(refused.value) == "A net of 1 posts cannot be 50000 mm long. Give it at least 2 posts and a length."


def test_where_a_net_stood_is_recorded() -> None:
    run = shapely.LineString([(0, 0), (50, 0)])
    farm = done(example(), record_net_use(PADDOCK, KIND, run, DAY))
    assert only(farm.net_uses).set_on == DAY


def test_a_setting_is_set_changed_and_taken_back() -> None:
    farm = done(empty(), change_setting("units", "us"))
    uid = only(farm.settings).uid
    assert farm.setting("units") == "us"
    farm = done(farm, change_setting("units", "metric"))
    assert farm.settings[uid].value == "metric"
    assert change_setting("units", "metric")(farm) == []
    assert not done(farm, change_setting("units", None)).settings
    assert change_setting("units", None)(empty()) == []


def test_images_lie_on_top_of_each_other_until_unlinked() -> None:
    farm = done(empty(), link_image("2014", "a.tif", uid="a"), link_image("2020", "b.tif", uid="b"))
    assert (farm.images["a"].position, farm.images["b"].position) == (0, 1)
    assert list(done(farm, unlink_image("a")).images) == ["b"]
    with pytest.raises(EditError, match="The image is not there any more"):
        done(farm, unlink_image("x"))


def test_names_and_single_columns_change() -> None:
    farm = done(example(), rename("fields", FIELD, "Top"), amend("fields", FIELD, ground_cover=GroundCover.LEY))
    assert (farm.fields[FIELD].name, farm.fields[FIELD].ground_cover) == ("Top", GroundCover.LEY)
    assert amend("fields", FIELD, ground_cover=GroundCover.LEY)(farm) == []
    assert str(rename("fields", FIELD, "Top").label) == "Renamed to Top."


def test_columns_with_an_edit_of_their_own_are_refused() -> None:
    for column in ("outline", "colour"):
        with pytest.raises(EditError) as refused:
            amend("fields", FIELD, **{column: 1})
        assert str(refused.value) == (
            f"{column} of a field cannot be changed on its own. Choose one of: cell_m, forage, ground_cover, name, "
            "note, origin_x_m, origin_y_m, retired_on, soil, turned_deg."
        )


def test_edits_together_are_one_edit_with_one_change_for_each_row() -> None:
    edit = together(
        Text("Farm begun."),
        [
            add_field("Ley", shapely.box(0, 0, 10, 10), uid="f"),
            rename("fields", "f", "Top"),
            link_image("a", "a.tif", uid="i"),
            unlink_image("i"),
        ],
    )
    (row,) = edit(empty())
    assert row.before is None
    assert getattr(row.after, "name", "") == "Top"
