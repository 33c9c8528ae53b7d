"""The route card: for each van where it goes in which order, the ways in, what it takes and what to mind."""

from __future__ import annotations

from reportlab.platypus import Flowable, PageBreak

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.route_card import RouteCard, RouteStop, RouteVan
from beeledger.reporting.look.figures import Facts, Said, room_for, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row
from beeledger.reporting.look.text import Lines
from beeledger.rules.day_plan import clock

KEY = "route-card"
TITLE = "Route card"
_NOTE = (
    "Times and kilometres are estimates: straight lines with the farm's road factor, minutes learnt from posted rounds, "
    "no breaks. Weights are not reckoned: what the van may carry is for the crew to mind."
)


def heading(record: RouteCard) -> Heading:
    """What stands at the head."""
    sites = sum(len(van.stops) for van in record.vans)
    side = f"{counted(sites, 'site')}, {counted(len(record.vans), 'van')}"
    return Heading(KEY, TITLE, "the day planned", long(record.on), side)


def render_pdf(record: RouteCard, farm: Farm, made: Made) -> bytes:
    """The card as PDF, A4 across, each van on a page of its own."""
    story: list[Flowable] = []
    for van in record.vans:
        story += [*([PageBreak()] if story else []), *_van(van)]
    if record.left:
        columns = [Column("Nobody goes to", 60, face="SemiBold"), Column("What would be wrong")]
        story += [*section("Left out", "", room_for(len(record.left))), Ledger(columns, record.left)]
    if not story:
        story = [Lines("No van goes anywhere on this day.")]
    return build(heading(record), farm, made, [*story, Lines(_NOTE, above=6)], LANDSCAPE)


def _van(van: RouteVan) -> list[Flowable]:
    times = f"leaves {clock(van.start_s)}, home about {clock(van.home_s)}, about {kilometres(van.metres)} km"
    columns = [
        Column("", 8, align="right"),
        Column("At", 14, align="right"),
        Column("Until", 14, align="right"),
        Column("Drive", 16, unit="km", align="right", group_end=True),
        Column("Site", 42, face="SemiBold"),
        Column("Grid reference", 32, group_end=True),
        Column("Way in"),
        Column("Call", 44, group_end=True),
        Column("What is due", 58),
    ]
    rows = [_row(number, stop) for number, stop in enumerate(van.stops, 1)]
    return [
        *section(f"{van.name}, {van.crew}" if van.crew else van.name, times),
        Ledger(columns, rows),
        Facts([("Take along" if not at else "", one) for at, one in enumerate(van.take)]),
        *(Said(one, mark="odd") for one in van.cautions),
    ]


def _row(number: int, stop: RouteStop) -> Row:
    return [
        str(number), clock(stop.begin_s), clock(stop.leave_s), kilometres(stop.metres), stop.site, stop.grid,
        stop.way_in, stop.contact, stop.words,
    ]  # fmt: skip
