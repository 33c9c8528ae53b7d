"""The movement register: the whole log, quickly, on paper and as a workbook."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from io import BytesIO
from time import perf_counter

from openpyxl import load_workbook
from reportlab.lib.pagesizes import A4, landscape
from reportlab.platypus import LongTable, SimpleDocTemplate

from beeledger.reporting.documents.movement_register import _row, render_pdf, render_workbook
from beeledger.reporting.look.fonts import register as register_fonts
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE, ZONE, register


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_every_move_of_every_hive_is_there_once():
    record = register(90)
    text = words_of(record)
    for line in record.lines:
        assert text.count(f" {line.hive} {line.came_from} ") == 1


def test_the_counts_are_of_different_moves_and_hives():
    record = register(60)
    assert (record.moves, record.hives) == (10, 60)
    back = replace(record.lines[0], came_from="Upper Slade", went_to="Withy Bank", move=11)
    assert (
        replace(record, lines=(*record.lines, back)).moves,
        replace(record, lines=(*record.lines, back)).hives,
    ) == (11, 60)


def test_an_arrival_after_midnight_says_its_day():
    line = replace(
        register(1).lines[0],
        on=date(2026, 5, 4),
        left=datetime(2026, 5, 4, 22, 15, tzinfo=ZONE),
        arrived=datetime(2026, 5, 5, 0, 40, tzinfo=ZONE),
    )
    assert "4 May 2026 22:15 5 May 00:40" in words_of(replace(register(1), lines=(line,)))


def test_a_licence_has_its_column_only_where_one_was_used():
    record = register(6)
    assert "Licence" not in words_of(record)
    licensed = replace(record, lines=(replace(record.lines[0], override="LIC 44/26"), *record.lines[1:]))
    assert "Licence" in words_of(licensed)
    assert "LIC 44/26" in words_of(licensed)


def test_an_empty_register_says_so():
    assert "No hive moved in this period" in words_of(replace(register(1), lines=()))


def test_the_workbook_holds_real_dates_and_moments():
    record = register(12)
    sheet = load_workbook(BytesIO(render_workbook(record, FARM, MADE)))["Register"]
    rows = list(sheet.iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert [row[0].date() for row in rows[:-1]] == [line.on for line in record.lines]
    assert [row[1] and row[1].replace(tzinfo=ZONE) for row in rows[:-1]] == [
        line.left for line in record.lines
    ]
    assert rows[-1][3] == "12"


def bare(record) -> bytes:
    """The same cells in ReportLab's own table with fixed widths and no rule but a hairline."""
    register_fonts()
    widths = [65, 54, 54, 51, 113, 113, 57, 62, 99, 99]
    style = [("FONT", (0, 0), (-1, -1), "Inter-Regular", 9), ("LINEBELOW", (0, 0), (-1, -1), 0.35, "grey")]
    buffer = BytesIO()
    table = LongTable([_row(line) for line in record.lines], colWidths=widths, style=style)
    SimpleDocTemplate(buffer, pagesize=landscape(A4), leftMargin=34, rightMargin=34).build([table])
    return buffer.getvalue()


def seconds(write, record) -> float:
    begun = perf_counter()
    write(record)
    return perf_counter() - begun


def test_2000_lines_take_no_more_than_one_and_a_half_times_a_bare_table():
    record = register(2000)
    pairs = [
        (seconds(lambda each: render_pdf(each, FARM, MADE), record), seconds(bare, record)) for _ in range(2)
    ]
    assert min(ours / theirs for ours, theirs in pairs) < 1.5
