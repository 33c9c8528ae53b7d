"""The record of one jarring: sources by share, readings, weights, label, jars, balance, signatures."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base import units
from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.records.batch_record import (
    BatchReading,
    BatchRecord,
    JarCount,
    ParticularLine,
    Source,
    WeighingCheck,
)
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.drawing.charts import ShareBar, Threshold, WeightDots, series_ink
from beeledger.reporting.drawing.signatures import SIGNED_ROOM, Signatures
from beeledger.reporting.look.figures import Facts, KeyFigures, room_for, said, section
from beeledger.reporting.look.ink import Ink
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, Row, long_day_mm
from beeledger.reporting.look.workbook import Book, Field

KEY = "batch-record"
TITLE = "Batch record"


def heading(record: BatchRecord) -> Heading:
    """What stands at the head."""
    period = f"Jarred {long(record.jarred)}"
    return Heading(KEY, TITLE, record.lot, period, f"{record.product}, {record.nominal_g:,} g")


def render_pdf(record: BatchRecord, farm: Farm, made: Made) -> bytes:
    """The record as PDF."""
    story: list[Flowable] = [
        Facts(_facts(record)),
        *_balance(record),
        *_counts(record.counts),
        *_sources(record.sources),
        *_readings(record.readings),
        *_told(record),
        *_weighing(record.weighing),
        *_particulars(record.particulars),
    ]
    story += [
        *section("Signed", room=SIGNED_ROOM),
        Signatures(["the honey room", "the business"], "Weighed, read and jarred as written above."),
    ]
    return build(heading(record), farm, made, story)


def _told(record: BatchRecord) -> list[Flowable]:
    """Where it went, and the notes."""
    story: list[Flowable] = []
    if record.dispatched:
        story += [*section("Where it went", counted(len(record.dispatched), "dispatch", "dispatches"))]
        story += said(record.dispatched)
    if record.notes:
        story += [*section("Notes", room=60), *said(record.notes)]
    return story


def _facts(record: BatchRecord) -> list[tuple[str, str]]:
    return [
        ("Jars", f"{record.jars:,} of {record.nominal_g:,} g"),
        ("Best before", record.best_before),
        ("Filling line", record.line),
        ("Jarred by", record.by),
    ]


def _balance(record: BatchRecord) -> list[Flowable]:
    figures = [(units.kilograms(record.in_g, 3), "kg", "went in")]
    figures += [
        (units.kilograms(part.grams, 3), "kg", f"{part.what}  {part.detail}") for part in record.parts
    ]
    signs = ["", *("=" if index == 0 else "+" for index in range(len(record.parts)))]
    words, mark = balance_words(record.difference_g), "late" if record.difference_g else "met"
    return [*section("Balance"), KeyFigures(figures, signs, words, mark)]


def balance_words(difference_g: int) -> str:
    """Whether in equals out and left, or by how much not."""
    if difference_g == 0:
        return "Balances to the gram"
    kilograms = units.kilograms(abs(difference_g), 3)
    if difference_g > 0:
        return f"Does not balance: {kilograms} kg of what went in is not accounted for"
    return f"Does not balance: {kilograms} kg more is accounted for than went in"


def _sources(sources: tuple[Source, ...]) -> list[Flowable]:
    if not sources:
        return []
    columns = [
        Column("", 7),
        Column("Source", 38, face="Medium"),
        Column("Through", 24),
        Column("Taken", long_day_mm()),
        Column("Country"),
        Column("Moisture", 18, unit="%", align="right"),
        Column("Weight", 19, unit="kg", align="right"),
        Column("Share", 15, unit="%", align="right", face="SemiBold"),
    ]
    rows: list[Row] = [_source_row(index, source) for index, source in enumerate(sources)]
    total = sum(source.grams for source in sources)
    share = sum(source.share_hundredths for source in sources)
    sums = [
        "",
        counted(len(sources), "source"),
        "",
        "",
        "",
        "",
        units.kilograms(total, 3),
        units.per_cent(share, 2),
    ]
    bar = ShareBar([source.share_hundredths for source in sources])
    return [*section("Where the honey came from", room=120), bar, Ledger(columns, rows, sums=sums)]


def _source_row(index: int, source: Source) -> list[str | Cell]:
    moisture = source.moisture_hundredths
    colour: Ink = series_ink(index)
    return [
        Cell("", ink=colour, mark="swatch"),
        source.name,
        source.through,
        long(source.taken) if source.taken else "",
        source.country,
        "" if moisture is None else units.per_cent(moisture),
        units.kilograms(source.grams, 3),
        units.per_cent(source.share_hundredths, 2),
    ]


def _readings(readings: tuple[BatchReading, ...]) -> list[Flowable]:
    if not readings:
        return []
    columns = [
        Column("Reading", 27, face="Medium"),
        Column("Found", 26, align="right", face="SemiBold"),
        Column("Limit", 34),
        Column("Judged", 23),
        Column("On", long_day_mm()),
        Column("How"),
    ]
    rows: list[Row] = [
        [
            each.what, each.value, each.limit, _judged(each.met), long(each.on) if each.on else "", each.source,
        ]
        for each in readings
    ]  # fmt: skip
    outside = sum(1 for each in readings if each.met is False)
    summary = f"{counted(outside, 'reading')} outside the limit" if outside else ""
    return [*section("Readings", summary, room_for(len(rows))), Ledger(columns, rows)]


def _judged(met: bool | None) -> str | Cell:  # noqa: FBT001  # the record's own three answers
    if met is None:
        return ""
    return Cell("within", mark="met") if met else Cell("outside", ink="now", mark="late")


def _weighing(check: WeighingCheck | None) -> list[Flowable]:
    if check is None or not check.net_tenths:
        return []
    mean = (check.mean_tenths or 0) / 10
    limits = [
        Threshold(mean, f"mean {mean:.1f} g", "c1"),
        Threshold(check.nominal_g, f"{check.nominal_g:,} g nominal", "ink", dashed=False),
        Threshold(
            check.t1_tenths / 10, f"{units.scaled(check.t1_tenths, 10)} g, {_short(check)} short", "now"
        ),
    ]
    if min(check.net_tenths) < check.t1_tenths:
        limits.append(
            Threshold(check.t2_tenths / 10, f"{units.scaled(check.t2_tenths, 10)} g, not to be sold", "now")
        )
    summary = ", ".join(
        part for part in (counted(len(check.net_tenths), "jar"), check.tare, check.source) if part
    )
    plot = WeightDots([tenths / 10 for tenths in check.net_tenths], limits, check.t1_tenths / 10)
    return [
        *section("Weighing check", summary, room=160 + 16 * len(check.verdicts)),
        plot,
        *said(check.verdicts),
    ]


def _short(check: WeighingCheck) -> str:
    """How far the limit lies below the nominal weight: "3 %"."""
    hundredths = (check.nominal_g * 10 - check.t1_tenths) * 1000 // check.nominal_g
    return f"{units.per_cent(hundredths, 0 if hundredths % 100 == 0 else 1)} %"


def _particulars(lines: tuple[ParticularLine, ...]) -> list[Flowable]:
    if not lines:
        return []
    columns = [
        Column("Particular", 37, face="Medium"),
        Column("As printed"),
        Column("Asked for in", 76, ink="ink2"),
    ]
    rows: list[Row] = [
        [
            Cell(line.what, mark=_particular_mark(line.met), ink="now" if line.met is False else "ink"),
            line.words,
            line.source,
        ]
        for line in lines
    ]
    failing = sum(1 for line in lines if line.met is False)
    met = sum(1 for line in lines if line.met)
    summary = f"{met} met, {failing} to mend" if failing else f"{met} met"
    return [*section("What the label says", summary, room_for(len(rows))), Ledger(columns, rows)]


def _particular_mark(met: bool | None) -> str:  # noqa: FBT001  # the record's own three answers
    return "advice" if met is None else "met" if met else "late"


def _counts(counts: tuple[JarCount, ...]) -> list[Flowable]:
    if not counts:
        return []
    columns = [
        Column("What"),
        Column("Made", 26, align="right"),
        Column("Used", 26, align="right"),
        Column("Spoiled", 26, align="right"),
        Column("Left", 26, align="right"),
    ]
    rows: list[Row] = [
        [each.what, f"{each.made:,}", f"{each.used:,}", f"{each.spoiled:,}", _left(each)] for each in counts
    ]
    return [*section("Jars and labels", room=room_for(len(rows))), Ledger(columns, rows)]


def _left(count: JarCount) -> str | Cell:
    agrees = count.made == count.used + count.spoiled + count.left
    return f"{count.left:,}" if agrees else Cell(f"{count.left:,}", ink="now", face="SemiBold")


def render_workbook(record: BatchRecord, farm: Farm, made: Made) -> bytes:
    """The record as a workbook: sources, balance, readings, weights, label."""
    book = Book(heading(record), farm, made)
    fields = [
        Field("Source", wide=26), Field("Through", wide=18), Field("Taken", "day"), Field("Country", wide=18),
        Field("Moisture", "share", 10), Field("Weight, kg", "kilograms", 12), Field("Share", "share", 10),
    ]  # fmt: skip
    rows = [
        (
            each.name,
            each.through,
            each.taken,
            each.country,
            each.moisture_hundredths,
            each.grams,
            each.share_hundredths,
        )
        for each in record.sources
    ]
    total = sum(each.grams for each in record.sources)
    share = sum(each.share_hundredths for each in record.sources)
    book.sheet("Sources", fields, rows, sums=("All", "", None, "", None, total, share))
    parts = [("Went in", record.in_g, ""), *((part.what, part.grams, part.detail) for part in record.parts)]
    balance = [Field("What", wide=24), Field("Weight, kg", "kilograms", 14), Field("Detail", wide=34)]
    book.sheet("Balance", balance, parts, sums=("Not accounted for", record.difference_g, ""), wide=False)
    _checks(book, record)
    return book.save()


def _checks(book: Book, record: BatchRecord) -> None:
    judged = {True: "within", False: "outside the limit", None: ""}
    fields = [Field("Reading", wide=20), Field("Found", wide=14), Field("Limit", wide=18), Field("Judged", wide=16), Field("On", "day"), Field("How", wide=36)]  # fmt: skip
    readings = [(e.what, e.value, e.limit, judged[e.met], e.on, e.source) for e in record.readings]
    book.sheet("Readings", fields, readings)
    if record.weighing:
        weights = list(enumerate(record.weighing.net_tenths, start=1))
        book.sheet("Weights", [Field("Jar", "count", 8), Field("Net, g", "tenths", 12)], weights, wide=False)
    stands = {True: "met", False: "to mend", None: "advice"}
    label = [(line.what, stands[line.met], line.words, line.source) for line in record.particulars]
    book.sheet(
        "Label", [Field("Particular", wide=22), Field("Stands", wide=10), Field("Words", wide=48), Field("Asked for in", wide=40)], label
    )  # fmt: skip
