"""Contacts and movements of a site: what may have been reached and how, whom to call, what stood, came and went."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base.dates import long, span
from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.queries.records.contacts import ContactTrace
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.look.figures import room_for, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row, long_day_mm
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field

KEY = "contacts"
TITLE = "Contacts and movements"
LIMITS = (
    "Reckoned from where hives stood, who rode with whom, and frames, bees and cells given. What is known by its day "
    "alone is taken at any moment of that day; a thing once reached stays reached. Supers back from extracting, tools, "
    "uncleaned vehicles, drifting and robbing are not in the record: tell the bee inspector of them. What follows is "
    "for the inspector to say."
)


def heading(record: ContactTrace) -> Heading:
    """What stands at the head."""
    way = "what may have reached it" if record.back else "what it may have reached"
    side = f"{way}: {counted(record.many('site'), 'site')}, {counted(record.many('colony'), 'colony', 'colonies')}"
    return Heading(KEY, TITLE, record.scope, span(record.first, record.last), side)


def render_pdf(record: ContactTrace, farm: Farm, made: Made) -> bytes:
    """The paper, A4 across."""
    story: list[Flowable] = [
        Lines(LIMITS, below=6), *_reached(record), *_near(record), *_stood(record), *_log(record),
    ]  # fmt: skip
    return build(heading(record), farm, made, story, LANDSCAPE)


def _reached(record: ContactTrace) -> list[Flowable]:
    columns = [
        Column("Site or hive", 34, face="SemiBold"),
        Column("Last day" if record.back else "First day", long_day_mm()),
        Column("Steps", 12, align="right", group_end=True),
        Column("Way of fewest steps"),
        Column("Call", 48),
        Column("Told on", 18),
    ]
    rows: list[Row] = [
        [_name(line.kind, line.name), long(line.on), str(line.steps), line.way, line.call, ""]
        for line in record.lines
    ]
    title = "What may have reached it" if record.back else "What it may have reached"
    empty = "Nothing, by the record of this period"
    return [*section(title, room=room_for(len(rows))), Ledger(columns, rows, empty=empty)]


def _name(kind: str, name: str) -> str:
    return f"Hive {name}" if kind == "colony" else name


def _near(record: ContactTrace) -> list[Flowable]:
    columns = [
        Column("Site", 50, face="SemiBold"),
        Column("Away", 22, unit="km", align="right", group_end=True),
        Column("Call"),
        Column("Told on", 18),
    ]
    rows: list[Row] = [[one.name, kilometres(one.metres), one.call, ""] for one in record.near]
    title = f"Own sites within {kilometres(record.radius_m)} km"
    return [*section(title, room=room_for(len(rows))), Ledger(columns, rows, empty="None that is on the map")]


def _stood(record: ContactTrace) -> list[Flowable]:
    columns = [Column("Hive", 30, face="SemiBold"), Column("Since", long_day_mm()), Column("Until")]
    rows: list[Row] = [
        [one.hive, long(one.since), long(one.until) if one.until else "stands there"] for one in record.stood
    ]
    return [*section("What stood there", room=room_for(len(rows))), Ledger(columns, rows, empty="No hive")]


def _log(record: ContactTrace) -> list[Flowable]:
    columns = [
        Column("Date", long_day_mm()),
        Column("Hive", 24, face="SemiBold"),
        Column("From", 44),
        Column("To", 44, group_end=True),
        Column("Vehicle", 28),
        Column("Driver", 28),
        Column("Reason"),
    ]
    rows: list[Row] = [
        [long(one.on), one.hive, one.came_from, one.went_to, one.vehicle, one.driver, one.reason]
        for one in record.log
    ]
    return [
        *section("What came and went", room=room_for(len(rows))),
        Ledger(columns, rows, empty="No hive moved in this period"),
    ]


def render_workbook(record: ContactTrace, farm: Farm, made: Made) -> bytes:
    """The same as sheets: contacts, sites near, what stood, the log."""
    book = Book(heading(record), farm, made)
    fields = [
        Field("Kind", wide=10),
        Field("Name", wide=22),
        Field("Day", "day", 12),
        Field("Steps", "count", 8),
    ]
    fields += [Field("Way", wide=70), Field("Call", wide=32)]
    contacts = [(one.kind, one.name, one.on, one.steps, one.way, one.call) for one in record.lines]
    book.sheet("Contacts", fields, contacts)
    near = [(one.name, one.metres, one.call) for one in record.near]
    book.sheet("Near", [Field("Site", wide=22), Field("Metres", "count", 10), Field("Call", wide=32)], near)
    stood = [(one.hive, one.since, one.until) for one in record.stood]
    book.sheet("Stood", [Field("Hive", wide=14), Field("Since", "day", 12), Field("Until", "day", 12)], stood)
    moved = [
        (one.on, one.hive, one.came_from, one.went_to, one.vehicle, one.driver, one.reason)
        for one in record.log
    ]
    words = [Field(name, wide=20) for name in ("Hive", "From", "To", "Vehicle", "Driver", "Reason")]
    book.sheet("Log", [Field("Date", "day", 12), *words], moved)
    return book.save()
