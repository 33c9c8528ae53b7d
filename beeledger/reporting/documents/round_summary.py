"""What was posted of a round: every hive, the sums, and what was found."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base import units
from beeledger.base.dates import long, short
from beeledger.base.findings import Grade
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.round_summary import RoundFinding, RoundSummary, SummaryLine
from beeledger.reporting.look.figures import Facts, KeyFigures, said, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, day_mm
from beeledger.reporting.look.workbook import Book, Field

KEY = "round-summary"
TITLE = "Round as posted"
_MARKS = {Grade.REFUSED: "refused", Grade.AGAINST: "against", Grade.DOUBTFUL: "odd", Grade.NOTED: "advice"}


def heading(record: RoundSummary) -> Heading:
    """What stands at the head."""
    act = "" if record.act is None else f"act {record.act:,}"
    return Heading(KEY, TITLE, record.site, long(record.day), act)


def render_pdf(record: RoundSummary, farm: Farm, made: Made) -> bytes:
    """The summary as PDF, A4 across."""
    story: list[Flowable] = [
        Facts(_facts(record)),
        KeyFigures([(figure, unit, name) for name, figure, unit in record.sums]),
        Ledger(_columns(), [_row(line) for line in record.lines], empty="No hive was posted"),
        *_findings(record.findings),
    ]
    if record.waiting:
        story += section("Still in the draft", counted(len(record.waiting), "line"))
        story += said(record.waiting)
    return build(heading(record), farm, made, story, LANDSCAPE)


def _facts(record: RoundSummary) -> list[tuple[str, str]]:
    return [
        ("Visit", _visit(record)),
        ("Crew", record.crew),
        ("Weather", record.weather),
        ("Posted by", record.posted_by),
        ("Whole site", "; ".join(record.whole_site)),
    ]


def _visit(record: RoundSummary) -> str:
    if record.begun and record.ended:
        return f"{record.begun:%H:%M} to {record.ended:%H:%M}"
    return f"from {record.begun:%H:%M}" if record.begun else ""


def _columns() -> list[Column]:
    return [
        Column("Hive", 17, face="SemiBold"),
        Column("Outcome", 22),
        Column("Queen", 33),
        Column("Eggs", 12, group_end=True),
        Column("Brood", 14, unit="frames", align="right"),
        Column("Bees", 14, unit="frames", align="right"),
        Column("Stores", 15, align="right"),
        Column("Temper", 15, unit="1–5", align="right", group_end=True),
        Column("Cells", 19),
        Column("Supers", 15, align="right", group_end=True),
        Column("Feed", 18, align="right"),
        Column("Strips", 15),
        Column("Mites", 17, align="right", group_end=True),
        Column("Again", day_mm(), align="right", group_end=True),
        Column("Note"),
    ]


def _row(line: SummaryLine) -> list[str | Cell]:
    dead = line.outcome.startswith("dead")
    return [
        line.hive,
        Cell(line.outcome, ink="now" if dead else "ink2"),
        line.queen,
        line.eggs,
        _frames(line.brood_tenths),
        _frames(line.bees_tenths),
        line.stores,
        "" if line.temper is None else str(line.temper),
        line.cells,
        supers(line.supers),
        line.feed,
        line.strips,
        line.mites,
        short(line.again) if line.again else "",
        line.note,
    ]


def _frames(tenths: int | None) -> str:
    return "" if tenths is None else units.frames(tenths)


def supers(change: int | None) -> str:
    """Supers put on (+) or taken off (−), with a true minus; blank when nobody said."""
    if not change:
        return "" if change is None else "0"
    return f"+{change}" if change > 0 else units.signed_text(change)


def _findings(findings: tuple[RoundFinding, ...]) -> list[Flowable]:
    if not findings:
        return []
    columns = [Column("Hive", 20, face="SemiBold"), Column("Found", 150), Column("Settled")]
    rows: list[list[str | Cell]] = [
        [each.hive, Cell(each.what, mark=_MARKS[Grade(each.grade)]), each.settled] for each in findings
    ]
    return [*section("Findings", counted(len(findings), "finding")), Ledger(columns, rows)]


def render_workbook(record: RoundSummary, farm: Farm, made: Made) -> bytes:
    """The summary as a workbook: hives, findings, sums."""
    book = Book(heading(record), farm, made)
    fields = [
        Field("Hive", wide=10), Field("Outcome", wide=18), Field("Queen", wide=16), Field("Eggs", wide=8),
        Field("Brood, frames", "tenths", 9), Field("Bees, frames", "tenths", 9), Field("Stores", wide=10),
        Field("Temper, 1–5", "count", 9), Field("Cells", wide=14), Field("Supers", "count", 8),
        Field("Feed", wide=12), Field("Strips", wide=9), Field("Mites", wide=12), Field("Again", "day"),
        Field("Note", wide=40),
    ]  # fmt: skip
    rows = [
        (
            line.hive, line.outcome, line.queen, line.eggs, line.brood_tenths, line.bees_tenths, line.stores,
            line.temper, line.cells, line.supers, line.feed, line.strips, line.mites, line.again, line.note,
        )
        for line in record.lines
    ]  # fmt: skip
    book.sheet("Hives", fields, rows)
    found = [
        Field("Hive", wide=10),
        Field("Grade", wide=12),
        Field("Found", wide=60),
        Field("Settled", wide=40),
    ]
    book.sheet(
        "Findings", found, [(each.hive, each.grade, each.what, each.settled) for each in record.findings]
    )
    book.sheet(
        "Sums",
        [Field("What", wide=24), Field("Figure", wide=18), Field("Unit", wide=12)],
        record.sums,
        wide=False,
    )
    return book.save()
