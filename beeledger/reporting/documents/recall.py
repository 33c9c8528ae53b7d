"""The recall paper: where each jar of a lot mark is, whom to reach and how, and what stands behind the honey."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from reportlab.platypus import Flowable

from beeledger.base import units
from beeledger.base.dates import long, span
from beeledger.base.text import counted
from beeledger.queries.records.batch_record import Source
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.recall import Buyer, Delivery, HiveBehind, Recall
from beeledger.reporting.look.figures import Facts, KeyFigures, room_for, section
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, Row, long_day_mm
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field

KEY = "recall-paper"
TITLE = "Recall"
DUTY = (
    "Who has reason to think that honey is not safe takes it off sale, tells the authority, and where it may have "
    "reached people tells them why (Regulation (EC) 178/2002 arts 18 and 19). What is to be done is for the "
    "authority and the law of the place to say."
)


def heading(record: Recall) -> Heading:
    """What stands at the head."""
    side = f"{record.product}, {record.jar_g:,} g"
    return Heading(KEY, TITLE, f"L {record.lot_mark}", f"Jarred {long(record.jarred_on)}", side)


def render_pdf(record: Recall, farm: Farm, made: Made) -> bytes:
    """The recall as PDF: where the jars are, the letter list, then the way back."""
    story: list[Flowable] = [
        Facts(_facts(record)), *_whereabouts(record), Lines(DUTY, below=6), *_letters(record), *_deliveries(record),
        *_sources(record.sources), *_hives(record.hives), *_related(record),
    ]  # fmt: skip
    return build(heading(record), farm, made, story)


def _facts(record: Recall) -> list[tuple[str, str]]:
    return [
        ("Jars filled", f"{record.jars:,} of {record.jar_g:,} g"),
        ("Best before", long(record.best_before)),
        ("Held", record.hold),
    ]


def balance_words(record: Recall) -> str:
    """Whether every jar and gram is somewhere, or by how much not."""
    jars, grams = record.difference
    if not jars and not grams:
        return "Every jar and every gram that was packed is accounted for"
    return f"Not accounted for: {units.signed_text(jars)} jars, {units.kilograms(grams, 3)} kg"


def _whereabouts(record: Recall) -> list[Flowable]:
    columns = [
        Column("Where", 40, face="Medium"),
        Column("Detail"),
        Column("Jars", 22, align="right", face="SemiBold"),
        Column("Weight", 26, unit="kg", align="right"),
    ]
    rows: list[Row] = [
        [part.what.capitalize(), part.detail, f"{part.jars:,}", units.kilograms(part.grams, 3)]
        for part in record.parts
    ]
    sums = [
        "Packed", "", f"{sum(part.jars for part in record.parts):,}",
        units.kilograms(sum(part.grams for part in record.parts), 3),
    ]  # fmt: skip
    mark = "late" if any(record.difference) else "met"
    table = Ledger(columns, rows, sums=sums, empty="Nothing is known of any jar")
    room = room_for(len(rows))
    return [*section("Where the jars are", room=room), table, KeyFigures([], [], balance_words(record), mark)]


def _letters(record: Recall) -> list[Flowable]:
    out = record.part("with buyers")
    columns = [
        Column("Who got them", 36, face="Medium"),
        Column("How to reach them"),
        Column("Days", 32),
        Column("Sent", 14, align="right"),
        Column("Back", 12, align="right"),
        Column("Out", 14, align="right", face="SemiBold"),
        Column("Told on", 16),
    ]
    rows: list[Row] = [_letter(buyer) for buyer in record.buyers]
    sent, back = (sum(getattr(buyer, what) for buyer in record.buyers) for what in ("jars", "back"))
    sums = [
        counted(len(rows), "receiver"), "", "", f"{sent:,}", f"{back:,}" if back else "", f"{out.jars:,}", "",
    ]  # fmt: skip
    table = Ledger(columns, rows, sums=sums if rows else None, empty="No jar has left the farm")
    return [*section("Letter list", f"{counted(out.jars, 'jar')} out", room_for(len(rows))), table]


def _letter(buyer: Buyer) -> list[str | Cell]:
    reach = " · ".join(buyer.contact.lines())
    if not reach:
        words = "no address is known" if buyer.named else "a notice where they were sold"
        return [buyer.name, Cell(words, mark="late", ink="now"), *_counts(buyer)]
    return [buyer.name, reach, *_counts(buyer)]


def _counts(buyer: Buyer) -> list[str]:
    return [
        span(*buyer.days),
        f"{buyer.jars:,}",
        f"{buyer.back:,}" if buyer.back else "",
        f"{buyer.out:,}",
        "",
    ]


def _deliveries(record: Recall) -> list[Flowable]:
    lines = [(buyer, each) for buyer in record.buyers for each in buyer.deliveries]
    if not lines:
        return []
    columns = [
        Column("Sent", long_day_mm()),
        Column("To", face="Medium"),
        Column("How", 30),
        Column("Paper", 28),
        Column("Jars", 20, align="right"),
        Column("Back", 13, align="right"),
        Column("Weight out", 26, unit="kg", align="right"),
    ]
    rows: list[Row] = [_delivery(buyer, each) for buyer, each in lines]
    reckoned = sum(not each.counted for _, each in lines)
    summary = f"jars reckoned by weight in {counted(reckoned, 'line')}" if reckoned else ""
    return [*section("Dispatches", summary, room_for(len(rows))), Ledger(columns, rows)]


def _delivery(buyer: Buyer, each: Delivery) -> list[str]:
    about = "" if each.counted else "about "
    return [
        long(each.on), buyer.name, each.way, each.reference, f"{about}{each.jars:,}",
        f"{each.back:,}" if each.back else "", units.kilograms(each.grams - each.back_g, 3),
    ]  # fmt: skip


def _sources(sources: tuple[Source, ...]) -> list[Flowable]:
    columns = [
        Column("Source", 48, face="Medium"),
        Column("Through"),
        Column("Taken", long_day_mm()),
        Column("Country", 34),
        Column("Share", 18, unit="%", align="right", face="SemiBold"),
    ]
    rows: list[Row] = [
        [
            each.name, each.through, long(each.taken) if each.taken else "", each.country,
            units.per_cent(each.share_hundredths, 2),
        ]
        for each in sources
    ]  # fmt: skip
    return [*section("Where the honey came from", room=room_for(len(rows))), Ledger(columns, rows)]


def _hives(hives: tuple[HiveBehind, ...]) -> list[Flowable]:
    if not hives:
        return []
    columns = [
        Column("Site", 30, face="Medium"),
        Column("Taken", long_day_mm()),
        Column("Supers", 15, align="right"),
        Column("Hives", 32),
        Column("Given in the year before"),
    ]
    rows: list[Row] = [
        [site, long(on), f"{sum(each.supers for each in group):,}", _marks(group), given]
        for (site, on, given), group in alike(hives).items()
    ]
    named = sum(bool(each.mark) for each in hives)
    head = section("Hives behind it", counted(named, "hive") if named else "", room_for(len(rows)))
    return [*head, Ledger(columns, rows)]


def alike(hives: Sequence[HiveBehind]) -> dict[tuple[str, date, str], list[HiveBehind]]:
    """Hives of one site and take to which the same was given, in the order in which they first stand."""
    found: dict[tuple[str, date, str], list[HiveBehind]] = {}
    for each in hives:
        found.setdefault((each.site, each.taken_on, _given(each)), []).append(each)
    return found


def _marks(group: Sequence[HiveBehind]) -> str:
    return ", ".join(each.mark for each in group if each.mark) or "the whole site"


def _given(hive: HiveBehind) -> str:
    taken = f"taken for a reason: {hive.reason}" if hive.reason else ""
    return "; ".join(part for part in (*hive.treatments, *hive.feeds, taken) if part)


def _related(record: Recall) -> list[Flowable]:
    if not record.related:
        return []
    columns = [
        Column("Lot mark", 36, face="SemiBold"),
        Column("Product"),
        Column("Jarred", long_day_mm()),
        Column("Jars", 20, align="right"),
    ]
    rows: list[Row] = [
        [f"L {each.lot_mark}", each.product, long(each.jarred_on), f"{each.jars:,}"]
        for each in record.related
    ]
    words = "whether they are recalled too is to be decided"
    return [
        *section("Other marks with some of the same honey", words, room_for(len(rows))),
        Ledger(columns, rows),
    ]


def render_workbook(record: Recall, farm: Farm, made: Made) -> bytes:
    """The recall as a workbook: the letter list first, then dispatches, whereabouts, sources and hives."""
    book = Book(heading(record), farm, made)
    _letter_sheet(book, record)
    _dispatch_sheet(book, record)
    parts = [(part.what, part.detail, part.jars, part.grams) for part in record.parts]
    sums = ("Packed", "", record.jars, record.jars_g)
    fields = [Field("Where", wide=18), Field("Detail", wide=44), Field("Jars", "count", 9), Field("Weight, kg", "kilograms", 12)]  # fmt: skip
    book.sheet("Where the jars are", fields, parts, sums=sums)
    _way_sheets(book, record)
    return book.save()


def _letter_sheet(book: Book, record: Recall) -> None:
    fields = [
        Field("Customer", wide=26), Field("Person", wide=20), Field("Address", wide=40), Field("Telephone", wide=16),
        Field("E-mail", wide=26), Field("First", "day"), Field("Last", "day"), Field("Papers", wide=20),
        Field("Sent", "count", 8), Field("Back", "count", 8), Field("Out", "count", 8),
    ]  # fmt: skip
    rows = [
        (
            buyer.name, buyer.contact.person, buyer.contact.address, buyer.contact.phone, buyer.contact.email,
            *buyer.days, ", ".join(each.reference for each in buyer.deliveries if each.reference),
            buyer.jars, buyer.back, buyer.out,
        )
        for buyer in record.buyers
    ]  # fmt: skip
    totals = [sum(getattr(buyer, what) for buyer in record.buyers) for what in ("jars", "back", "out")]
    book.sheet("Letters", fields, rows, sums=("All", "", "", "", "", None, None, "", *totals))


def _dispatch_sheet(book: Book, record: Recall) -> None:
    fields = [
        Field("Sent", "day"), Field("To", wide=26), Field("How", wide=18), Field("Paper", wide=16),
        Field("Jars", "count", 8), Field("Back", "count", 8), Field("Weight out, kg", "kilograms", 14),
        Field("Jars counted", wide=12),
    ]  # fmt: skip
    rows = [
        (
            each.on, buyer.name, each.way, each.reference, each.jars, each.back, each.grams - each.back_g,
            "counted" if each.counted else "reckoned",
        )
        for buyer in record.buyers
        for each in buyer.deliveries
    ]  # fmt: skip
    book.sheet("Dispatches", fields, rows)


def _way_sheets(book: Book, record: Recall) -> None:
    fields = [
        Field("Source", wide=26), Field("Through", wide=20), Field("Taken", "day"), Field("Country", wide=18),
        Field("Share", "share", 10),
    ]  # fmt: skip
    rows = [
        (each.name, each.through, each.taken, each.country, each.share_hundredths) for each in record.sources
    ]
    book.sheet("Sources", fields, rows)
    fields = [
        Field("Site", wide=24), Field("Hive", wide=12), Field("Taken", "day"), Field("Supers", "count", 9),
        Field("Given in the year before", wide=60),
    ]  # fmt: skip
    hives = [(each.site, each.mark, each.taken_on, each.supers, _given(each)) for each in record.hives]
    book.sheet("Hives", fields, hives)
    marks = [(each.lot_mark, each.product, each.jarred_on, each.jars) for each in record.related]
    fields = [
        Field("Lot mark", wide=18),
        Field("Product", wide=26),
        Field("Jarred", "day"),
        Field("Jars", "count", 9),
    ]
    book.sheet("Other marks", fields, marks)
