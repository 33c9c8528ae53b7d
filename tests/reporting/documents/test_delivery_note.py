"""The delivery note: lots, jars and weights as they went out."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

from openpyxl import load_workbook

from beeledger.reporting.documents.delivery_note import render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.dispatch_examples import note
from tests.reporting.examples import FARM, MADE


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_each_lot_stands_with_its_mark_jars_weight_and_date():
    text = words_of(note())
    assert "L TB26-0031-18 Summer blossom 340 48 16.392 31 May 2028" in text
    assert "drum 114 Honey in bulk 27.500" in text
    # by hand: 48 + 24 jars; 16.392 + 5.472 + 27.500 kg
    assert "3 lots 72 49.364" in text


def test_sender_receiver_day_and_paper_are_named():
    # The fields of Regulation (EU) 931/2011 (from memory): what, how much, sender, receiver, lot, day.
    text = words_of(note())
    for words in (
        "Tarrow Barn",
        "Aldley Stores",
        "2 Fore Street",
        "Sent 20 May 2026",
        "order 77",
        "1182, sold",
    ):
        assert words in text


def test_the_caution_for_infants_goes_along():
    assert "infants under 12 months" in words_of(note())


def test_a_receiver_without_contact_is_still_a_note():
    bare = replace(note(), receiver="", contact=type(note().contact)(), reference="", note="")
    assert page_count(render_pdf(bare, FARM, MADE)) == 1


def test_the_workbook_holds_the_same_figures():
    book = load_workbook(BytesIO(render_workbook(note(), FARM, MADE)))
    rows = list(book["Lots"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert rows[-1][3:5] == (72, 49.364)
