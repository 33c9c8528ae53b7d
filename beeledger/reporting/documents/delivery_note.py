"""The delivery note: who sends which lots of honey to whom, on which day, with room to sign for them."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base import units
from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.records.delivery_note import DeliveryNote
from beeledger.queries.records.dispatch_desk import SentLine
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.drawing.signatures import SIGNED_ROOM, Signatures
from beeledger.reporting.look.figures import Facts, section
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row, long_day_mm
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field
from beeledger.rules.labels import infant_caution

KEY = "delivery-note"
TITLE = "Delivery note"
_KEEP = (
    "Keep this paper: by the lot marks each jar leads back to its hives, and a recall finds those who got it "
    "(Regulation (EC) 178/2002 art. 18)."
)


def heading(record: DeliveryNote) -> Heading:
    """What stands at the head."""
    return Heading(KEY, TITLE, record.receiver, f"Sent {long(record.on)}", record.reference)


def render_pdf(record: DeliveryNote, farm: Farm, made: Made) -> bytes:
    """The note as PDF."""
    story: list[Flowable] = [
        Facts(_facts(record, farm)),
        _table(record),
        Lines(f"{infant_caution()} {_KEEP}", below=10),
    ]
    if record.note:
        story += [*section("Note"), Lines(record.note)]
    story += [
        *section("Signed", room=SIGNED_ROOM),
        Signatures(["the sender", "the receiver"], "Received complete and whole, as written above."),
    ]
    return build(heading(record), farm, made, story)


def _facts(record: DeliveryNote, farm: Farm) -> list[tuple[str, str]]:
    return [
        ("From", ", ".join((farm.name, *farm.address))),
        ("To", ", ".join(part for part in (record.receiver, record.contact.person) if part)),
        ("Address", record.contact.address),
        ("Telephone", record.contact.phone),
        ("Dispatch", f"{record.number}, {record.way}"),
        ("Paper", record.reference),
    ]


def _table(record: DeliveryNote) -> Ledger:
    columns = [
        Column("Lot mark", 32, face="SemiBold"),
        Column("What"),
        Column("Jar", 18, unit="g", align="right"),
        Column("Jars", 18, align="right"),
        Column("Net weight", 24, unit="kg", align="right"),
        Column("Best before", long_day_mm()),
    ]
    rows: list[Row] = [_row(line) for line in record.lines]
    jars = f"{record.jars:,}" if record.jars else ""
    sums = [counted(len(record.lines), "lot"), "", "", jars, units.kilograms(record.grams, 3), ""]
    return Ledger(columns, rows, sums=sums)


def _row(line: SentLine) -> list[str]:
    mark = f"L {line.lot_mark}" if line.jar_g is not None else line.lot_mark
    return [
        mark, line.product, "" if line.jar_g is None else f"{line.jar_g:,}",
        "" if line.jars is None else f"{line.jars:,}", units.kilograms(line.grams, 3),
        long(line.best_before) if line.best_before else "",
    ]  # fmt: skip


def render_workbook(record: DeliveryNote, farm: Farm, made: Made) -> bytes:
    """The note as a workbook."""
    book = Book(heading(record), farm, made)
    fields = [
        Field("Lot mark", wide=18), Field("What", wide=26), Field("Jar, g", "count", 9), Field("Jars", "count", 9),
        Field("Net weight, kg", "kilograms", 14), Field("Best before", "day"),
    ]  # fmt: skip
    rows = [
        (line.lot_mark, line.product, line.jar_g, line.jars, line.grams, line.best_before)
        for line in record.lines
    ]
    sums = ("All", "", None, record.jars, record.grams, None)
    book.sheet("Lots", fields, rows, sums=sums, wide=False)
    facts = [(name, words) for name, words in _facts(record, farm) if words]
    if record.note:
        facts.append(("Note", record.note))
    book.sheet("Receiver", [Field("What", wide=14), Field("Words", wide=60)], facts, wide=False)
    return book.save()
