"""The words on a jar: date by shelf life, quantity, and the countries of harvest."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules import labels
from beeledger.rules.labels import DateForm, Market, Origin

PACKED = date(2026, 9, 14)
NEW_LAW = date(2026, 6, 14)


# Regulation (EU) 1169/2011 Annex X 1(c); the last step from memory.
@pytest.mark.parametrize(
    ("durable", "form"),
    [(date(2026, 10, 1), DateForm.DAY), (date(2026, 12, 14), DateForm.DAY), (date(2026, 12, 15), DateForm.MONTH),
     (date(2028, 3, 14), DateForm.MONTH), (date(2028, 3, 15), DateForm.YEAR), (date(2031, 9, 14), DateForm.YEAR)],
)  # fmt: skip
def test_the_date_tells_as_much_as_the_shelf_life_asks(durable, form):
    assert labels.least_date_form(PACKED, durable) is form


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [(date(2026, 11, 30), 3, date(2027, 2, 28)), (date(2027, 11, 30), 3, date(2028, 2, 29)),
     (date(2026, 12, 31), 18, date(2028, 6, 30)), (date(2026, 1, 31), 0, date(2026, 1, 31))],
)  # fmt: skip
def test_months_end_with_the_month(day, months, later):
    assert labels.months_later(day, months) == later


# Annex X 1(a): "best before" with a day, "best before end" without one.
@pytest.mark.parametrize(
    ("form", "words"),
    [(DateForm.DAY, "Best before 30 Sep 2028"), (DateForm.MONTH, "Best before end September 2028"),
     (DateForm.YEAR, "Best before end 2028")],
)  # fmt: skip
def test_the_date_is_worded_by_its_form(form, words):
    assert labels.date_words(date(2028, 9, 30), form) == words


def test_a_fuller_date_is_always_enough():
    enough = {(a, b) for a in DateForm for b in DateForm if labels.is_date_form_enough(a, b)}
    assert len(enough) == 6
    assert (DateForm.YEAR, DateForm.MONTH) not in enough
    assert (DateForm.DAY, DateForm.YEAR) in enough


@pytest.mark.parametrize(
    ("net_g", "metric", "imperial"),
    [(42, "42 g", "1.5 oz"), (113, "113 g", "4 oz"), (227, "227 g", "8 oz"), (340, "340 g", "12 oz"),
     (454, "454 g", "1 lb"), (907, "907 g", "2 lb"), (1000, "1 kg", "2 lb 3.3 oz"), (1360, "1.36 kg", "3 lb")],
)  # fmt: skip
def test_a_quantity_is_worded_metric_and_imperial(net_g, metric, imperial):
    assert labels.net_words(net_g) == metric
    assert labels.imperial_words(net_g) == imperial


def test_one_country_is_named():
    assert labels.origin_words([Origin("Wales", 10_000)], Market.GB, PACKED) == "Honey from Wales"
    assert labels.origin_words([], Market.GB, PACKED) == ""


def test_a_blend_names_its_countries_largest_first():
    origins = [Origin("Wales", 3000), Origin("England", 7000)]
    assert labels.origin_words(origins, Market.GB, PACKED) == "Blend of honeys from England and Wales"
    assert (
        labels.origin_words(origins, Market.EU, PACKED) == "Blend of honeys from England 70 % and Wales 30 %"
    )
    assert "%" not in labels.origin_words(origins, Market.EU, date(2026, 6, 13))


def test_shares_are_wanted_in_the_eu_from_14_june_2026():
    # Directive (EU) 2024/1438.
    assert labels.needs_shares(Market.EU, NEW_LAW)
    assert not labels.needs_shares(Market.EU, date(2026, 6, 13))
    assert not labels.needs_shares(Market.GB, NEW_LAW)


def test_shown_shares_make_a_hundred():
    assert labels.shown_shares([Origin("A", 3333), Origin("B", 3333), Origin("C", 3334)]) == [
        ("C", 34),
        ("A", 33),
        ("B", 33),
    ]


@given(st.lists(st.integers(1, 10**6), min_size=1, max_size=8))
def test_shown_shares_of_a_whole_always_make_a_hundred(weights):
    hundredths = labels.share_out(10_000, weights)
    shown = labels.shown_shares([Origin(str(i), h) for i, h in enumerate(hundredths)])
    assert sum(per_cent for _, per_cent in shown) == 100


def test_an_unknown_share_is_not_guessed():
    with pytest.raises(ValueError, match="not known"):
        labels.shown_shares([Origin("A", 5000), Origin("B")])


@pytest.mark.parametrize(
    ("shares", "may"),
    [
        ([4500, 3000, 1500, 1000], False),
        ([1000] * 10, False),
        ([3000, 2000, 1500, 1000, 900, 600, 1000], True),
    ],
)
def test_four_countries_may_do_when_they_exceed_half(shares, may):
    # Directive (EU) 2024/1438: ten countries of a tenth each leave the four at 40 %.
    assert labels.may_name_four([Origin(str(i), s) for i, s in enumerate(shares)]) is may


@pytest.mark.parametrize(
    ("measured", "within"), [(2850, True), (2860, True), (3150, True), (2849, False), (3151, False)]
)
def test_a_declared_30_per_cent_may_be_28_5_to_31_5(measured, within):
    assert labels.is_share_tolerated(3000, measured) is within


def test_the_caution_names_infants_and_twelve_months():
    assert labels.infant_caution() == "Not for infants under 12 months."
