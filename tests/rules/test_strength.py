"""Strength checks, against Cochran's example of a finite sample, scipy and worked counts."""

from __future__ import annotations

import random
from math import sqrt

import pytest

from beeledger.rules import strength
from beeledger.rules.strength import CountedHive, strength_result

TWELVE = [90, 80, 70, 100, 80, 60, 90, 110, 80, 70, 80, 50]


def hives(bees):
    return [CountedHive(str(number), value) for number, value in enumerate(bees, start=1)]


@pytest.mark.parametrize(("placed", "opened"), [(120, 12), (111, 12), (5, 1), (1, 1), (0, 0)])
def test_ten_per_cent_are_opened_rounded_up(placed, opened):
    assert strength.sample_size(placed) == opened


def test_another_share_may_be_agreed():
    assert strength.sample_size(100, 1_500) == 15


def test_the_same_seed_draws_the_same_hives_in_the_order_of_their_numbers():
    marks = [str(number) for number in range(1, 121)]
    drawn = strength.choose_sample(marks, random.Random(5))
    assert drawn == strength.choose_sample(reversed(marks), random.Random(5))
    assert drawn != strength.choose_sample(marks, random.Random(6))
    assert (len(set(drawn)), drawn) == (12, sorted(drawn, key=int))
    with pytest.raises(ValueError, match="130 hives cannot be drawn from 120"):
        strength.choose_sample(marks, random.Random(5), 130)


def test_each_hive_is_drawn_as_often_as_any_other():
    dice, seen = random.Random(1), dict.fromkeys("ABCDEFGHIJ", 0)
    for _ in range(4_000):
        for mark in strength.choose_sample(seen, dice, 3):
            seen[mark] += 1
    # 1,200 expected of each; five standard deviations are √(4000 · 0.3 · 0.7) · 5 = 145.
    assert all(abs(number - 1_200) < 145 for number in seen.values())


def test_numbers_stand_in_the_order_people_count():
    assert sorted(["P10", "10", "P9", "9", "9a"], key=strength.number_order) == ["9", "9a", "10", "P9", "P10"]


def test_a_count_of_twelve_passes_a_mean_of_8_and_a_least_of_5():
    """9 8 7 10 8 6 9 11 8 7 8 5: sum 96, mean 8.0, least 5."""
    result = strength_result(hives(TWELVE), 120, least_tenths=50, mean_tenths=80)
    assert (result.mean_hundredths, result.least_tenths, result.most_tenths, result.under) == (
        800,
        50,
        110,
        0,
    )
    assert (result.meets_mean, result.meets_least) == (True, True)


def test_one_hive_weaker_fails_both():
    """4 in the place of 5: mean 95 ÷ 12 = 7.92."""
    result = strength_result(hives([*TWELVE[:-1], 40]), 120, least_tenths=50, mean_tenths=80)
    assert (result.mean_hundredths, result.under, result.under_share_hundredths) == (792, 1, 833)
    assert (result.meets_mean, result.meets_least) == (False, False)


def test_the_mean_is_compared_exactly_and_not_as_printed():
    """7.999 prints as 8.00 and is not 8."""
    result = strength_result(hives([80] * 999 + [79]), 2_000, least_tenths=50, mean_tenths=80)
    assert (result.mean_hundredths, result.meets_mean) == (800, False)


def test_cochrans_sheets_of_signatures():
    """Cochran, *Sampling Techniques* (1977), section 2.8: 50 sheets of 676, 80 % limits 19,888 ± 1,781."""
    counted = {
        42: 23, 41: 4, 36: 1, 32: 1, 29: 1, 27: 2, 23: 1, 19: 1, 16: 2, 15: 2,
        14: 1, 11: 1, 10: 1, 9: 1, 7: 1, 6: 3, 5: 2, 4: 1, 3: 1,
    }  # fmt: skip
    values = [value for value, number in counted.items() for _ in range(number)]
    assert (len(values), sum(values)) == (50, 1_471)
    assert 676 * 1.28 * strength.standard_error(values, 676) == pytest.approx(1_781, abs=3)


def test_students_t_is_scipys():
    from scipy import stats

    for freedom in [*range(1, 31), 40, 60, 120]:
        assert strength.student(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), abs=6e-4)
    for freedom in (31, 55, 119, 200, 5_000):
        assert 0 <= strength.student(freedom) - stats.t.ppf(0.975, freedom) < 0.022
    with pytest.raises(ValueError, match="at least two hives"):
        strength.student(0)


def test_the_interval_of_the_mean_is_scipys_with_the_correction_for_a_small_whole():
    from scipy import stats

    result = strength_result(hives(TWELVE), 120, least_tenths=50)
    scale = stats.sem([value / 10 for value in TWELVE]) * sqrt(1 - 12 / 120)
    low, high = stats.t.interval(0.95, 11, loc=8.0, scale=scale)
    assert (result.mean_low_hundredths, result.mean_high_hundredths) == (round(low * 100), round(high * 100))


def test_all_hives_opened_leave_nothing_unsure_and_one_hive_says_little():
    every = strength_result(hives(TWELVE), 12, least_tenths=60)
    assert (every.mean_low_hundredths, every.mean_high_hundredths) == (800, 800)
    assert (every.under_low, every.under_high) == (1, 1)
    single = strength_result(hives([80]), 10, least_tenths=60)
    assert (single.mean_low_hundredths, single.mean_high_hundredths) == (None, None)


@pytest.mark.parametrize(
    ("placed", "opened", "weak"), [(120, 12, 0), (120, 12, 1), (40, 8, 3), (200, 20, 20), (7, 3, 1)]
)
def test_the_number_of_weak_hives_is_bounded_as_scipys_hypergeometric_says(placed, opened, weak):
    from scipy.stats import hypergeom

    fits = [
        number
        for number in range(placed + 1)
        if weak <= number <= placed - (opened - weak)
        and hypergeom.sf(weak - 1, placed, number, opened) > 0.025
        and hypergeom.cdf(weak, placed, number, opened) > 0.025
    ]
    assert strength.weak_bounds(placed, opened, weak) == (fits[0], fits[-1])


@pytest.mark.parametrize(("bees", "placed"), [([], 10), ([80, 80], 1)])
def test_nothing_opened_or_more_than_placed_is_not_judged(bees, placed):
    with pytest.raises(ValueError, match="cannot be judged"):
        strength_result(hives(bees), placed, least_tenths=50)
