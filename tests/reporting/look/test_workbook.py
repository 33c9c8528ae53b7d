"""Workbooks, read back with openpyxl as a stranger would."""

from __future__ import annotations

from datetime import date, datetime
from io import BytesIO

import pytest
from openpyxl import load_workbook

from beeledger.reporting.look.page import Heading
from beeledger.reporting.look.workbook import HEAD_ROW, Book, Field
from tests.reporting.examples import FARM, HOSTILE, MADE, ZONE

HEADING = Heading("trial", "Trial", "Withy Bank", "1 to 31 May 2026")
FIELDS = [
    Field("Hive"),
    Field("On", "day"),
    Field("Left", "moment"),
    Field("Days", "count"),
    Field("Bees", "tenths"),
    Field("Sum", "money"),
    Field("Share", "share"),
    Field("Weight", "kilograms"),
]
ROW = ("2301", date(2026, 5, 4), datetime(2026, 5, 4, 20, 10, tzinfo=ZONE), 22, 85, -1800, 4510, 126_040)


def sheet_of(rows, **more):
    book = Book(HEADING, FARM, MADE)
    book.sheet("Hives", FIELDS, rows, **more)
    return load_workbook(BytesIO(book.save()))["Hives"]


def test_dates_are_dates_and_numbers_are_numbers():
    sheet = sheet_of([ROW])
    hive, on, left, *numbers = [cell.value for cell in sheet[HEAD_ROW + 1]]
    assert (hive, on.date(), left.replace(tzinfo=ZONE)) == ROW[:3]
    assert numbers == [22, 8.5, -18, 0.451, 126.04]
    assert sheet.cell(HEAD_ROW + 1, 2).is_date


@pytest.mark.parametrize("text", ["=1+1", "+44 1632", "-7", "@SUM(A1)", "=HYPERLINK(1)"])
def test_text_that_looks_like_a_formula_stays_text_here_and_when_edited(text):
    cell = sheet_of([(text, *ROW[1:])]).cell(HEAD_ROW + 1, 1)
    assert (cell.value, cell.data_type, cell.quotePrefix) == (text, "s", True)


def test_titles_and_sums_take_hostile_text_whole():
    book = Book(Heading("trial", HOSTILE, HOSTILE, HOSTILE), FARM, MADE)
    book.sheet("a/b:c*d?e[f]\\" + "g" * 40, FIELDS, [], sums=(HOSTILE, *[None] * 7))
    sheet = load_workbook(BytesIO(book.save())).worksheets[0]
    assert sheet.title == "abcdef" + "g" * 25
    assert "Tŷ Gŵyn" in sheet["A1"].value
    assert sheet.cell(HEAD_ROW + 1, 1).data_type == "s"


def test_a_field_not_looked_at_is_an_empty_cell():
    assert sheet_of([("2301", *[None] * 7)]).cell(HEAD_ROW + 1, 5).value is None


def test_the_head_is_frozen_repeated_and_the_page_fits_across():
    sheet = sheet_of([ROW])
    assert sheet.freeze_panes == f"B{HEAD_ROW + 1}"
    assert sheet.print_title_rows == f"${HEAD_ROW}:${HEAD_ROW}"
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.page_setup.paperSize == 9
    assert sheet.oddFooter.right.text == "trial · page &P of &N"


def test_every_fifth_row_has_the_firmer_line():
    sheet = sheet_of([ROW] * 11)
    lines = [sheet.cell(HEAD_ROW + n, 1).border.bottom.style for n in range(1, 12)]
    assert [n for n, line in enumerate(lines, start=1) if line == "thin"] == [5, 10]


def test_the_same_record_gives_the_same_bytes():
    def written():
        book = Book(HEADING, FARM, MADE)
        book.sheet("Hives", FIELDS, [ROW])
        return book.save()

    assert written() == written()
