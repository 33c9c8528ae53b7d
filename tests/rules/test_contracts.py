"""Stocking, readiness and what is owed, against published stocking and sums by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules import contracts
from beeledger.rules.contracts import Brought, Strength, Terms

ON, OFF, TODAY = date(2026, 4, 20), date(2026, 5, 12), date(2026, 6, 1)
TERMS = Terms(hives=40, price_pence=6_500, on=ON, off=OFF, least_tenths=60)


def brought(number, bees=None, on=ON, off=OFF, first=1):
    return [Brought(str(first + each), on, off, bees) for each in range(number)]


def amounts(terms, hives):
    return {line.code: line.amount_pence for line in contracts.owed(terms, hives, TODAY).lines}


@pytest.mark.parametrize(
    ("area_m2", "rate", "hives"), [(120_000, 250, 30), (85_000, 200, 17), (4_000, 250, 1), (0, 250, 0)]
)
def test_hives_for_an_area_are_rounded_up(area_m2, rate, hives):
    """12 ha of apples at 2.5 a hectare, 8.5 ha of rape at 2, 0.4 ha at 2.5."""
    assert contracts.hives_wanted(area_m2, rate) == hives


def test_five_acres_at_one_an_acre_are_five_hives():
    """One acre is 4,046.8564224 m², so one an acre is 2.47 a hectare."""
    assert contracts.per_hectare_hundredths(100) == 247
    assert contracts.acres_m2(500) == 20_235
    assert contracts.hives_wanted(contracts.acres_m2(500), contracts.per_hectare_hundredths(100)) == 5


def test_a_negative_area_is_refused():
    with pytest.raises(ValueError, match="negative"):
        contracts.hives_wanted(-1, 250)


@pytest.mark.parametrize(
    ("code", "low", "high"), [("apple", 250, 500), ("rape", 200, 200), ("cherry", 500, 750)]
)
def test_stocking_is_as_published(code, low, high):
    """Apple 1 to 2 an acre and cherry 2 to 3 (growers' guidance); rape 2 a hectare (after Sabbahi et al. 2005)."""
    crop = contracts.crops()[code]
    assert (crop.from_hundredths, crop.to_hundredths) == (low, high)


def test_every_crop_proposes_a_figure_within_its_range_and_names_its_source():
    for crop in contracts.crops().values():
        assert 0 < crop.from_hundredths <= crop.typed_hundredths <= crop.to_hundredths
        assert crop.source


def test_readiness_goes_by_counts_of_the_last_three_weeks():
    strengths = [
        Strength("10", 60, date(2026, 4, 1)),
        Strength("9", 85, date(2026, 4, 10)),
        Strength("11", 59, date(2026, 4, 10)),
        Strength("12", 90, date(2026, 3, 29)),
        Strength("13", 90, date(2026, 3, 30)),
        Strength("14", None, None),
    ]
    ready = contracts.readiness(strengths, 60, on=date(2026, 4, 20), hives=5)
    assert ready == contracts.Ready(("9", "10", "13"), ("11",), ("12", "14"), short=2)


def test_forty_good_hives_are_forty_times_the_price():
    """40 × £65.00 = £2,600.00."""
    statement = contracts.owed(TERMS, brought(40, 80), TODAY)
    assert [(line.code, line.quantity, line.amount_pence) for line in statement.lines] == [
        ("hives", 40, 260_000)
    ]
    assert (statement.total_pence, statement.hives_paid) == (260_000, 40)


def test_a_hive_under_strength_is_not_paid_unless_a_price_was_agreed():
    hives = brought(38, 80) + brought(2, 59, first=39)
    assert amounts(TERMS, hives) == {"hives": 260_000, "weak": -13_000}
    assert amounts(TERMS, brought(40, 60)) == {"hives": 260_000}
    assert amounts(replace(TERMS, weak_price_pence=3_250), hives) == {"hives": 260_000, "weak": -6_500}
    assert contracts.owed(TERMS, hives, TODAY).lines[1].marks == ("39", "40")
    assert amounts(replace(TERMS, least_tenths=None), hives) == {"hives": 260_000}


def test_the_share_of_weak_hives_may_stand_for_all():
    """1 of 4 opened under strength, 40 placed: 10 are not paid."""
    hives = brought(3, 80) + brought(1, 50, first=4) + brought(36, first=5)
    shared = replace(TERMS, by_share=True)
    assert amounts(shared, hives) == {"hives": 260_000, "weak": -65_000}
    assert amounts(TERMS, hives) == {"hives": 260_000, "weak": -6_500}


def test_a_bonus_is_paid_for_frames_above_the_mean_agreed():
    """Mean 8.5 frames, £2.50 a frame above 8: £1.25 a hive, × 40 = £50."""
    terms = replace(TERMS, bonus_from_tenths=80, bonus_pence=250)
    hives = brought(20, 80) + brought(20, 90, first=21)
    assert amounts(terms, hives) == {"hives": 260_000, "bonus": 5_000}
    assert amounts(terms, brought(40, 80)) == {"hives": 260_000}


def test_hives_not_brought_are_said_and_deducted_where_agreed():
    assert amounts(TERMS, brought(37, 80)) == {"hives": 240_500, "missing": 0}
    assert amounts(replace(TERMS, missing_pence=2_000), brought(37, 80)) == {
        "hives": 240_500,
        "missing": -6_000,
    }


def test_hives_beyond_the_contract_are_paid_only_where_agreed():
    assert amounts(TERMS, brought(42, 80)) == {"hives": 260_000, "extra": 0}
    assert amounts(replace(TERMS, extra_paid=True), brought(42, 80)) == {"hives": 273_000}


def test_days_late_early_and_left_too_long_are_counted_by_hive():
    terms = replace(TERMS, hives=3, late_on_pence=100, early_off_pence=200, late_off_pence=50)
    hives = [
        Brought("1", date(2026, 4, 22), OFF),
        Brought("2", ON, date(2026, 5, 10)),
        Brought("3", ON, date(2026, 5, 22)),
    ]
    assert amounts(terms, hives) == {"hives": 19_500, "late_on": -200, "early_off": -400, "late_off": -500}


def test_a_hive_still_there_is_late_until_today():
    terms = replace(TERMS, hives=1, late_off_pence=50)
    assert amounts(terms, [Brought("1", ON)]) == {"hives": 6_500, "late_off": -20 * 50}


def test_a_hive_that_came_after_the_end_was_never_on_the_contract():
    assert amounts(replace(TERMS, hives=1), [Brought("1", OFF, None)]) == {"hives": 0, "missing": 0}
    assert amounts(replace(TERMS, hives=1), [Brought("1", date(2026, 4, 1), ON)]) == {
        "hives": 0,
        "missing": 0,
    }


@given(
    st.lists(
        st.tuples(st.integers(-10, 30), st.integers(0, 40), st.one_of(st.none(), st.integers(0, 110))),
        max_size=30,
    ),
    st.integers(0, 40),
    st.integers(1, 20_000),
    st.booleans(),
)
def test_the_lines_always_add_up_and_the_hives_cost_no_more_than_their_price(rows, number, price, by_share):
    start = date(2026, 4, 20).toordinal()
    hives = [
        Brought(str(mark), date.fromordinal(start + on), date.fromordinal(start + on + days), bees)
        for mark, (on, days, bees) in enumerate(rows)
    ]
    terms = replace(TERMS, hives=number, price_pence=price, by_share=by_share)
    statement = contracts.owed(terms, hives, TODAY)
    assert statement.total_pence == sum(line.quantity * line.unit_pence for line in statement.lines)
    assert 0 <= statement.total_pence <= number * price
