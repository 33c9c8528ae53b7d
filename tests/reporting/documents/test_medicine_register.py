"""The medicine register: every field of SI 2013/2033 on paper and in the workbook, what is missing marked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from io import BytesIO

from openpyxl import load_workbook

from beeledger.queries.records.medicine_register import (
    BoughtEntry,
    DisposedEntry,
    GivenEntry,
    MedicineRegister,
)
from beeledger.reporting.documents.medicine_register import heading, render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, HOSTILE, MADE

IN, OUT = date(2025, 9, 12), date(2025, 10, 31)
GIVEN = GivenEntry(
    IN,
    OUT,
    "Fen strips",
    "B7",
    "Withy Bank",
    ("41", "42", "43", "50"),
    8,
    0,
    0,
    "RH",
    OUT,
    date(2030, 10, 31),
)
STILL = replace(
    GIVEN, in_on=date(2026, 4, 20), out_on=None, hives=("2301",), pieces=None, unmeasured=1, last_day=None, keep_until=None,
    missing="quantity",
)  # fmt: skip
BOUGHT = BoughtEntry(
    date(2025, 9, 1), "Fen strips", "amitraz strips", "B7", date(2027, 6, 30), 20, "Marl Veterinary", ("3 Low Row", "Aldley"),
    "invoice 2214", 8, 5, 7,
)  # fmt: skip
GONE = DisposedEntry(date(2025, 11, 2), "Fen strips", "B7", 5, "taken back to the supplier")
RECORD = MedicineRegister(
    "all sites", date(2025, 6, 1), date(2026, 5, 31), (GIVEN, STILL), (BOUGHT,), (GONE,)
)


def words_of(record: MedicineRegister) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_what_was_given_names_product_batch_day_quantity_withdrawal_and_hives():
    """Regulation 19(2): product, date, quantity, withdrawal period, identification of the animals."""
    words = words_of(RECORD)
    for said in (
        "Fen strips",
        "B7",
        "12 Sep 2025",
        "31 Oct 2025",
        "41–43, 50",
        "Withy Bank",
        "RH",
        "31 Oct 2030",
    ):
        assert said in words
    assert "still in" in words


def test_a_pack_names_supplier_address_and_proof():
    """Regulations 17 and 19(1): batch, date, quantity, name and address of the supplier, proof of purchase."""
    words = words_of(RECORD)
    for said in ("1 Sep 2025", "Marl Veterinary, 3 Low Row,", "Aldley", "invoice 2214", "30 Jun 2027"):
        assert said in words


def test_a_disposal_names_day_quantity_way_and_place():
    """Regulation 20."""
    words = words_of(RECORD)
    assert "2 Nov 2025 Fen strips B7 5 taken back to the supplier" in words


def test_what_is_missing_is_counted_at_the_head_and_marked_in_its_line():
    assert heading(RECORD).side == "2 lines given, 1 pack, 1 to fill"
    assert words_of(RECORD).count("quantity") == 1
    whole = replace(RECORD, given=(GIVEN,))
    assert heading(whole).side == "1 line given, 1 pack"
    assert "quantity" not in words_of(whole)


def test_the_foot_says_how_long_the_register_is_kept():
    """Five years: regulations 17 to 20."""
    assert "Kept for 5 years" in words_of(RECORD)


def test_an_empty_register_says_so():
    empty = replace(RECORD, given=(), bought=(), disposed=())
    words = words_of(empty)
    assert "Nothing was given in this period" in words
    assert "Nothing was disposed of in this period" in words


def test_text_of_any_kind_comes_out_whole():
    words = words_of(replace(RECORD, bought=(replace(BOUGHT, supplier=HOSTILE),)))
    assert "<b>Tŷ" in words
    assert words.replace(" ", "").count("x" * 200) == 1


def test_the_workbook_holds_real_dates_and_numbers():
    book = load_workbook(BytesIO(render_workbook(RECORD, FARM, MADE)))
    assert book.sheetnames == ["Given", "Packs", "Disposed of"]
    rows = list(book["Given"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert [row[0].date() for row in rows] == [IN, date(2026, 4, 20)]
    assert (rows[0][5], rows[0][6], rows[0][7], rows[0][9]) == ("41, 42, 43, 50", 4, 8, 0)
    assert (rows[1][7], rows[1][8], rows[1][12]) == (None, 1, "quantity")
    (pack,) = book["Packs"].iter_rows(min_row=HEAD_ROW + 1, values_only=True)
    assert (pack[5], pack[8], pack[11]) == (20, 7, "invoice 2214")
    (gone,) = book["Disposed of"].iter_rows(min_row=HEAD_ROW + 1, values_only=True)
    assert (gone[0].date(), gone[3]) == (date(2025, 11, 2), 5)


def test_300_lines_run_over_pages_without_losing_one():
    lines = tuple(replace(GIVEN, batch=f"N{number}Z") for number in range(300))
    words = words_of(replace(RECORD, given=lines))
    assert all(f"N{number}Z" in words for number in range(300))
