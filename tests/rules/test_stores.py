"""Syrup and stores, against the published density of sugar solutions and worked feeds."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules import stores


@pytest.mark.parametrize(
    ("per_cent", "kg_m3"),
    [
        (0, 998.23),
        (5, 1017.84),
        (10, 1038.13),
        (15, 1059.16),
        (20, 1080.94),
        (25, 1103.54),
        (30, 1126.98),
        (35, 1151.27),
    ],
)
def test_the_density_of_sugar_solutions_is_the_published_one(per_cent, kg_m3):
    """Sucrose at 20 °C, NBS Circular C440 (Plato), kg per cubic metre."""
    assert stores.density_g_per_litre(per_cent * 100) == pytest.approx(kg_m3, abs=0.06)


@pytest.mark.parametrize(("per_cent", "kg_m3"), [(40, 1176.4), (50, 1229.6), (60, 1286.5), (65, 1316.3)])
def test_the_density_of_thick_syrup_is_near_the_remembered_one(per_cent, kg_m3):
    """The same table above 35 per cent, from memory."""
    assert stores.density_g_per_litre(per_cent * 100) == pytest.approx(kg_m3, abs=0.6)


@pytest.mark.parametrize(
    ("code", "brix", "sugar"), [("1:1", 5000, 615), ("thick", 6135, 794), ("2:1", 6667, 885)]
)
def test_a_litre_of_syrup_holds_its_sugar(code, brix, sugar):
    """Computed from the density: 1:1 holds 615 g a litre, 1 kg : 630 ml 794 g, 2:1 885 g."""
    assert stores.mix(code).brix_hundredths == brix
    assert stores.sugar_g_in(1_000, code) == pytest.approx(sugar, abs=1)


def test_a_sack_of_sugar_as_thick_syrup():
    """25 kg as 1 kg : 630 ml makes 31.5 l weighing 40.75 kg."""
    feed = stores.syrup_for(25_000, "thick")
    assert (feed.water_ml, feed.syrup_g) == (15_750, 40_750)
    assert feed.syrup_ml == pytest.approx(31_500, abs=50)


def test_an_american_gallon_of_2_to_1_holds_3350_g_of_sugar():
    """3.785 l × 0.885; beekeepers say it adds about 7 lb of stores."""
    assert stores.sugar_g_in(3_785, "2:1") == pytest.approx(3_350, abs=5)


def test_a_colony_of_13_kg_is_fed_to_20():
    """Six full frames at 2.2 kg; (20 − 13.2) ÷ 1.05 = 6.48 kg of sugar = 7.3 l of 2:1."""
    have = stores.stores_from_frames_g(60, "national_brood")
    feed = stores.feed_needed(stores.winter_target_g("single"), have, "2:1")
    assert have == 13_200
    assert feed.sugar_g == 6_476
    assert feed.syrup_ml == pytest.approx(7_300, abs=50)


def test_a_colony_with_enough_is_not_fed():
    assert stores.feed_needed(20_000, 21_000, "2:1").syrup_ml == 0


def test_more_sugar_than_dissolves_is_no_solution():
    with pytest.raises(ValueError, match="between 0 and 70"):
        stores.density_g_per_litre(7_500)


def test_what_a_month_uses_is_shared_over_its_days():
    """Common practice, no source: 2 kg in January, 2.5 kg in February."""
    assert stores.expected_use_g(date(2027, 1, 1), date(2027, 2, 1)) == 2_000
    assert stores.expected_use_g(date(2027, 1, 1), date(2027, 3, 1)) == 4_500
    assert stores.expected_use_g(date(2027, 1, 1), date(2027, 1, 1)) == 0


def test_25_kg_lasts_from_october_past_the_winter():
    """National Bee Unit: about 25 kg lasts five to six months; our months leave a reserve into May."""
    assert date(2027, 3, 15) < stores.lasts_until(25_000, date(2026, 10, 1)) < date(2027, 10, 1)
    assert stores.lasts_until(3_000, date(2026, 11, 1)) == date(2027, 1, 1)


def test_light_depends_on_the_season_and_on_the_kind():
    assert stores.is_light(6_000, date(2026, 6, 10)) is False
    assert stores.is_light(6_000, date(2026, 9, 10)) is True
    assert stores.is_light(6_000, date(2026, 8, 10), "nucleus") is False
    assert stores.is_light(5_000, date(2026, 6, 10)) is False
    assert stores.is_light(4_999, date(2026, 6, 10)) is True
    assert stores.is_light(None, date(2026, 9, 10)) is None


def test_stores_enough_in_july_are_light_when_august_comes():
    assert stores.light_from(6_000, date(2026, 7, 20)) == date(2026, 8, 1)
    assert stores.light_from(4_000, date(2026, 7, 20)) == date(2026, 7, 20)
    assert stores.light_from(20_000, date(2026, 7, 20)) is None
