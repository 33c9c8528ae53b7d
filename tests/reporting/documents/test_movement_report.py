"""The movement report: its figures on paper and in the workbook are those of the record."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

from openpyxl import load_workbook

from beeledger.base.units import money
from beeledger.queries.records.movement_report import OwedLine
from beeledger.reporting.documents.movement_report import least_strength, render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE, report


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_every_hive_stands_on_paper_with_where_from_when_and_how_strong():
    record = report()
    text = words_of(record)
    for stay in record.stays:
        assert f"{stay.hive} {stay.came_from}" in text
    assert "2304 Upper Slade 4 May 26 May 22 8.5 5.5 12 May" in text
    assert "2364 Withy Bank 7 May 26 May 19 8.5 5.0 12 May came 3 days late" in text


def test_days_and_money_sum_as_by_hand():
    # 20 hives for 22 days, 4 for 19; 21 × £62 + 3 × £31 − 12 × £1.50
    record = report()
    assert record.hive_days == 20 * 22 + 4 * 19 == 516
    assert record.owed_pence == 130_200 + 9_300 - 1_800 == 137_700
    text = words_of(record)
    assert "516 hive-days" in text
    assert text.count("£1,377.00") == 3  # in short, in the section's head, at the foot of its table


def test_a_deduction_has_a_true_minus():
    assert "−£18.00" in words_of(report())


def test_a_hive_not_checked_is_blank_and_not_nought():
    text = words_of(report())
    assert "2301 Withy Bank 4 May 26 May 22 2304" in text


def test_hives_fewer_than_promised_are_said_in_words():
    record = report()
    more = replace(record, agreed=replace(record.agreed, hives=27))
    assert "3 hives fewer than promised" in words_of(more)
    assert "fewer than promised" not in words_of(record)


def test_a_report_without_hives_says_so_and_can_still_be_signed():
    text = words_of(replace(report(), stays=(), owed=(), counts=(), strength=()))
    assert "No hive stood on the crop in this period" in text
    assert "Nothing is owed" in text
    assert "Signature" in text


def test_a_hive_that_came_twice_counts_once_among_the_hives():
    record = report()
    twice = replace(record, stays=(*record.stays, record.stays[0]))
    assert (twice.hives_delivered, twice.hive_days) == (24, 538)
    assert "24 hives 25 stays 538" in words_of(twice)


def test_the_least_strength_is_said_with_its_frame():
    assert least_strength(report().agreed) == "8 frames of bees, 5 of brood (British Standard deep)"
    assert least_strength(replace(report().agreed, bees_tenths=None, frame="")) == "5 frames of brood"


def test_the_workbook_holds_the_same_figures_as_numbers():
    record = report()
    book = load_workbook(BytesIO(render_workbook(record, FARM, MADE)))
    assert book.sheetnames == ["Hives", "Owed", "Contract"]
    hives, owed = book["Hives"], book["Owed"]
    rows = list(hives.iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    *stays, sums = rows
    assert [row[4] for row in stays] == [stay.days for stay in record.stays]
    assert [row[5] for row in stays] == [
        None if s.bees_tenths is None else s.bees_tenths / 10 for s in record.stays
    ]
    assert (sums[0], sums[4]) == ("24 hives", 516)
    lines = [row[6] for row in owed.iter_rows(min_row=HEAD_ROW + 1, values_only=True)]
    assert lines[:-1] == [1302, 93, -18]
    assert lines[-1] == sum(lines[:-1]) == 1377


def test_a_sum_of_odd_pence_is_exact():
    lines = tuple(OwedLine(f"line {n}", 10 * n + 1) for n in range(99))
    record = replace(report(), owed=lines)
    assert money(record.owed_pence) == "£486.09"
