"""Lot marks: ISO 7064 MOD 97-10 by its published examples, and every slip noticed."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from beeledger.rules import lot_marks
from beeledger.rules.lot_marks import ALPHABET, make_mark, read_mark

MARKS = st.builds(
    make_mark, st.text(ALPHABET, min_size=2, max_size=4), st.integers(2000, 2099), st.integers(1, 9999)
)
CHARACTERS = st.sampled_from("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")


def compact(mark):
    return str(mark).replace("-", "")


def read_or_none(text):
    try:
        return read_mark(text)
    except ValueError:
        return None


def test_check_digits_are_those_of_the_standards_own_example():
    # ISO 7064, MOD 97-10: 794 has the check digits 44.
    assert lot_marks.check_digits("794") == "44"
    assert lot_marks.is_checked("79444")


@pytest.mark.parametrize("iban", ["GB82WEST12345698765432", "DE89370400440532013000"])
def test_the_worked_account_numbers_of_iso_13616_are_right(iban):
    # ISO 13616 takes MOD 97-10 over the number with its first four characters put last.
    assert lot_marks.is_checked(iban[4:] + iban[:4])
    assert lot_marks.check_digits(iban[4:] + iban[:2]) == iban[2:4]


def test_a_mark_says_farm_year_and_number():
    mark = make_mark("HG", 2026, 143)
    # By hand: H is 17, G is 16, so 17 16 26 0143 with 00 behind it leaves 59 by 97, and 98 − 59 = 39.
    assert 171626014300 % 97 == 59
    assert str(mark) == "HG26-0143-39"
    assert mark.printed() == "L HG26-0143-39"
    assert mark.spoken() == "H G, 2 6, 0 1 4 3, 3 9"


@pytest.mark.parametrize(
    "typed",
    ["HG26-0143-39", "L HG26-0143-39", "lhg26014339", " hg 26 0143 39 ", "L: HG26 – 0143 – 39", "HG26-O143-39",
     "HG26-0I43-39", "hg26-0l43-39"],
)  # fmt: skip
def test_a_mark_is_read_however_it_is_typed(typed):
    assert read_mark(typed) == make_mark("HG", 2026, 143)


@pytest.mark.parametrize(
    "typed", ["", "L", "HG26", "26-0143-39", "HG26-0143-393", "H?26-0143-39", "HG26-0143"]
)
def test_what_is_no_mark_is_refused(typed):
    with pytest.raises(ValueError, match="not a lot mark"):
        read_mark(typed)


def test_a_mistyped_mark_is_told_from_a_foreign_one():
    with pytest.raises(ValueError, match="check digits do not agree"):
        read_mark("HG26-0134-39")


@given(MARKS)
def test_a_mark_printed_and_read_is_the_same(mark):
    assert read_mark(mark.printed()) == mark
    assert read_mark(str(mark).lower()) == mark


@given(MARKS, st.data())
def test_every_single_wrong_character_is_noticed(mark, data):
    text = compact(mark)
    place = data.draw(st.integers(0, len(text) - 1))
    wrong = data.draw(CHARACTERS)
    assume(wrong != text[place])
    found = read_or_none(text[:place] + wrong + text[place + 1 :])
    # O, I and L typed for the very digit are not wrong; anything else must not be read at all.
    assert found is None or (wrong in "OIL" and found == mark)


@given(MARKS, st.data())
def test_every_exchange_of_two_characters_is_noticed(mark, data):
    text = list(compact(mark))
    one, other = data.draw(st.lists(st.integers(0, len(text) - 1), min_size=2, max_size=2, unique=True))
    assume(text[one] != text[other])
    text[one], text[other] = text[other], text[one]
    assert read_or_none("".join(text)) is None


def test_all_slips_of_one_mark_are_noticed():
    text = compact(make_mark("HG", 2026, 143))
    slips = {text[:i] + c + text[i + 1 :] for i in range(len(text)) for c in "0123456789" + ALPHABET} - {text}
    assert len(slips) == 10 * 32
    assert [slip for slip in slips if read_or_none(slip)] == []


@pytest.mark.parametrize(
    ("prefix", "year", "number"),
    [("H", 2026, 1), ("HGHGH", 2026, 1), ("HO", 2026, 1), ("LI", 2026, 1), ("hg", 2026, 1), ("H2", 2026, 1),
     ("HG", 1999, 1), ("HG", 2100, 1), ("HG", 2026, 0), ("HG", 2026, 10_000)],
)  # fmt: skip
def test_a_mark_that_could_be_misheard_or_is_out_of_range_is_not_made(prefix, year, number):
    with pytest.raises(ValueError, match="lot mark"):
        make_mark(prefix, year, number)


def test_check_digits_know_capitals_and_digits_only():
    with pytest.raises(ValueError, match="capital letters"):
        lot_marks.check_digits("hg-26")
