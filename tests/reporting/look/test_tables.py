"""The ruled table: how it splits, counts and keeps its sums."""

from __future__ import annotations

import pytest
from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.look.ink import FIFTH
from beeledger.reporting.look.tables import ROW, Cell, Column, Ledger, day_mm, long_day_mm, widest

COLUMNS = [Column("Hive", 20), Column("Note"), Column("Days", 20, align="right")]
WIDE = 400


def ledger(rows: int, **more: object) -> Ledger:
    return Ledger(COLUMNS, [[str(n), "calm", "7"] for n in range(1, rows + 1)], **more)


def pieces(table: Ledger, first: float, page: float) -> list[Ledger]:
    found, room, rest = [], first, table
    while rest.wrap(WIDE, room)[1] > room:
        parts = rest.split(WIDE, room)
        if parts:
            found.append(parts[0])
            rest = parts[1]
        elif room == page:
            pytest.fail("the table fits on no page")
        room = page
    return [*found, rest]


def numbers(piece: Ledger) -> list[int]:
    return [row.number for row in piece.laid[piece.start : piece.stop]]


@pytest.mark.parametrize("rows", [1, 2, 3, 24, 25, 26, 27, 100])
def test_every_row_comes_out_once_and_in_order(rows):
    found = pieces(ledger(rows, sums=["", "", "9"]), 300, 400)
    assert [number for piece in found for number in numbers(piece)] == list(range(1, rows + 1))


@pytest.mark.parametrize("rows", range(20, 32))
def test_no_row_stands_alone_at_either_end_and_the_sums_keep_two_rows(rows):
    found = pieces(ledger(rows, sums=["", "", "9"]), 18 + 24 * ROW + 2, 500)
    assert all(piece.stop - piece.start >= 2 for piece in found)
    assert [piece.foot is not None for piece in found] == [False] * (len(found) - 1) + [True]


def test_every_fifth_line_is_firmer_and_the_count_goes_on_over_the_page(monkeypatch):
    first, second = pieces(ledger(14), 18 + 8 * ROW, 500)
    assert (numbers(first)[-1], numbers(second)[0]) == (8, 9)
    firm = []
    monkeypatch.setattr(Ledger, "_rule", lambda self, y, right, weight: firm.append(weight))
    second.canv = Canvas("unused")
    second.wrap(WIDE, 500)
    second.draw()
    # its rows are 9 to 14: only line 10 is a fifth; the first rule drawn is the head's
    assert firm[1:] == [
        weight if n != 10 else FIFTH for n, weight in zip(range(9, 15), firm[1:], strict=True)
    ]
    assert firm[1:].count(FIFTH) == 1


def test_a_sum_wider_than_its_column_runs_on_over_blank_neighbours_and_is_not_broken():
    narrow = [Column("Hive", 12), Column("On"), Column("Days", 8, align="right")]
    table = Ledger(narrow, [["2301", "4 May", "22"]], sums=["1,400 hives", "", "88,788"])
    table.wrap(WIDE, 500)
    assert [lines for lines, _, _ in table.foot.cells] == [("1,400 hives",), (), ("88,788",)]
    assert table.foot.height == ROW


def test_a_cell_higher_than_a_page_goes_on_in_the_next_row():
    table = Ledger(COLUMNS, [["1", "word " * 2000, "7"], ["2", "calm", "7"]])
    found = pieces(table, 300, 400)
    words = [
        line for piece in found for row in piece.laid[piece.start : piece.stop] for line in row.cells[1][0]
    ]
    assert " ".join(words) == " ".join(["word"] * 2000 + ["calm"])


def test_an_empty_table_says_so():
    assert ledger(0, empty="No hive moved").wrap(WIDE, 500)[1] == 18 + ROW


def test_a_row_of_another_width_than_the_head_is_an_error():
    with pytest.raises(ValueError, match="zip"):
        Ledger(COLUMNS, [["1", "calm"]]).wrap(WIDE, 500)


def test_a_cell_may_have_its_own_ink_and_mark():
    table = Ledger(COLUMNS, [["1", Cell("late", ink="now", mark="late"), ""]])
    table.wrap(WIDE, 500)
    lines, role, mark = table.laid[0].cells[1]
    assert (lines, role.ink, mark) == (("late",), "now", "late")


def test_any_day_of_the_year_fits_its_column_on_one_line():
    days = [f"{day} {month}" for day in (1, 28, 30) for month in ("Jan", "May", "Nov", "Sep", "Aug", "Mar")]
    assert all(widest([day]) <= day_mm() for day in days)
    assert all(widest([f"{day} 2026"]) <= long_day_mm() for day in days)
