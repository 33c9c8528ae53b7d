"""The recall paper: every jar somewhere, every receiver with a way to reach them, and back to the hives."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

from openpyxl import load_workbook

from beeledger.reporting.documents.recall import alike, balance_words, render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.dispatch_examples import recall
from tests.reporting.examples import FARM, MADE


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_the_jars_sum_to_what_was_packed():
    text = words_of(recall())
    # by hand: 44 + 54 + 2 jars; 15.026 + 18.441 + 0.683 kg
    assert "Packed 100 34.150" in text
    assert "Every jar and every gram that was packed is accounted for" in text


def test_jars_that_are_nowhere_are_said():
    assert balance_words(recall(3)) == "Not accounted for: 3 jars, 0.000 kg"
    assert "Not accounted for: 3 jars" in words_of(recall(3))


def test_the_letter_list_has_every_receiver_and_says_where_no_address_is_known():
    text = words_of(recall())
    assert "R. Hollin · 2 Fore Street, Aldley" in text
    assert "no address is known" in text
    assert "a notice where they were sold" in text
    # by hand: 24 + 10 + 4 + 12 sent, 6 back, 44 out
    assert "3 receivers 50 6 44" in text


def test_what_was_reckoned_by_weight_is_marked():
    text = words_of(recall())
    assert "jars reckoned by weight in 1 line" in text
    assert "about 10" in text


def test_the_way_back_names_sites_hives_and_what_they_were_given():
    text = words_of(recall())
    for words in (
        "Withy Bank drum 114 22 Jul 2025",
        "Strips A, batch K12",
        "fondant, 3 Feb 2025",
        "feed was long gone",
    ):
        assert words in text
    assert "Other marks with some of the same honey" in text
    assert "Other marks" not in words_of(replace(recall(), related=()))


def test_the_duty_of_the_law_is_told_with_its_place():
    assert "Regulation (EC) 178/2002 arts 18 and 19" in words_of(recall())


def test_nothing_sold_is_still_a_paper():
    text = words_of(replace(recall(), buyers=(), parts=(), hives=(), related=(), sources=()))
    assert "No jar has left the farm" in text


def test_the_workbook_begins_with_the_letter_list_by_customer():
    book = load_workbook(BytesIO(render_workbook(recall(), FARM, MADE)))
    assert book.sheetnames == [
        "Letters",
        "Dispatches",
        "Where the jars are",
        "Sources",
        "Hives",
        "Other marks",
    ]
    rows = list(book["Letters"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert [(row[0], row[2], row[8:]) for row in rows] == [
        ("Aldley Stores", "2 Fore Street, Aldley, HR9 0ZZ", (34, 6, 28)), ("St Odo's fair", None, (4, None, 4))
        if rows[1][9] is None else ("St Odo's fair", None, (4, 0, 4)),
        ("The public, not by name", None, (12, 0, 12)), ("All", None, (50, 6, 44)),
    ]  # fmt: skip


def test_hives_of_one_take_that_were_given_the_same_share_a_line():
    (one, *_) = recall().hives
    three = tuple(replace(one, mark=mark) for mark in ("214", "215", "9"))
    other = replace(one, mark="31", feeds=())
    found = alike((three[0], other, *three[1:]))
    assert [[each.mark for each in group] for group in found.values()] == [["214", "215", "9"], ["31"]]
    words = words_of(replace(recall(), hives=(*three, other)))
    assert "214, 215, 9" in words
    assert words.count(one.treatments[0]) == 2
