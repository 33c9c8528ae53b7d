"""The medicine register: what was given, the packs it came from, what was disposed of; what is missing is marked.

The fields are those of the Veterinary Medicines Regulations 2013 (SI 2013/2033), regulations 17, 19 and 20.
"""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base.dates import long, span
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.medicine_register import (
    BoughtEntry,
    DisposedEntry,
    GivenEntry,
    MedicineRegister,
)
from beeledger.reporting.look.figures import room_for, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, Row, long_day_mm, widest
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field, Value
from beeledger.rules.hive_lists import stretches
from beeledger.rules.medicines import kept_years

KEY = "medicine-register"
TITLE = "Medicine register"


def kept_words() -> str:
    """How long the register is kept, and what stands above it."""
    return (
        f"Kept for {kept_years()} years after a medicine was given or disposed of, also where the colony is gone or sold "
        "(Veterinary Medicines Regulations 2013, SI 2013/2033). The label, the law and licensed practice stand above "
        "this record."
    )


def heading(record: MedicineRegister) -> Heading:
    """What stands at the head."""
    lacking = f", {record.lacking} to fill" if record.lacking else ""
    side = f"{counted(len(record.given), 'line')} given, {counted(len(record.bought), 'pack')}{lacking}"
    return Heading(KEY, TITLE, record.scope, span(record.first, record.last), side)


def render_pdf(record: MedicineRegister, farm: Farm, made: Made) -> bytes:
    """The register as PDF, A4 across."""
    story: list[Flowable] = [
        *section("Given", f"{counted(record.hives, 'hive')} treated, each time counted"),
        _given(record),
        *section("Packs", "bought in the period, or given from", room_for(len(record.bought))),
        _bought(record),
        *section("Disposed of", "otherwise than by treatment", room_for(len(record.disposed))),
        _disposed(record),
        Lines(kept_words(), above=6),
    ]
    return build(heading(record), farm, made, story, LANDSCAPE)


def _given(record: MedicineRegister) -> Ledger:
    day = long_day_mm()
    columns = [
        Column("In", day),
        Column("Out", day, group_end=True),
        Column("Product", 28, face="SemiBold"),
        Column("Batch", _batch_mm([entry.batch for entry in record.given])),
        Column("Site", 26),
        Column("Hives"),
        Column("", 11, unit="hives", align="right"),
        Column("Given", 14, unit="pieces", align="right"),
        Column("Withdrawal", 20, unit="days", align="right", group_end=True),
        Column("Who", 13),
        Column("Keep until", day),
        Column("Missing", 24),
    ]
    return Ledger(
        columns, [_given_row(entry) for entry in record.given], empty="Nothing was given in this period"
    )


def _given_row(entry: GivenEntry) -> Row:
    return [
        long(entry.in_on),
        long(entry.last_day) if entry.last_day else Cell("still in", "watch"),
        entry.product,
        entry.batch,
        entry.site,
        stretches(entry.hives),
        f"{len(entry.hives):,}",
        _pieces(entry.pieces),
        _pieces(entry.withdrawal_days),
        entry.who,
        long(entry.keep_until) if entry.keep_until else "",
        _missing(entry.missing),
    ]


def _bought(record: MedicineRegister) -> Ledger:
    day = long_day_mm()
    columns = [
        Column("Acquired", day, group_end=True),
        Column("Product", 32, face="SemiBold"),
        Column("Active substance", 34),
        Column("Batch", _batch_mm([one.batch for one in record.bought])),
        Column("Expires", day),
        Column("Bought", 15, unit="pieces", align="right"),
        Column("Given", 14, unit="pieces", align="right"),
        Column("Disposed", 17, unit="pieces", align="right"),
        Column("Left", 12, unit="pieces", align="right", group_end=True),
        Column("Supplier"),
        Column("Proof of purchase", 32),
        Column("Missing", 24),
    ]
    rows: list[Row] = [
        [
            long(one.on) if one.on else "", one.product, one.active, one.batch,
            long(one.expires_on) if one.expires_on else "", _pieces(one.pieces), f"{one.used:,}",
            f"{one.disposed:,}" if one.disposed else "", _pieces(one.left), _supplier(one), one.proof,
            _missing(one.missing),
        ]
        for one in record.bought
    ]  # fmt: skip
    return Ledger(columns, rows, empty="No pack in this period")


def _disposed(record: MedicineRegister) -> Ledger:
    columns = [
        Column("Date", long_day_mm(), group_end=True),
        Column("Product", 40, face="SemiBold"),
        Column("Batch", 24),
        Column("Quantity", 18, unit="pieces", align="right", group_end=True),
        Column("How and where"),
        Column("Missing", 34),
    ]
    rows: list[Row] = [
        [long(one.on), one.product, one.batch, _pieces(one.pieces), one.how, _missing(one.missing)]
        for one in record.disposed
    ]
    return Ledger(columns, rows, empty="Nothing was disposed of in this period")


def _batch_mm(batches: list[str]) -> float:
    """A batch number stands on one line where it is of a usual length."""
    return min(max(16.0, widest(batches)), 30.0)


def _pieces(number: int | None) -> str:
    return "" if number is None else f"{number:,}".replace("-", "−")


def _supplier(pack: BoughtEntry) -> str:
    return ", ".join(part for part in (pack.supplier, *pack.address) if part)


def _missing(words: str) -> Cell:
    return Cell(words, "watch", mark="odd" if words else "")


def render_workbook(record: MedicineRegister, farm: Farm, made: Made) -> bytes:
    """The register as a workbook of three sheets, with real dates and numbers."""
    book = Book(heading(record), farm, made)
    book.sheet("Given", _GIVEN, [_given_values(one) for one in record.given])
    book.sheet("Packs", _PACKS, [_pack_values(one) for one in record.bought])
    book.sheet("Disposed of", _DISPOSED, [_disposed_values(one) for one in record.disposed])
    return book.save()


_GIVEN = (
    Field("In", "day"),
    Field("Out", "day"),
    Field("Product", wide=22),
    Field("Batch", wide=14),
    Field("Site", wide=22),
    Field("Hives", wide=40),
    Field("Hives", "count", 8),
    Field("Given, pieces", "count", 10),
    Field("Hives, quantity not known", "count", 12),
    Field("Withdrawal, days", "count", 12),
    Field("Who", wide=12),
    Field("Keep until", "day"),
    Field("Missing", wide=30),
)
_PACKS = (
    Field("Acquired", "day"),
    Field("Product", wide=22),
    Field("Active substance", wide=24),
    Field("Batch", wide=14),
    Field("Expires", "day"),
    Field("Bought, pieces", "count", 10),
    Field("Given, pieces", "count", 10),
    Field("Disposed of, pieces", "count", 12),
    Field("Left, pieces", "count", 10),
    Field("Supplier", wide=24),
    Field("Address", wide=34),
    Field("Proof of purchase", wide=24),
    Field("Missing", wide=30),
)
_DISPOSED = (
    Field("Date", "day"),
    Field("Product", wide=22),
    Field("Batch", wide=14),
    Field("Quantity, pieces", "count", 10),
    Field("How and where", wide=50),
    Field("Missing", wide=30),
)


def _given_values(one: GivenEntry) -> tuple[Value, ...]:
    return (
        one.in_on, one.last_day, one.product, one.batch, one.site, ", ".join(one.hives), len(one.hives), one.pieces,
        one.unmeasured or None, one.withdrawal_days, one.who, one.keep_until, one.missing,
    )  # fmt: skip


def _pack_values(one: BoughtEntry) -> tuple[Value, ...]:
    return (
        one.on, one.product, one.active, one.batch, one.expires_on, one.pieces, one.used, one.disposed or None,
        one.left, one.supplier, ", ".join(one.address), one.proof, one.missing,
    )  # fmt: skip


def _disposed_values(one: DisposedEntry) -> tuple[Value, ...]:
    return (one.on, one.product, one.batch, one.pieces, one.how, one.missing)
