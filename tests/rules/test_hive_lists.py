"""Lists of hives as they are typed on a telephone. The form is our own; the expected lists are written by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.rules.hive_lists import read_hive_list, stretches


@pytest.mark.parametrize(
    ("typed", "marks"),
    [
        ("12-15, 21", "12 13 14 15 21"),
        ("12 – 15 and 21", "12 13 14 15 21"),
        ("12 to 15\n21", "12 13 14 15 21"),
        ("hives 3 4 5.", "3 4 5"),
        ("P12-14; p20", "P12 P13 P14 P20"),
        ("P12-P14", "P12 P13 P14"),
        ("007-009", "007 008 009"),
        ("41a 41b", "41A 41B"),
        ("7", "7"),
        ("", ""),
    ],
)
def test_a_list_is_read_as_it_is_typed(typed, marks):
    found = read_hive_list(typed)
    assert (" ".join(found.marks), found.findings) == (marks, ())


@pytest.mark.parametrize(
    ("typed", "marks", "behind"),
    [
        ("12-18, 15x", "12 13 14 16 17 18", "15"),
        ("12-18 not 15", "12 13 14 16 17 18", "15"),
        ("12-18 except 14-16", "12 13 17 18", "14 15 16"),
        ("12-18, 14-16x, 40x", "12 13 17 18", "14 15 16 40"),
        ("12-18, 15 x", "12 13 14 16 17 18", "15"),
        ("15x 12-18", "12 13 14 16 17 18", "15"),
    ],
)
def test_an_x_leaves_a_hive_behind(typed, marks, behind):
    found = read_hive_list(typed)
    assert (" ".join(found.marks), " ".join(found.left_behind), found.findings) == (marks, behind, ())


def test_a_stretch_takes_those_that_stand_there_and_names_the_rest():
    found = read_hive_list("12-15", ["12", "14", "15"])
    assert found.marks == ("12", "14", "15")
    assert [(each.grade, each.what) for each in found.findings] == [
        (Grade.NOTED, "Of 12-15, 13 not at the site and left out")
    ]


def test_a_single_unknown_hive_stays_in_and_is_asked_about():
    found = read_hive_list("12 99", ["12"])
    assert found.marks == ("12", "99")
    assert [(each.code, each.grade) for each in found.findings] == [("list.unknown", Grade.AGAINST)]


def test_a_mark_is_given_back_as_the_record_writes_it():
    assert read_hive_list("p3-2", ["P3-2", "P3"]).marks == ("P3-2",)
    assert read_hive_list("p7 p8", ["p7", "P8"]).marks == ("p7", "P8")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("121-9", "hives: 121-9 runs backwards. Write 121-129 if that is meant."),
        ("20-12", "hives: 20-12 runs backwards. Write the smaller number first."),
        ("1-900", "hives: 1-900 would be 900 hives. A stretch is 200 at most."),
        ("A1-B4", "hives: A1-B4 begins and ends with other letters."),
        ("queenless", "hives: queenless is no hive number. Write 12, 12-18 or 40x."),
        ("12/13", "hives: 12/13 is no hive number. Write 12, 12-18 or 40x."),
    ],
)
def test_what_cannot_be_meant_is_refused_with_a_sentence(typed, sentence):
    found = read_hive_list(typed)
    assert found.marks == ()
    assert [each.grade for each in found.findings] == [Grade.REFUSED]
    assert found.findings[0].sentence() == sentence


def test_a_stretch_of_nobody_and_a_hive_named_twice_are_said():
    assert [each.code for each in read_hive_list("30-33", ["1"]).findings] == ["list.nobody"]
    twice = read_hive_list("12-14 13")
    assert (twice.marks, twice.findings[0].what) == (("12", "13", "14"), "13 named twice, taken once")


@given(st.text(max_size=60))
def test_no_text_breaks_it(typed):
    found = read_hive_list(typed, ["12", "A7"])
    assert not set(found.marks) & set(found.left_behind)


def test_numbers_in_a_row_are_written_as_a_stretch_from_three_on():
    assert stretches(["12", "13", "14", "21", "22", "P3-2", "9", "10"]) == "12–14, 21, 22, P3-2, 9, 10"
    assert stretches([]) == ""
