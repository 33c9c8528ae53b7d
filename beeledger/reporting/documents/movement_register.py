"""The movement register: the log of any period and site, one line a hive moved."""

from __future__ import annotations

from datetime import datetime

from beeledger.base.dates import long, short, span
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.movement_register import MovementRegister, RegisterLine
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, long_day_mm
from beeledger.reporting.look.workbook import Book, Field

KEY = "movement-register"
TITLE = "Movement register"


def heading(record: MovementRegister) -> Heading:
    """What stands at the head."""
    side = f"{counted(record.moves, 'move')}, {counted(record.hives, 'hive')}, {counted(len(record.lines), 'line')}"
    return Heading(KEY, TITLE, record.scope, span(record.first, record.last), side)


def render_pdf(record: MovementRegister, farm: Farm, made: Made) -> bytes:
    """The register as PDF, A4 across."""
    override = any(line.override for line in record.lines)
    columns = [
        Column("Date", long_day_mm()),
        Column("Left", 19, align="right"),
        Column("Arrived", 19, align="right", group_end=True),
        Column("Hive", 18, face="SemiBold"),
        Column("From", 40),
        Column("To", 40, group_end=True),
        Column("Vehicle", 20),
        Column("Driver", 22),
        Column("Reason"),
        Column("Contract"),
    ]
    rows = [_row(line) for line in record.lines]
    if override:
        columns.append(Column("Licence", 24))
        rows = [[*row, line.override] for row, line in zip(rows, record.lines, strict=True)]
    sums = [""] * len(columns)
    sums[0] = counted(record.moves, "move")
    sums[3:5] = f"{record.hives:,}", "hive" if record.hives == 1 else "different hives"
    ledger = Ledger(columns, rows, sums=sums, empty="No hive moved in this period")
    return build(heading(record), farm, made, [ledger], LANDSCAPE)


def _row(line: RegisterLine) -> list[str | Cell]:
    return [
        long(line.on),
        _clock(line.left, line),
        _clock(line.arrived, line),
        line.hive,
        line.came_from,
        line.went_to,
        line.vehicle,
        line.driver,
        line.reason,
        line.contract,
    ]


def _clock(moment: datetime | None, line: RegisterLine) -> str:
    """The wall clock, with the day where it is not the day of the move."""
    if moment is None:
        return ""
    return f"{moment:%H:%M}" if moment.date() == line.on else f"{short(moment.date())} {moment:%H:%M}"


def render_workbook(record: MovementRegister, farm: Farm, made: Made) -> bytes:
    """The register as a workbook with real dates and moments."""
    fields = [
        Field("Date", "day"),
        Field("Left", "moment", 16),
        Field("Arrived", "moment", 16),
        Field("Hive", wide=10),
        Field("From", wide=24),
        Field("To", wide=24),
        Field("Vehicle", wide=12),
        Field("Driver", wide=14),
        Field("Reason", wide=26),
        Field("Contract", wide=18),
        Field("Licence", wide=16),
        Field("Move", "count", 8),
    ]
    rows = [
        (
            line.on, line.left, line.arrived, line.hive, line.came_from, line.went_to, line.vehicle,
            line.driver, line.reason, line.contract, line.override, line.move,
        )
        for line in record.lines
    ]  # fmt: skip
    sums = (None, None, None, f"{record.hives:,}", "different hives", *[""] * 6, record.moves)
    book = Book(heading(record), farm, made)
    book.sheet("Register", fields, rows, sums=sums)
    return book.save()
