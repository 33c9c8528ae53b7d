"""Exact quantities: read as typed, written as read, shared out to the last gram."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base import units

GRAMS = st.integers(-(10**15), 10**15)
WEIGHTS = st.lists(st.integers(0, 10**9), min_size=1, max_size=12).filter(any)


@given(total=GRAMS, weights=WEIGHTS)
def test_parts_sum_to_the_whole_and_none_is_off_by_a_gram(total: int, weights: list[int]) -> None:
    # Hamilton's method keeps quota: each part is the exact share rounded down or up
    # (Balinski & Young, Fair Representation, 1982: "staying within the quota").
    parts = units.share_out(total, weights)
    assert sum(parts) == total
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - Fraction(total * weight, sum(weights))) < 1


def test_seats_are_shared_as_in_the_census_of_1790_by_hamilton() -> None:
    # Balinski & Young, Fair Representation (1982), the apportionment of 120 seats by the census of 1791 under
    # Hamilton's bill: Virginia 21, Massachusetts 16, Pennsylvania 14, N. Carolina 12, New York 11, Maryland 9,
    # Connecticut 8, S. Carolina 7, New Jersey 6, New Hampshire 5, Vermont 3, Georgia 2, Kentucky 2,
    # Rhode Island 2, Delaware 2. Populations and result from memory.
    people = [
        630_560, 475_327, 432_879, 353_523, 331_589, 278_514, 236_841, 206_236, 179_570, 141_822, 85_533, 70_835,
        68_705, 68_446, 55_540,
    ]  # fmt: skip
    assert units.share_out(120, people) == [21, 16, 14, 12, 11, 9, 8, 7, 6, 5, 3, 2, 2, 2, 2]


@pytest.mark.parametrize("weights", [[], [0, 0], [3, -1]])
def test_nothing_is_shared_among_nobody(weights: list[int]) -> None:
    with pytest.raises(ValueError, match="weights"):
        units.share_out(100, weights)


@given(number=st.decimals(-(10**9), 10**9, places=2))
def test_what_is_typed_is_kept_exactly(number: Decimal) -> None:
    assert units.to_scale(str(number), 100) == int(number * 100)
    assert units.to_scale(units.signed_text(number), 100) == int(number * 100)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("7.5", 75), ("7·5", 75), (" 7.5 ", 75), ("1,150", 11_500), ("1,150,000.5", 11_500_005), ("−3", -30), ("-3", -30), (".5", 5), ("0", 0), ("007", 70)],
)  # fmt: skip
def test_a_figure_is_read_as_people_type_it(typed: str, kept: int) -> None:
    assert units.to_scale(typed, 10) == kept


@pytest.mark.parametrize(
    "typed", ["", " ", "-", ".", "7,5", "1,15", "1,1500", "12 kg", "1e3", "1e999999999", "nan", "inf", "0x10", "1_000", "٧", "--5", "7.5.1", "=7"]
)  # fmt: skip
def test_what_is_no_plain_number_is_refused_in_words(typed: str) -> None:
    with pytest.raises(ValueError, match="is not a number"):
        units.to_scale(typed, 10)


def test_more_decimals_than_can_be_kept_and_more_than_a_column_holds_are_refused() -> None:
    with pytest.raises(ValueError, match="finer than can be kept"):
        units.to_scale("7.55", 10)
    with pytest.raises(ValueError, match="more than can be kept"):
        units.to_scale("9" * 30, 10)


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        (units.kilograms(13_608), "13.6"),
        (units.kilograms(13_650), "13.7"),  # half up, as on a bill
        (units.kilograms(-3), "0.0"),  # not "−0.0"
        (units.kilograms(-1_150_250, 2), "−1,150.25"),
        (units.litres(2_500), "2.5"),
        (units.frames(80), "8"),
        (units.frames(75), "7.5"),
        (units.per_cent(1760), "17.6"),
        (units.degrees(-5), "−0.5"),
        (units.money(148_800), "£1,488.00"),
        (units.money(-5), "−£0.05"),
        (units.hectares(85_000), "8.5"),
        (units.hectares(100_000), "10"),
        (units.kilometres(4_828), "4.8"),
    ],
)
def test_quantities_are_written_plainly(written: str, shown: str) -> None:
    assert written == shown


def test_pound_and_acre_are_the_international_ones() -> None:
    # International yard and pound agreement, 1959: 1 lb = 0.45359237 kg, 1 yd = 0.9144 m; an acre is 4,840 square yards.
    assert Decimal("0.45359237") * 1000 == units.GRAMS_PER_POUND
    assert Decimal("0.9144") ** 2 * 4840 == units.SQUARE_METRES_PER_ACRE
