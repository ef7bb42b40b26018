from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from pigmap.animals.hot import (
    IndexClass,
    SowStage,
    Stress,
    hot_days,
    hot_weather,
    index_of,
    stage_of,
)
from pigmap.animals.hot_short import hot_short
from pigmap.animals.hot_words import hot_line, index_words, temperature_words, what_to_do
from pigmap.animals.needs import needs
from pigmap.records import Group, Litter, PigClass, WeatherDay
from tests.animals.invented import farm, pigs

DAY = date(2026, 7, 2)


def older_form(temperature_c: float, humidity: float) -> float:
    """Return the index by its older form, from memory of Thom 1959: a second way to the same number."""
    fahrenheit = 1.8 * temperature_c + 32.0
    return fahrenheit - (0.55 - 0.55 * humidity) * (fahrenheit - 58.0)


@given(st.floats(15.0, 40.0), st.floats(0.1, 1.0))
def test_two_forms_of_the_index_agree(temperature_c: float, humidity: float) -> None:
    assert abs(index_of(temperature_c, humidity) - older_form(temperature_c, humidity)) <= 0.30


def weather(on: date = DAY, most: float | None = 31.0, humid: float | None = 50.0, *, hot: bool = False) -> WeatherDay:
    return WeatherDay(uid=f"w{on}", day=on, max_c=most, humidity_pct=humid, hot=hot)


def test_a_hot_day_is_told_both_ways() -> None:
    found = hot_weather(weather(), SowStage.LATE)
    assert (found.index_class, found.stress) == (IndexClass.DANGER, Stress.SEVERE)
    assert found.hot
    assert found.dangerous
    assert [str(temperature_words(found, SowStage.LATE)), str(index_words(found))] == [
        "By the temperature alone 31 °C is very hot for sows in late gestation.",
        "With 0.5 humidity the index of both is 80: danger. It was made for cattle; pigs do not sweat, so dry air is "
        "harder on them than it says.",
    ]


def test_a_day_whose_humidity_nobody_read_says_so() -> None:
    found = hot_weather(weather(humid=None))
    assert found.both is None
    assert found.hot
    assert str(index_words(found)) == ("The humidity of the day is not known, so there is no index of both.")


def test_a_day_that_someone_called_hot_is_hot_without_a_temperature() -> None:
    found = hot_weather(weather(most=None, humid=None, hot=True))
    assert found.hot
    assert not found.dangerous
    assert str(hot_line(found)) == "Hot weather on 2026-07-02: water and shade"
    assert str(temperature_words(found, SowStage.OPEN)) == (
        "Someone said that 2026-07-02 is hot. Its temperature is not known."
    )


def test_a_mild_day_is_not_hot() -> None:
    assert not hot_weather(weather(most=20.0)).hot
    assert not hot_weather(weather(most=None, humid=None)).hot


def test_hot_days_of_today_and_the_forecast_are_told_and_no_others() -> None:
    days = [DAY + timedelta(days=ahead) for ahead in range(-1, 5)]
    rows = [weather(on, most=30.0 if on != days[2] else 18.0) for on in days]
    made = farm(*pigs(), *rows)
    assert [each.day for each in hot_days(made, made.groups["g"], DAY)] == [days[1], days[3]]


def test_sows_near_farrowing_count_as_late_in_gestation() -> None:
    litter = Litter(uid="l", group_uid="g", sow="Old Bess", due_on=DAY + timedelta(days=30))
    group = Group(uid="g", name="Dry sows", pig_class=PigClass.GESTATING)
    made = farm(group, litter)
    assert stage_of(made, group, DAY) is SowStage.LATE
    assert stage_of(made, group, DAY - timedelta(days=60)) is SowStage.MID
    assert stage_of(made, group, DAY + timedelta(days=31)) is SowStage.MID
    assert stage_of(made, Group(uid="h", name="Pigs"), DAY) is SowStage.OPEN


def test_what_to_do_names_water_shade_and_a_vet_and_more_where_it_is_dangerous() -> None:
    made = farm(*pigs(count=10, kg=80.0))
    need = needs(made, "g", DAY)
    mild, hard = (what_to_do(hot_weather(weather(most=most)), need) for most in (26.0, 36.0))
    assert str(mild[0]).startswith("Have 151 L of water ready, ")
    assert "vet" in str(mild[-1])
    assert len(hard) == len(mild) + 1
    shorts = [hot_weather(weather(most=most, hot=True)) for most in (26.0, 36.0, None)]
    assert [str(hot_short(each)) for each in shorts] == [
        "Hot, 26 °C: water and shade",
        "Hot, 36 °C: wet them, shade",
        "Hot: water and shade",
    ]
    assert str(hot_line(hot_weather(weather(most=36.0)))) == "36 °C on 2026-07-02: water, shade, wet them"
