from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest

from pigmap.animals.animal_units import Definition
from pigmap.animals.feed import usual_feed_kg
from pigmap.animals.manure import ManureSource, manure_source, nitrogen_g, phosphorus_g
from pigmap.animals.needs import Lasts, needs
from pigmap.animals.nitrogen import NITROGEN_CAP_KG_HA, nitrogen_cap
from pigmap.animals.space import Area, shade_m2, shelter_m2
from pigmap.animals.water import drinkers_wanted, flow_ml, water_of
from pigmap.records import Group, PigClass
from tests.animals.invented import farm, pigs, setting

DAY = date(2026, 7, 2)


def test_a_group_is_told_all_that_it_needs_and_leaves() -> None:
    need = needs(farm(*pigs(count=20, kg=80.0, tank_l=300.0, feeder_kg=100.0, feed_kg=2.5, drinkers=1)), "g", DAY)
    assert need.weight.total_kg == pytest.approx(1600.0)
    assert need.band.least_kg < 80.0 < need.band.most_kg
    assert need.feed_kg == 50.0
    assert need.drink_l == pytest.approx(20 * 2 * 3.785411784)
    assert need.hot_drink_l == pytest.approx(2 * need.drink_l)
    assert need.nitrogen_g == 660.0
    assert need.manure_source is ManureSource.UK
    assert (need.drinkers_wanted, need.drinkers_short) == (2, 1)
    assert need.feeder == Lasts(2.0, 2.0)
    assert need.tank is not None
    assert (need.tank.days, need.tank.hot_days) == pytest.approx((1.981, 0.991), abs=0.001)
    assert need.hot_lying_m2 > need.lying_m2
    assert {each.definition for each in need.units} == set(Definition)


def test_what_nobody_told_is_not_made_up() -> None:
    need = needs(farm(*pigs()), "g", DAY)
    assert (need.tank, need.feeder, need.drinkers_short) == (None, None, 0)
    assert need.feed_kg > 0


def test_a_group_without_pigs_needs_nothing() -> None:
    need = needs(farm(Group(uid="g", name="Nobody", tank_l=300.0)), "g", DAY)
    assert (need.feed_kg, need.drink_l, need.drinkers_wanted, need.nitrogen_g, need.tank) == (0, 0, 0, 0, None)


def test_a_tank_is_filled_again_once_less_than_it_is_emptied() -> None:
    assert Lasts(2.0, 1.0).refills(6.0) == 2
    assert Lasts(2.0, 1.0).refills(6.0, hot=True) == 5
    assert Lasts(7.0, 3.5).refills(6.0) == 0


def test_a_share_of_a_full_ration_is_a_share_of_the_usual_feed() -> None:
    full, part = (needs(farm(*pigs(feed_share=share)), "g", DAY).feed_kg for share in (None, 0.8))
    assert part == pytest.approx(0.8 * full)


def test_the_farm_chooses_whose_figures_of_manure_count() -> None:
    laid = {
        source: needs(farm(*pigs(count=1), setting("manure source", f'"{source}"')), "g", DAY).nitrogen_g
        for source in ManureSource
    }
    assert laid[ManureSource.UK] == 33.0
    assert laid[ManureSource.ASABE] == 39.2
    assert laid[ManureSource.NRCS] == pytest.approx(0.54 * 80)
    assert laid[ManureSource.GERMAN] == pytest.approx(9900 / 365)
    assert 30.0 < laid[ManureSource.BALANCE] < 60.0


@pytest.mark.parametrize("value", ['"somebody"', "7", "null"])
def test_a_source_that_nobody_knows_leaves_the_one_that_was_read(value: str) -> None:
    assert manure_source(farm(setting("manure source", value))) is ManureSource.UK


def test_protein_of_the_feed_counts_in_the_mass_balance_alone() -> None:
    plain, rich = (Group(uid="g", name="Pigs", feed_protein_g_kg=protein) for protein in (None, 200.0))
    for source in ManureSource:
        more = float(nitrogen_g(rich, 80.0, source)) > float(nitrogen_g(plain, 80.0, source))
        assert more is (source is ManureSource.BALANCE)


@pytest.mark.parametrize("pig_class", list(PigClass))
@pytest.mark.parametrize("source", list(ManureSource))
def test_every_class_leaves_more_nitrogen_than_phosphorus(pig_class: PigClass, source: ManureSource) -> None:
    group = Group(uid="g", name="Pigs", pig_class=pig_class)
    assert float(nitrogen_g(group, 60.0, source)) > float(phosphorus_g(group, 60.0, source)) > 0


def test_the_nitrogen_of_a_year_is_a_setting() -> None:
    assert nitrogen_cap(farm()) == NITROGEN_CAP_KG_HA == 170.0
    assert nitrogen_cap(farm(setting("nitrogen cap", "120"))) == 120.0
    for value in ('"much"', "true", "0", "-5"):
        assert nitrogen_cap(farm(setting("nitrogen cap", value))) == 170.0


def test_weaned_pigs_share_a_drinker_in_tens_and_no_pigs_want_none() -> None:
    assert [drinkers_wanted(pigs, PigClass.WEANED) for pigs in (0, 10, 21, 31)] == [0, 2, 3, 4]


def test_sows_with_litters_want_more_water_and_more_of_it_at_a_time() -> None:
    dry, milk = PigClass.GESTATING, PigClass.LACTATING
    assert water_of(milk, 200.0).most_l > water_of(dry, 200.0).most_l > water_of(PigClass.FINISHING, 100.0).most_l
    assert flow_ml(milk, 200.0)[1] == 1500.0
    assert flow_ml(dry, 200.0) == pytest.approx((709.8, 946.4), abs=0.1)
    assert flow_ml(PigClass.WEANED, 12.0) < flow_ml(PigClass.FINISHING, 80.0)


def test_shade_and_roof_grow_with_the_pigs() -> None:
    assert shade_m2(PigClass.GESTATING, 200.0) == Area(1.4, 1.9)
    assert shade_m2(PigClass.LACTATING, 200.0).most_m2 > 1.9
    assert [shade_m2(PigClass.GROWING, kg).most_m2 for kg in (45.0, 46.0)] == [0.37, 0.56]
    roof = shelter_m2(PigClass.FINISHING, 100.0)
    assert (roof.least_m2, roof.most_m2) == pytest.approx((0.71, 1.01), abs=0.005)


def test_feed_goes_up_with_weight_without_a_step() -> None:
    weights = [kg / 2 for kg in range(14, 260)]
    feed = usual_feed_kg(PigClass.FINISHING, weights).tolist()
    assert all(0 <= after - before < 0.06 for before, after in pairwise(feed))
    assert usual_feed_kg(PigClass.LACTATING, 200.0) > usual_feed_kg(PigClass.GESTATING, 200.0)
