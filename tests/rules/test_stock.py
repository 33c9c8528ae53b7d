"""Use ahead, the day it runs out, what to order: by hand and beside numpy."""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules.stock import WEEK, Forecast, figures, forecast, outlook, run_out, to_order

TODAY = date(2026, 8, 3)
AHEAD = figures().weeks_ahead
MONDAY_2025, MONDAY_2024 = date(2025, 8, 3), date(2024, 8, 3)


def test_use_ahead_is_the_mean_of_the_same_weeks_of_earlier_years() -> None:
    # By hand: first week 20 and 40 kg, second 10 and 5 kg; means 30 and 7.5 kg, in all 37.5.
    used = {
        MONDAY_2025: 20_000, MONDAY_2025 + timedelta(days=8): 10_000, MONDAY_2024 + timedelta(days=6): 40_000,
        MONDAY_2024 + timedelta(days=7): 5_000,
    }  # fmt: skip
    found = forecast(used, date(2023, 9, 1), TODAY)
    assert found is not None
    assert found.weeks == (30_000, 7_500, *[0] * (AHEAD - 2))
    assert found.basis == "the mean of the same weeks of 2 earlier years"


def test_a_year_counts_only_when_its_weeks_lie_on_record() -> None:
    used = {MONDAY_2025: 20_000, date(2024, 9, 2): 40_000}
    found = forecast(used, date(2024, 9, 1), TODAY)
    assert found is not None
    assert (found.weeks[0], found.basis) == (20_000, "the mean of the same weeks of 1 earlier year")


def test_without_an_earlier_year_the_last_weeks_stand_for_the_next() -> None:
    # 7 + 8 g in the two whole weeks on record: 7.5 a week, so 8 and 7 in turn, and never a gram lost.
    used = {TODAY - timedelta(days=10): 7, TODAY - timedelta(days=2): 8}
    found = forecast(used, TODAY - timedelta(days=15), TODAY)
    assert found is not None
    assert found.basis == "the mean of the last 2 weeks"
    assert sum(found.weeks) == 7.5 * AHEAD
    assert set(found.weeks) == {7, 8}


def test_nothing_is_said_of_what_is_not_a_week_on_record() -> None:
    assert forecast({TODAY: 4}, TODAY - timedelta(days=6), TODAY) is None
    assert forecast({}, None, TODAY) is None


def test_the_29th_of_february_looks_back_to_the_28th() -> None:
    leap = date(2028, 2, 29)
    found = forecast({date(2027, 2, 28): 9}, date(2026, 6, 1), leap)
    assert found is not None
    assert found.weeks[0] == 9


YEARS = st.lists(st.lists(st.integers(0, 50_000), min_size=AHEAD, max_size=AHEAD), min_size=1, max_size=5)


@given(YEARS)
def test_the_forecast_agrees_with_the_mean_of_numpy(years: list[list[int]]) -> None:
    used = {
        date(TODAY.year - back, TODAY.month, TODAY.day) + timedelta(days=WEEK * week): quantity
        for back, weeks in enumerate(years, start=1)
        for week, quantity in enumerate(weeks)
    }
    found = forecast(used, date(TODAY.year - len(years), 1, 1), TODAY)
    assert found is not None
    # As running totals, within half a gram of the mean of the matrix: numpy.mean and numpy.cumsum.
    expected = np.cumsum(np.mean(np.array(years), axis=0))
    assert np.max(np.abs(np.cumsum(found.weeks) - expected)) <= 0.5 + 1e-6


@given(st.integers(0, 400_000), st.lists(st.integers(0, 20_000), min_size=1, max_size=AHEAD))
def test_the_day_it_runs_out_agrees_with_interpolation(there: int, weeks: list[int]) -> None:
    found = run_out(there, weeks, TODAY)
    totals = np.concatenate([[0], np.cumsum(weeks)])
    if totals[-1] < there or totals[-1] == 0:
        assert found is None
        return
    assert found is not None
    # numpy.interp over the running total, weeks in which nothing is used taken out of the way.
    rising = np.flatnonzero(np.diff(totals) > 0)
    week = next(int(number) for number in rising if totals[number + 1] >= there)
    days = WEEK * week + np.interp(there - totals[week], [0, weeks[week]], [0, WEEK])
    assert (found - TODAY).days == pytest.approx(np.floor(days + 1e-9), abs=0)


@pytest.mark.parametrize(
    ("there", "weeks", "days"),
    [(0, (7,), 0), (3, (7,), 3), (7, (7, 7), 7), (10, (7, 6), 10), (5, (0, 0, 5), 21), (0, (0, 4), 7)],
)
def test_it_runs_out_within_the_week_in_step_with_use(there: int, weeks: tuple[int, ...], days: int) -> None:
    assert run_out(there, weeks, TODAY) == TODAY + timedelta(days=days)


def test_it_does_not_run_out_when_more_is_there_than_the_weeks_take() -> None:
    assert run_out(15, (7, 7), TODAY) is None
    assert run_out(15, (0, 0), TODAY) is None


@given(st.integers(0, 10**7), st.integers(0, 10**7), st.integers(1, 50_000))
def test_orders_are_whole_packs_and_no_pack_too_many(needed: int, there: int, pack: int) -> None:
    order, packs = to_order(needed, there, pack)
    assert packs == max(0, ceil((needed - there) / pack))
    assert order == (packs or 0) * pack
    assert there + order >= needed
    assert to_order(needed, there, None) == (max(0, needed - there), None)


def test_the_order_is_due_so_many_days_before_it_runs_out() -> None:
    # By hand: 45 kg there, 20 kg a week: gone after 2 weeks and 7 × 5 ÷ 20 = 1.75 days, on the 16th day, 18 August;
    # ten days for the lorry: 8 August. 26 weeks need 520 kg, 475 missing: 19 sacks of 25 kg.
    found = outlook(Forecast((20_000,) * AHEAD, "by hand"), 45_000, TODAY, 10, 25_000)
    assert (found.runs_out_on, found.order_by) == (date(2026, 8, 18), date(2026, 8, 8))
    assert (found.order, found.order_packs) == (475_000, 19)
    assert not found.short
    assert outlook(Forecast((20_000,) * AHEAD, ""), 39_999, TODAY, None, None).short
