from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Any, cast

import numpy as np
import pytest

from pigmap.animals.needs import needs
from pigmap.ground import prepare
from pigmap.ground.lasts import HowLong, Limit, Start, how_long
from pigmap.ground.lasts_words import all_words, first_words, leads_words, own_pace_words, rooting_words
from pigmap.ground.winter import winter_of, winter_use, winter_words
from pigmap.records import Group, OwnDays, Purpose, Record, Use
from pigmap.text.source import OUR_FIT, OWN_RECORDS
from tests.ground.invented import farm, field, herd, on, setting, stay

AREA = 2500.0


def pigs(**columns: Any) -> list[Record]:
    group, came = herd()
    return [replace(cast("Group", group), **columns), came]


def asked(*rows: Record, day: int = 0, area_m2: float = AREA, start: Start | None = None) -> HowLong:
    made = farm(*(rows or herd()), field())
    return how_long(made, "g", made.fields["f"], area_m2, on(day), start)


def said(found: HowLong) -> list[str]:
    return [str(each.words) for each in all_words(found)]


def test_rooting_passes_what_is_welcome_on_the_day_that_the_ground_shows_it() -> None:
    found = asked()
    assert found.rooting.days is not None
    days = int(found.rooting.days)
    state = prepare(farm(*herd(), field(), stay("s", 0, 60)), "f")
    rooted = [1 - state.on(on(day)).cells("cover")[3, 3].item() for day in (days, days + 1)]
    assert rooted[0] <= 0.25 < rooted[1]


def test_the_rough_figure_has_a_range_around_it() -> None:
    found = asked().rooting
    assert found.least is not None
    assert found.days is not None
    assert found.most is not None
    assert found.least < found.days < found.most
    assert found.days / found.least == pytest.approx(1.45, rel=0.15)


def test_twice_the_ground_lasts_longer_and_more_than_twice_near_what_grows_back() -> None:
    days = [asked(area_m2=area).rooting.days or np.inf for area in (1250.0, 2500.0, 5000.0, 50_000.0)]
    assert all(before < after for before, after in pairwise(days))
    assert days[-1] == np.inf


def test_rings_make_it_last_longer_and_little_feed_shorter() -> None:
    plain, ringed, hungry = (
        asked(*pigs(**columns)).rooting.days or 0.0 for columns in ({}, {"ringed": True}, {"feed_share": 0.7})
    )
    assert hungry < plain < ringed


def test_ground_that_is_rooted_already_lasts_no_day_and_says_so() -> None:
    found = asked(start=Start(rooting=0.4))
    assert found.rooting.days == 0.0
    assert "More than 0.25 of it is rooted already, by a rough figure." in said(found)
    assert found.first == found.rooting


def test_ground_that_is_to_be_turned_over_has_no_end_by_rooting() -> None:
    over = Purpose(uid="p", field_uid="f", from_month_day="01-01", to_month_day="12-31", purpose=Use.TURN_OVER)
    found = asked(*herd(), over)
    assert found.rooting.days is None
    assert "All of it may be rooted here, so rooting sets no end." in said(found)
    assert found.first is not None
    assert found.first.limit is Limit.NITROGEN


def test_nitrogen_of_the_year_counts_with_what_lies_there_already() -> None:
    # 20 sows of 49 g on a quarter hectare: 3.92 kg/ha a day.
    assert asked().nitrogen.days == pytest.approx(170 / 3.92)
    assert asked(start=Start(n_kg_ha=70.0)).nitrogen.days == pytest.approx(100 / 3.92)
    assert asked(start=Start(n_kg_ha=200.0)).nitrogen.days == 0.0
    assert asked(*herd(), setting("nitrogen cap", "17")).nitrogen.days == pytest.approx(17 / 3.92)
    assert asked(area_m2=1e6).nitrogen.days is None


def test_nothing_lasts_forever_for_a_group_without_pigs_but_nothing_ends_either() -> None:
    found = asked(Group(uid="g", name="Nobody"))
    assert (found.rooting.days, found.nitrogen.days, found.first) == (None, None, None)
    assert first_words(found) is None


def test_the_tank_and_the_feed_are_told_where_somebody_told_them() -> None:
    assert (asked().water, asked().feed) == (None, None)
    own = OwnDays(uid="o", group_uid="g", days=6.0)
    found = asked(*pigs(tank_l=600.0, feeder_kg=1000.0, feed_kg=2.5), own)
    daily = needs(farm(*herd()), "g", on(0)).drink_l
    assert found.water is not None
    assert found.water.days == pytest.approx(600 / daily)
    assert found.first == found.water
    assert said(found)[3:] == [
        "The tank lasts 2.6 d, 1.3 d in hot weather: filled again 2 times in 6 d.",
        "The feed lasts 20 d: enough for 6 d.",
        "Water would come first, after 2.6 d, unless it is filled.",
    ]


def test_the_keepers_own_days_lead_and_the_others_are_told_beside_them() -> None:
    own = OwnDays(uid="o", group_uid="g", days=9.0)
    found = asked(*herd(), own)
    words = said(found)
    assert words[0] == "9 d, as you said. Your own days lead."
    assert words[1].startswith("0.25 is rooted after about 5 d (3 to 8).")
    assert words[2] == "Nitrogen comes to 170 kg/ha, the most for a year, after 43 d; 0 kg/ha lie there now."
    assert words[-1] == "Rooting would come first, after 5 d."


def test_where_nobody_told_any_days_it_is_said_so() -> None:
    assert said(asked())[0] == "5 d, since nobody told how long a paddock lasts them and no past stay tells."
    stays = [stay("s", -40, -33), stay("t", -30, -26), stay("u", -20, -15)]
    assert said(asked(*herd(), *stays))[0] == "5 d: the middle one of the last 3 stays (4, 5, 7)."


def test_ground_that_outlasts_a_year_is_told_so() -> None:
    words = said(asked(area_m2=1e6))
    assert words[1:] == [
        "Less than 0.25 is rooted within a year, by a rough figure.",
        "Nitrogen does not come to 170 kg/ha there within a year.",
    ]


# Winter


def in_winter(*rows: Record, today: date = date(2026, 6, 1)) -> list[str]:
    made = farm(*herd(), field(), *rows)
    return [str(each) for each in winter_words(winter_use(made, "g", made.fields["f"], AREA, today))]


def test_the_winter_that_is_or_comes_next() -> None:
    made = farm()
    assert winter_of(made, date(2026, 6, 1)) == (date(2026, 11, 1), date(2027, 4, 30))
    assert winter_of(made, date(2027, 2, 1)) == (date(2026, 11, 1), date(2027, 4, 30))
    assert winter_of(made, date(2027, 4, 30)) == (date(2026, 11, 1), date(2027, 4, 30))
    south = replace(made, projection=replace(made.projection, definition="EPSG:32732", code=32732))
    if south.projection.lies_south:
        assert winter_of(south, date(2026, 6, 1)) == (date(2026, 5, 1), date(2026, 10, 31))


def test_a_winter_at_the_keepers_days_takes_so_many_paddocks() -> None:
    made = farm(
        *herd(), field(), OwnDays(uid="o", group_uid="g", days=10.0, from_month_day="11-01", to_month_day="04-30")
    )
    found = winter_use(made, "g", made.fields["f"], AREA, date(2026, 6, 1))
    assert (found.paddocks, found.area_m2) == (19, 19 * AREA)
    assert found.first_left == date(2026, 11, 11)
    assert found.first_ready is not None
    assert found.last_ready is not None
    assert found.first_ready < found.last_ready


def test_winter_ground_that_does_not_come_back_in_time_is_not_hidden() -> None:
    bad = Purpose(
        uid="p",
        field_uid="f",
        from_month_day="01-01",
        to_month_day="12-31",
        purpose=Use.WINTER_GROUND,
        rest_days_wanted=250,
    )
    words = in_winter(bad)
    assert words[0] == "From 2026-11-01 to 2027-04-30 they use 37 paddocks of this size: 92500 m² in all."
    assert words[1] == (
        "What they leave on 2026-11-06 is ready again about 2027-07-14: no ground comes twice in that winter."
    )
    quick = in_winter()
    assert quick[1].endswith(", by a rough figure.")
    assert quick[2].startswith("What they leave last is ready about ")


def test_ground_that_is_not_ready_within_sight_is_said_to_be_so() -> None:
    words = in_winter(setting("cover regrowth", "0.000001"))
    assert words[1] == "What they leave on 2026-11-06 is not ready again within two years, by a rough figure."


# The farm's own pace


def test_a_farm_that_goes_by_its_own_pace_may_take_its_days_as_its_own() -> None:
    printed, taught = asked(), asked(*herd(), setting("cover loss", "0.2"))
    assert (printed.own_pace, own_pace_words(printed)) == (False, None)
    assert taught.own_pace
    assert taught.rooting.days is not None
    assert taught.rooting.days < (printed.rooting.days or 0.0)
    assert str(own_pace_words(taught)) == (
        "Rooting goes by what daily checks of this farm have taught: you may take its 2.7 d as your own days."
    )
    assert rooting_words(taught).sources == (OWN_RECORDS,)
    assert rooting_words(printed).sources == (OUR_FIT,)


def test_one_sentence_says_who_leads_and_why_and_what_the_pace_only_tells() -> None:
    usual = str(leads_words(asked()))
    assert usual.startswith("The usual days lead (5 d) until you tell some or a stay ends; the rough pace from print ")
    assert usual.endswith(" d).")
    after = str(leads_words(asked(*herd(), stay("s", -10, -4))))
    assert after.startswith("Your last stays lead (6 d): what you did counts before the rough pace from print (")
    typed = asked(*herd(), OwnDays(uid="own", group_uid="g", days=3.5), setting("cover loss", "0.2"))
    assert str(leads_words(typed)).startswith(
        "Your word leads (3.5 d): what you typed counts before the pace that daily checks taught ("
    )
    all_rooted = Purpose(uid="all", field_uid="f", from_month_day="01-01", to_month_day="12-31", purpose=Use.TURN_OVER)
    assert str(leads_words(asked(*herd(), all_rooted))).endswith("(no end: all may be rooted).")
    assert str(leads_words(asked(start=Start(rooting=0.9)))).endswith("(past already).")
