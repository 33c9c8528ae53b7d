"""Honey by weight and volume. The density table is from memory; two of its rows were found in print."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules import honey_density

# Litres of an imperial gallon (Units of Measurement Regulations 1995) and grams of a pound.
GALLON_ML, POUND_G = 4546, 453.59237


# Printed in descriptions of honey's physical characters: 1.423 at 17 %, 1.417 at 18 % (20/20 °C), times
# the density of water at 20 °C, 0.9982 (Tanaka et al. 2001).
@pytest.mark.parametrize(("moisture", "gravity"), [(1700, 1.423), (1800, 1.417)])
def test_density_agrees_with_the_printed_gravities(moisture, gravity):
    assert honey_density.density_g_per_l(moisture) == pytest.approx(gravity * 998.2, abs=1.5)


def test_a_gallon_of_honey_weighs_about_14_pounds():
    # The trade's 14.2 lb to the imperial gallon, from 1.42.
    assert honey_density.grams_of(GALLON_ML, 1750) / POUND_G == pytest.approx(14.2, abs=0.05)


def test_a_tank_of_a_thousand_litres_at_18_per_cent_holds_1415_kg():
    # Worked: 1.4171 · 0.9982 · 1000.
    assert honey_density.grams_of(1_000_000, 1800) == pytest.approx(1_414_549, abs=1)


@pytest.mark.parametrize(("grams", "ml"), [(13_608, 9620), (454, 321), (340, 240), (227, 160)])
def test_jars_and_buckets_at_18_per_cent_take_their_room(grams, ml):
    # Worked from 1,414.6 g/l: 30 lb bucket 9.62 l, 454 g 321 ml, 340 g 240 ml, 227 g 160.5 ml.
    assert honey_density.millilitres_of(grams, 1800) == pytest.approx(ml, abs=1)


def test_warm_honey_is_lighter():
    # 1.420 at 20 °C is about 1.408 at 40 °C (from memory).
    cold = honey_density.density_g_per_l(1750)
    assert cold - honey_density.density_g_per_l(1750, 400) == 12


@pytest.mark.parametrize("moisture", [1299, 2101])
def test_beyond_the_table_nothing_is_guessed(moisture):
    with pytest.raises(ValueError, match="between 13 and 21"):
        honey_density.density_g_per_l(moisture)


def test_the_ends_of_the_table_are_told():
    assert honey_density.density_g_per_l(1300) == round(1.4457 * 998.2)
    assert honey_density.density_g_per_l(2100) == round(1.3950 * 998.2)


@given(st.integers(1300, 2099))
def test_wetter_honey_is_never_heavier(moisture):
    assert honey_density.density_g_per_l(moisture + 1) <= honey_density.density_g_per_l(moisture)


@given(st.integers(1, 10**7), st.integers(1300, 2100), st.integers(50, 400))
def test_weight_and_volume_lead_back_to_each_other(grams, moisture, temperature):
    ml = honey_density.millilitres_of(grams, moisture, temperature)
    assert honey_density.grams_of(ml, moisture, temperature) == pytest.approx(grams, abs=1.5)


def test_the_table_is_known_to_be_from_memory():
    assert not honey_density.density_is_sure()


def test_a_drum_fills_jars_and_leaves_a_rest():
    assert honey_density.jars_filled(300_000, 454) == (660, 360)
    with pytest.raises(ValueError, match="weight above nought"):
        honey_density.jars_filled(300_000, 0)
