"""The movement report of a contract: the proof of what stood where and when, and the sum owed."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base import units
from beeledger.base.dates import long, short, span
from beeledger.base.text import counted, listed
from beeledger.queries.records.heading import Farm, Made, Note
from beeledger.queries.records.movement_report import (
    Agreed,
    MovementReport,
    OwedLine,
    Stay,
    StrengthResult,
)
from beeledger.reporting.drawing.charts import HivesByDay
from beeledger.reporting.drawing.signatures import SIGNED_ROOM, Signatures
from beeledger.reporting.look.figures import Facts, KeyFigures, room_for, said, section
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, day_mm, long_day_mm
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field

KEY = "movement-report"
TITLE = "Movement report"


def heading(record: MovementReport) -> Heading:
    """What stands at the head."""
    side = " · ".join(part for part in (record.site, record.grid) if part)
    return Heading(KEY, TITLE, record.contract, span(record.first, record.last), side)


def render_pdf(record: MovementReport, farm: Farm, made: Made) -> bytes:
    """The report as PDF."""
    story: list[Flowable] = [
        Facts(_facts(record)),
        *_summary(record),
        *_stays(record),
        *_strength(record.strength),
        *_owed(record),
        *_said("Health", "facts on record, not promises", record.health),
        *_said("Notes", "", record.notes),
        *section("Signed", room=SIGNED_ROOM),
        Signatures(
            [farm.name, record.grower.name],
            "The hives, days and strengths above are those on record. Signing confirms that they were seen so.",
        ),
    ]
    return build(heading(record), farm, made, story)


def _facts(record: MovementReport) -> list[tuple[str, str]]:
    agreed, grower = record.agreed, record.grower
    return [
        ("Grower", grower.name),
        ("Address", ", ".join(grower.address)),
        ("Contact", grower.contact),
        ("Crop", _crop(record)),
        ("Set down at", listed(record.set_down)),
        ("Hives agreed", counted(agreed.hives, "hive")),
        ("Agreed dates", _agreed_dates(agreed)),
        ("Least strength", least_strength(agreed)),
        ("Price a hive", "" if agreed.price_pence is None else units.money(agreed.price_pence)),
        ("Terms", "; ".join(agreed.terms)),
    ]


def _crop(record: MovementReport) -> str:
    area = record.agreed.area_m2
    return record.crop if area is None else f"{record.crop}, {units.hectares(area)} ha"


def _agreed_dates(agreed: Agreed) -> str:
    if agreed.on and agreed.off:
        return span(agreed.on, agreed.off)
    if agreed.on:
        return f"on by {long(agreed.on)}"
    return f"off by {long(agreed.off)}" if agreed.off else ""


def least_strength(agreed: Agreed) -> str:
    """In words: "8 frames of bees, 5 of brood (British Standard deep)"."""
    parts = []
    if agreed.bees_tenths is not None:
        parts.append(f"{units.frames(agreed.bees_tenths)} frames of bees")
    if agreed.brood_tenths is not None:
        frames = "of brood" if parts else "frames of brood"
        parts.append(f"{units.frames(agreed.brood_tenths)} {frames}")
    words = ", ".join(parts)
    return f"{words} ({agreed.frame})" if words and agreed.frame else words


def _summary(record: MovementReport) -> list[Flowable]:
    short_by = record.agreed.hives - record.hives_delivered
    figures = [
        (f"{record.agreed.hives:,}", "hives", "promised"),
        (f"{record.hives_delivered:,}", "hives", "stood on the crop"),
        (f"{record.hive_days:,}", "hive-days", "on the crop"),
        (f"{sum(1 for stay in record.stays if stay.shortfall):,}", "hives", "with a shortfall"),
        (units.money(record.owed_pence), "", "owed"),
    ]
    verdict = f"{counted(short_by, 'hive')} fewer than promised" if short_by > 0 else ""
    parts: list[Flowable] = [
        *section("In short"),
        KeyFigures(figures, verdict=verdict, mark="due" if verdict else ""),
    ]
    if record.counts:
        counts = [(count.on, count.hives) for count in record.counts]
        parts.append(HivesByDay(counts, record.first, record.last, record.agreed.hives))
    return parts


def _stays(record: MovementReport) -> list[Flowable]:
    columns = [
        Column("Hive", 17, face="SemiBold"),
        Column("Came from", 28),
        Column("On", day_mm(), align="right"),
        Column("Off", day_mm(), align="right"),
        Column("Days", 12, align="right", group_end=True),
        Column("Bees", 13, unit="frames", align="right"),
        Column("Brood", 13, unit="frames", align="right"),
        Column("Checked", max(day_mm(), 17), align="right", group_end=True),
        Column("Shortfall"),
    ]
    rows = [_stay_row(stay) for stay in record.stays]
    lines = len(record.stays)
    sums = [
        counted(record.hives_delivered, "hive"), "" if lines == record.hives_delivered else counted(lines, "stay"),
        "", "", f"{record.hive_days:,}", "", "", "", "",
    ]  # fmt: skip
    return [
        *section(
            "Hives on the crop",
            f"{counted(record.hives_delivered, 'hive')}, {counted(record.hive_days, 'hive-day')}",
        ),
        Ledger(columns, rows, sums=sums, empty="No hive stood on the crop in this period"),
        Lines(record.day_convention),
    ]


def _stay_row(stay: Stay) -> list[str | Cell]:
    return [
        stay.hive,
        stay.came_from,
        short(stay.on),
        short(stay.off) if stay.off else "",
        f"{stay.days:,}",
        _frames(stay.bees_tenths),
        _frames(stay.brood_tenths),
        short(stay.checked) if stay.checked else "",
        Cell(stay.shortfall, ink="watch", mark="due") if stay.shortfall else "",
    ]


def _frames(tenths: int | None) -> str:
    return "" if tenths is None else units.scaled(tenths, 10, 1)


def _strength(checks: tuple[StrengthResult, ...]) -> list[Flowable]:
    if not checks:
        return []
    columns = [
        Column("Checked", long_day_mm()),
        Column("By", 33),
        Column("Hives", 15, unit="counted", align="right"),
        Column("Mean bees", 18, unit="frames", align="right"),
        Column("Least bees", 18, unit="frames", align="right"),
        Column("Mean brood", 19, unit="frames", align="right"),
        Column("Below", 12, unit="hives", align="right", group_end=True),
        Column("How chosen"),
    ]
    rows = [
        [
            long(check.on), check.by, f"{check.counted:,} of {check.of:,}", _frames(check.mean_bees_tenths),
            _frames(check.least_bees_tenths), _frames(check.mean_brood_tenths),
            "" if check.below is None else f"{check.below:,}", check.how,
        ]
        for check in checks
    ]  # fmt: skip
    return [*section("Strength when checked"), Ledger(columns, rows)]


def _owed(record: MovementReport) -> list[Flowable]:
    columns = [
        Column("What", 40, face="Medium"),
        Column("Why"),
        Column("Quantity", 26, align="right"),
        Column("Price", 18, align="right"),
        Column("Tax", 10),
        Column("Sum", 23, align="right", face="SemiBold"),
    ]
    rows = [_owed_row(line) for line in record.owed]
    sums = ["Owed", "", "", "", "", units.money(record.owed_pence)]
    return [
        *section("What is owed", units.money(record.owed_pence), room=room_for(len(rows))),
        Ledger(columns, rows, sums=sums, empty="Nothing is owed"),
    ]


def _owed_row(line: OwedLine) -> list[str | Cell]:
    quantity = "" if line.quantity is None else f"{units.signed_text(line.quantity)} {line.unit}".strip()
    price = "" if line.price_pence is None else units.money(line.price_pence)
    return [line.what, line.why, quantity, price, line.tax_code, units.money(line.sum_pence)]


def _said(title: str, summary: str, notes: tuple[Note, ...]) -> list[Flowable]:
    if not notes:
        return []
    return [*section(title, summary), *said(notes)]


def render_workbook(record: MovementReport, farm: Farm, made: Made) -> bytes:
    """The report as a workbook: hives, what is owed, what was agreed."""
    book = Book(heading(record), farm, made)
    _hives_sheet(book, record)
    _owed_sheet(book, record)
    facts = [*_facts(record), ("Site", record.site), ("Grid reference", record.grid)]
    facts += [(check.on.isoformat(), _check_words(check)) for check in record.strength]
    facts += [(note.on or "Note", note.words) for note in (*record.health, *record.notes)]
    rows = [(name, value) for name, value in facts if value]
    book.sheet("Contract", [Field("Fact", wide=18), Field("Value", wide=70)], rows, wide=False)
    return book.save()


def _hives_sheet(book: Book, record: MovementReport) -> None:
    fields = [
        Field("Hive", wide=10),
        Field("Came from", wide=22),
        Field("On", "day"),
        Field("Off", "day"),
        Field("Days", "count", 8),
        Field("Bees, frames", "tenths", 10),
        Field("Brood, frames", "tenths", 10),
        Field("Checked", "day"),
        Field("Went to", wide=22),
        Field("Shortfall", wide=34),
    ]
    rows = [
        (
            stay.hive, stay.came_from, stay.on, stay.off, stay.days, stay.bees_tenths, stay.brood_tenths,
            stay.checked, stay.went_to, stay.shortfall,
        )
        for stay in record.stays
    ]  # fmt: skip
    sums = (
        counted(record.hives_delivered, "hive"),
        "",
        None,
        None,
        record.hive_days,
        None,
        None,
        None,
        "",
        "",
    )
    book.sheet("Hives", fields, rows, sums=sums)


def _owed_sheet(book: Book, record: MovementReport) -> None:
    fields = [
        Field("What", wide=30),
        Field("Why", wide=44),
        Field("Quantity", "count", 10),
        Field("Unit", wide=12),
        Field("Price", "money", 12),
        Field("Tax", wide=8),
        Field("Sum", "money", 14),
    ]
    rows = [
        (line.what, line.why, line.quantity, line.unit, line.price_pence, line.tax_code, line.sum_pence)
        for line in record.owed
    ]
    book.sheet("Owed", fields, rows, sums=("Owed", "", None, "", None, "", record.owed_pence))


def _check_words(check: StrengthResult) -> str:
    words = f"strength: {check.counted} of {check.of} hives counted by {check.by}"
    if check.mean_bees_tenths is not None:
        words += f", mean {_frames(check.mean_bees_tenths)} frames of bees"
    if check.below is not None:
        words += f", {check.below} below"
    return words
