"""Readings of honey against the published refractometer table and worked examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.rules import honey
from beeledger.rules.honey import Portion

# Chataway's table smoothed by Wedmore, as in S. Bogdanov, Book of Honey, ch. 4 (AOAC 969.38 uses the
# same): per cent of water, refractive index at 20 °C.
CHATAWAY = [
    (13.0, 1.5044), (13.6, 1.5028), (14.0, 1.5018), (14.4, 1.5007), (15.0, 1.4992), (15.4, 1.4982),
    (16.0, 1.4966), (16.4, 1.4956), (16.6, 1.4951), (16.8, 1.4946), (17.0, 1.4940), (17.4, 1.4930),
    (17.8, 1.4920), (18.0, 1.4915), (18.4, 1.4905), (18.6, 1.4900), (19.0, 1.4890), (19.4, 1.4880),
    (20.0, 1.4865), (20.4, 1.4855), (21.0, 1.4840), (21.4, 1.4830), (22.0, 1.4815), (22.6, 1.4800),
    (23.0, 1.4790), (23.4, 1.4780), (24.0, 1.4765), (24.4, 1.4755), (24.8, 1.4745), (25.0, 1.4740),
]  # fmt: skip


@pytest.mark.parametrize(("water", "index"), CHATAWAY)
def test_a_refractive_index_gives_the_water_of_the_published_table(water, index):
    assert honey.moisture_from_ri(round(index * 100_000)) == pytest.approx(water * 100, abs=3)


@pytest.mark.parametrize(("water", "index"), CHATAWAY)
def test_a_water_content_gives_the_index_of_the_published_table(water, index):
    # The table is printed to the fourth place.
    assert honey.ri_from_moisture(round(water * 100)) == pytest.approx(index * 100_000, abs=8)


def test_a_reading_at_25_degrees_is_put_right_to_20():
    # 0.00023 a degree: 1.4903 at 25 °C is 1.49145 at 20 °C, 18.02 % (worked from the same chapter).
    assert honey.ri_at_20(149_030, 250) == pytest.approx(1.49145)
    assert honey.moisture_from_ri(149_030, 250) == 1802


def test_a_cold_reading_is_put_right_the_other_way():
    assert honey.ri_at_20(149_030, 150) == pytest.approx(1.48915)


@given(st.integers(1300, 2500), st.integers(100, 350))
def test_index_and_water_lead_back_to_each_other(moisture, temperature):
    index = honey.ri_from_moisture(moisture, temperature)
    # One step of the index is worth 0.4 hundredths of water.
    assert honey.moisture_from_ri(index, temperature) == pytest.approx(moisture, abs=1)


# The ICUMSA sucrose scale at the indices of the table above (worked from the fitted polynomial).
@pytest.mark.parametrize(
    ("index", "brix", "water"),
    [(1.4865, 78.35, 20.0), (1.4915, 80.28, 18.0), (1.4940, 81.23, 17.0), (1.4992, 83.19, 15.0),
     (1.4790, 75.42, 23.0), (1.4740, 73.44, 25.0)],
)  # fmt: skip
def test_a_sugar_scale_gives_the_water_behind_it(index, brix, water):
    assert honey.brix_from_ri(round(index * 100_000)) == pytest.approx(brix * 100, abs=1)
    assert honey.moisture_from_brix(round(brix * 100)) == pytest.approx(water * 100, abs=3)


def test_brix_and_water_do_not_sum_to_a_hundred():
    # Graham (ed.), The Hive and the Honey Bee, as quoted: 78 °Brix is 20.4 % of water, not 22 %.
    assert honey.moisture_from_brix(7800) == pytest.approx(2040, abs=10)


@pytest.mark.parametrize("brix", [2000, 6000, 9900])
def test_a_sugar_scale_far_from_honey_is_refused(brix):
    with pytest.raises(ValueError, match="honey reads between"):
        honey.moisture_from_brix(brix)


def test_an_index_of_one_is_no_honey():
    with pytest.raises(ValueError, match="above 1"):
        honey.moisture_from_ri(99_000)
    assert [f.grade for f in honey.check_refractometer(99_000)] == [Grade.REFUSED]


def test_a_sound_reading_gives_no_finding():
    assert honey.check_refractometer(149_150, 215) == []


@pytest.mark.parametrize(
    ("index", "temperature", "code"),
    [(151_500, 200, "honey.outside-table"), (146_500, 200, "honey.outside-table"),
     (149_150, 2, "honey.temperature"), (149_100, 420, "honey.temperature")],
)  # fmt: skip
def test_an_odd_reading_is_doubtful(index, temperature, code):
    found = honey.check_refractometer(index, temperature)
    assert [(f.code, f.grade) for f in found] == [(code, Grade.DOUBTFUL)]


def test_a_blend_has_the_mean_moisture_by_mass():
    # By hand: (200 kg · 17.0 + 100 kg · 20.0) / 300 kg = 18.0 %.
    assert honey.blended_moisture([Portion(200_000, 1700), Portion(100_000, 2000)]) == 1800


def test_a_blend_rounds_half_up():
    assert honey.blended_moisture([Portion(1, 1700), Portion(1, 1701)]) == 1701


@given(st.lists(st.builds(Portion, st.integers(1, 10**6), st.integers(1300, 2500)), min_size=1))
def test_a_blend_lies_between_its_driest_and_its_wettest(portions):
    waters = [portion.moisture_hundredths for portion in portions]
    assert min(waters) <= honey.blended_moisture(portions) <= max(waters)


@pytest.mark.parametrize("portions", [[], [Portion(0, 1800)], [Portion(-5, 1800), Portion(10, 1700)]])
def test_no_honey_makes_no_blend(portions):
    with pytest.raises(ValueError, match="blend"):
        honey.blended_moisture(portions)


def test_a_wet_drum_is_dried_by_a_drier_one():
    # Balance of water by hand: 300 kg at 21 % to 20 % with 17 %: 300 · 1 / 3 = 100 kg.
    assert honey.grams_to_dry(Portion(300_000, 2100), 1700, 2000) == 100_000


def test_a_dry_drum_needs_nothing_and_a_wet_one_cannot_help():
    assert honey.grams_to_dry(Portion(300_000, 1900), 1700, 2000) == 0
    assert honey.grams_to_dry(Portion(300_000, 2100), 2000, 2000) is None


@given(st.integers(1, 10**6), st.integers(2001, 2500), st.integers(1300, 1999))
def test_the_least_drier_honey_is_just_enough(grams, wet, dry):
    needed = honey.grams_to_dry(Portion(grams, wet), dry, 2000)

    def water(added):
        return grams * wet + added * dry - 2000 * (grams + added)

    assert water(needed) <= 0 < water(needed - 1)


# United States Standards for Grades of Extracted Honey, USDA 1985.
@pytest.mark.parametrize(
    ("pfund", "name"),
    [(0, "water white"), (8, "water white"), (9, "extra white"), (17, "extra white"), (18, "white"),
     (34, "white"), (35, "extra light amber"), (50, "extra light amber"), (51, "light amber"),
     (85, "light amber"), (86, "amber"), (114, "amber"), (115, "dark amber"), (150, "dark amber")],
)  # fmt: skip
def test_a_pfund_reading_has_its_trade_name(pfund, name):
    assert honey.colour_name(pfund) == name


def test_a_colour_below_nought_is_refused():
    with pytest.raises(ValueError, match="Pfund"):
        honey.colour_name(-1)


# Lochhead (1933), from memory: the program says so too.
@pytest.mark.parametrize(
    ("moisture", "yeasts", "risk"),
    [(1710, None, "none"), (1711, None, "low"), (1800, None, "low"), (1850, None, "some"),
     (1950, None, "high"), (2001, None, "certain"), (1850, 10, "low"), (1850, 11, "certain"),
     (1710, 10**6, "none"), (2100, 0, "certain")],
)  # fmt: skip
def test_wet_honey_and_yeasts_ferment(moisture, yeasts, risk):
    assert honey.fermentation(moisture, yeasts).risk == risk


def test_the_fermentation_rule_says_that_it_is_from_memory():
    told = honey.fermentation(1850)
    assert not told.sure
    assert "memory" in told.source


@pytest.mark.parametrize("water", [1300, 2500])
def test_the_ends_of_the_table_are_still_in_it(water):
    assert honey.check_refractometer(honey.ri_from_moisture(water)) == []


def test_a_reading_outside_the_table_says_where_the_table_ends():
    (found,) = honey.check_refractometer(151_500)
    assert found.what.endswith("% of water lies outside the published table (13–25 %)")
    assert found.mend == "Clean the prisms and read again"
