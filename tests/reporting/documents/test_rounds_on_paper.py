"""The sheet a crew takes out, and what was posted of it."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from openpyxl import load_workbook

from beeledger.queries.records.round_sheet import LastFigures, SheetLine
from beeledger.queries.records.round_summary import SummaryLine
from beeledger.reporting.documents import round_sheet, round_summary
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE, sheet, summary


def words_of(pdf: bytes) -> list[str]:
    return [" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf))]


def test_every_hive_stands_in_walking_order_with_its_number_and_its_due():
    record = sheet()
    text = " ".join(words_of(round_sheet.render_pdf(record, FARM, MADE)))
    at = [
        text.index(f" {number} {line.hive} {line.queen}") for number, line in enumerate(record.lines, start=1)
    ]
    assert at == sorted(at)
    assert text.count("light: 4 kg on 2 May") == sum("light" in line.due for line in record.lines)


@pytest.mark.parametrize(("hives", "pages"), [(1, 1), (14, 1), (25, 2), (38, 2)])
def test_a_usual_site_is_one_sheet_printed_on_both_sides(hives, pages):
    assert page_count(round_sheet.render_pdf(sheet(hives), FARM, MADE)) == pages


def test_the_heads_teach_the_marks_of_the_quick_line():
    text = words_of(round_sheet.render_pdf(sheet(), FARM, MADE))[0]
    assert "b frames" in text
    assert "b frames" not in words_of(round_sheet.render_pdf(replace(sheet(), marks=()), FARM, MADE))[0]


@pytest.mark.parametrize(
    ("last", "unit"),
    [
        (["4 fr.", "2.5 fr.", "5 kg", ""], "frames"),
        (["4 kg", "5 kg", "3 fr."], "kg"),
        (["fair", ""], "kg"),
        ([], "kg"),
    ],
)
def test_stores_are_headed_by_what_the_site_counts_them_in(last, unit):
    lines = [SheetLine("1", last=LastFigures(stores=stores)) for stores in last]
    assert round_sheet.stores_unit(lines) == unit


def test_stores_in_frames_are_never_headed_kilograms():
    record = sheet(3)
    lines = tuple(replace(line, last=replace(line.last, stores="4 fr.")) for line in record.lines)
    text = words_of(round_sheet.render_pdf(replace(record, lines=lines, cautions=()), FARM, MADE))[0]
    head = text[: text.index("Margin")]
    assert "kg" not in head
    assert head.count("frames") == 3


def test_there_are_lines_left_for_strangers_and_a_rule_for_the_date():
    text = " ".join(words_of(round_sheet.render_pdf(replace(sheet(), day=None), FARM, MADE)))
    assert "31 hives" in text
    assert text.count("in out") >= 31 + round_sheet.BLANK_LINES


def test_cautions_stand_on_the_sheet():
    assert "two people lift" in " ".join(words_of(round_sheet.render_pdf(sheet(), FARM, MADE)))


def test_the_sheet_as_a_workbook_keeps_the_walking_order():
    book = load_workbook(BytesIO(round_sheet.render_workbook(sheet(), FARM, MADE)))
    rows = list(book["Last figures"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert [(row[0], row[2]) for row in rows] == [
        (n, line.hive) for n, line in enumerate(sheet().lines, start=1)
    ]


def test_the_summary_shows_what_was_posted_what_was_found_and_what_waits():
    text = " ".join(words_of(round_summary.render_pdf(summary(), FARM, MADE)))
    for words in (
        "2337 dead, queen failure", "163.5 frames brood", "2331 queen seen in a hive on record as queenless",
        "record corrected: queenright", "Still in the draft", "act 4,198", "09:10 to 11:40",
    ):  # fmt: skip
        assert words in text


def test_nought_is_typed_and_blank_is_not_looked_at():
    assert [round_summary.supers(change) for change in (None, 0, 2, -1)] == ["", "0", "+2", "−1"]
    one = replace(
        summary(), lines=(SummaryLine("2301", brood_tenths=0), SummaryLine("2304")), findings=(), waiting=()
    )
    sheet_ = load_workbook(BytesIO(round_summary.render_workbook(one, FARM, MADE)))["Hives"]
    assert [row[4] for row in sheet_.iter_rows(min_row=HEAD_ROW + 1, values_only=True)] == [0, None]
