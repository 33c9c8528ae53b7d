"""Codes on a jar: GS1 General Specifications, and a second reader of GS1 strings."""

from __future__ import annotations

from datetime import date

import biip
import pytest
from biip.symbology import SymbologyIdentifier
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules import label_codes
from beeledger.rules.labels import DateForm
from beeledger.rules.lot_marks import make_mark

DURABLE = date(2028, 9, 30)


# Check digit examples of GS1: GTIN-13 629104150021-3, GTIN-14 1061414100041-5, and the ISBN 978-0-306-40615-7 of
# the ISBN users' manual (the same scheme); GTIN-12 03600029145-2 and GTIN-8 7351353-7 from memory.
@pytest.mark.parametrize(
    "number", ["6291041500213", "10614141000415", "9780306406157", "036000291452", "73513537"]
)
def test_published_article_numbers_are_right(number):
    assert label_codes.gtin_check_digit(number[:-1]) == number[-1]
    assert label_codes.is_gtin(number)


@given(st.text("0123456789", min_size=12, max_size=12), st.data())
def test_a_single_wrong_digit_of_an_article_number_is_noticed(body, data):
    number = body + label_codes.gtin_check_digit(body)
    place = data.draw(st.integers(0, 12))
    wrong = data.draw(st.sampled_from([d for d in "0123456789" if d != number[place]]))
    assert label_codes.is_gtin(number)
    assert not label_codes.is_gtin(number[:place] + wrong + number[place + 1 :])


@pytest.mark.parametrize("text", ["", "629104150021", "62910415002133", "629104150021X", "٦٢٩١٠٤١٥٠٠٢١٣"])
def test_what_is_no_article_number_is_told(text):
    assert not label_codes.is_gtin(text)


def test_check_digits_are_made_of_digits_only():
    with pytest.raises(ValueError, match="digits only"):
        label_codes.gtin_check_digit("62910A")


# AI (15): where no day is marked the day is 00, read as the last of the month.
@pytest.mark.parametrize(
    ("form", "held", "read"),
    [(DateForm.DAY, "280930", date(2028, 9, 30)), (DateForm.MONTH, "280900", date(2028, 9, 30)),
     (DateForm.YEAR, "281200", date(2028, 12, 31))],
)  # fmt: skip
def test_best_before_is_held_by_its_form(form, held, read):
    string = label_codes.element_string("HG26-0143-39", DURABLE, form)
    assert string.elements == (("15", held), ("10", "HG26-0143-39"))
    assert scanned(string).element_strings.get(ai="15").date == read


def scanned(string):
    parsed = biip.parse("]d2" + string.plain())
    assert parsed.symbology_identifier == SymbologyIdentifier.extract("]d2")
    return parsed.gs1_message


def test_a_second_reader_finds_article_date_and_lot():
    string = label_codes.element_string("HG26-0143-39", DURABLE, DateForm.DAY, "6291041500213")
    assert string.human() == "(01)06291041500213(15)280930(10)HG26-0143-39"
    elements = scanned(string).element_strings
    assert [element.ai.ai for element in elements] == ["01", "15", "10"]
    assert elements.get(ai="01").gtin.as_gtin_13() == "6291041500213"
    assert elements.get(ai="10").value == "HG26-0143-39"


@given(st.integers(2000, 2099), st.integers(1, 9999), st.dates(date(2020, 1, 1), date(2070, 12, 31)))
def test_every_lot_mark_is_read_back_from_its_code(year, number, durable):
    mark = str(make_mark("HGW", year, number))
    string = label_codes.element_string(mark, durable, DateForm.DAY)
    assert scanned(string).element_strings.get(ai="10").value == mark


def test_a_code_without_article_number_is_the_farms_own():
    assert not label_codes.element_string("A1", DURABLE, DateForm.DAY).is_open_trade()
    assert label_codes.element_string("A1", DURABLE, DateForm.DAY, "73513537").is_open_trade()


def test_a_wrong_article_number_gets_no_code():
    with pytest.raises(ValueError, match="check digit"):
        label_codes.element_string("A1", DURABLE, DateForm.DAY, "6291041500214")


@pytest.mark.parametrize("lot", ["", "L HG26", "a" * 21, "mêl", "A\x1d1"])
def test_a_lot_that_cannot_stand_in_a_code_is_refused(lot):
    with pytest.raises(ValueError, match="GS1 code"):
        label_codes.element_string(lot, DURABLE, DateForm.DAY)
